package view

import (
	"math"

	"leastmove/train"
)

// A Working is how offset and angle of a coupling are worked out of two instruments, in each plane for itself:
//
//	offset = Offset[0] A + Offset[1] B, mm, + high and + left
//	angle  = Angle[0] A + Angle[1] B, mrad, + slopes up and + points left
//
// A and B in mm are, up and down and sideways,
//
//	(sag - reading at 6) / 2 and (reading at 9 - reading at 3) / 2, zeroed at 12
//
// of a dial, sag being what its bracket reads at 6 on a sag bar, and of an instrument that gives offsets these.
type Working struct {
	Parts         [2]int // of Instruments
	Offset, Angle [2]float64
}

// parallel is the determinant, in m, below which two instruments count as reading the same: planes 0.1 mm apart.
const parallel = 1e-4

// workingOf is that by the two instruments that tell offset and angle best: whose rows have the largest determinant.
// A reading follows the offset o at the coupling's plane and the angle s as
//
//	q = a o + b s, a and b as in row
func workingOf(c *train.Coupling, dials []*train.Dial) *Working {
	var out *Working
	most := parallel
	for j := range dials {
		for k := range j {
			a, b := row(c, dials[k]), row(c, dials[j])
			det := a[0]*b[1] - a[1]*b[0]
			if !(math.Abs(det) >= most) {
				continue
			}
			most = math.Abs(det)
			out = &Working{Parts: [2]int{k, j}, Offset: [2]float64{b[1] / det, -a[1] / det},
				Angle: [2]float64{-b[0] / det, a[0] / det}}
		}
	}
	return out
}

// row is what A or B of an instrument has of the offset at the coupling's plane, and of the angle in mm per mrad.
func row(c *train.Coupling, d *train.Dial) [2]float64 {
	at := [2]float64{1, (d.X - c.X) / 1000}
	if d.Kind == train.FaceDial {
		at = [2]float64{0, d.Radius / 1000}
	}
	other := d.Kind == train.RimDial && d.OnFrom || d.Kind == train.FaceDial && d.Away
	if d.Kind != train.OffsetDial && other != d.Reversed {
		at[0], at[1] = -at[0], -at[1]
	}
	return at
}

// SagOf is what the bracket of a dial reads at 6, zeroed at 12, in mm; 0 where none is stated.
func (d *Instrument) SagOf() float64 {
	if math.IsNaN(d.Sag) {
		return 0
	}
	return d.Sag
}
