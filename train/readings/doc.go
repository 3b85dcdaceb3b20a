// Package readings works out how the two shafts of a coupling stand to each
// other from what dials and other instruments showed, says how good that is,
// and refuses what cannot determine it.
//
// # Equations
//
// o is the offset of the To shaft against the From shaft at the plunger's
// station x, s its slope in mrad; both are pairs (left, up):
//
//	o = o_X + s (x - X) / 1000
//
// X being the coupling's plane. A plunger at the angle θ, clockwise from 12
// looking from the first machine to the last, points to
//
//	u = (left, up) = (-sin θ, cos θ)
//
// With c a constant of its own for every dial (wherever it was zeroed), in mm,
// + where the plunger is pushed in:
//
//	rim, plunger on the To shaft      c + o·u + q + sag (1 - cos θ) / 2
//	rim, plunger on the From shaft    c - o·u + q + sag (1 - cos θ) / 2
//	face that looks at the gap        c + radius s·u / 1000 + sag (1 - cos θ) / 2
//	face that looks away              c - radius s·u / 1000 + sag (1 - cos θ) / 2
//	offset, any instrument            o_up, o_left
//
// sag is what the same bracket reads at 6 on a sag bar, zeroed at 12: of a
// rim twice the true sag and negative (Karassik et al., Pump Handbook, Fig. 19).
// q is what true geometry adds, taken out where the rim's radius is known: a
// plunger across its own axle meets a cylinder that is off by o and tilted by s,
// so that to second order
//
//	q = (radius (s·u)² / 1e6 - (o² - (o·u)²) / radius) / 2
//
// with o and s as above; round in dial.go has all of it. Faces have no such term.
//
// All of a coupling's readings go into one weighted least-squares fit of o_X, s
// and the constants.
//
// # Survey
//
// Points of shafts' centres in one frame give lines (line.go); with (v, h) the place
// of a shaft at the coupling's plane and s its slope,
//
//	o_X = (v, h) of To - (v, h) of From     s = s of To - s of From
//
// # What the sums assume
//
// Both shafts are turned together, so that every plunger stays on one spot of
// its rim or face and runout cancels. Where only the bracket's shaft is turned,
// runout and roughness of the other go into the reading and nothing here sees
// it. A shaft that floats along its axis by f shows in a face dial alone: of two
// face dials on one face, half a turn apart, one reads c + radius s·u + f and the
// other c' - radius s·u + f, so that half of their difference is one dial without f.
package readings
