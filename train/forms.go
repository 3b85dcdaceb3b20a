package train

// This file is the first of two ways to a misalignment: linear forms, exact to
// first order in the motions. Units and signs are those of the package.

// An EndForms says how the shaft at one end of a coupling follows the motion
// of its machine.
type EndForms struct {
	V, H           Form // mm at the coupling's X: up, left
	VSlope, HSlope Form // mrad: climbing, turning left
	Along          Form // mm along the train, of the shaft's own end
}

// Forms are the linear forms of the From and the To shaft of coupling i. A
// misalignment changes by the To form of its machine's motion less the From
// form of its own.
func (t *Train) Forms(i int) (from, to EndForms) {
	c := &t.Couplings[i]
	fromX, toX := c.FaceX()
	return t.endForms(c.From, c.X, fromX), t.endForms(c.To, c.X, toX)
}

func (t *Train) endForms(e End, x, face float64) EndForms {
	m := &t.Machines[e.Machine]
	kinematics := m.Kinematics()
	shaft := &m.Shafts[e.Shaft]
	z := m.Height + shaft.Z
	at := m.Point(&kinematics, x-m.At, shaft.Y, z)
	end := m.Point(&kinematics, face-m.At, shaft.Y, z)
	return EndForms{
		V: at[2], H: at[1], Along: end[0],
		VSlope: Form{Pitch: -1},
		HSlope: Form{Yaw: 1},
	}
}

// AsFound is the misalignment of coupling i in condition k, and the distance
// between its shaft ends in mm (NaN where none was found), before any move:
// what was found, and the growth and the journal shift that the condition has
// beyond what was there when it was read.
func (t *Train) AsFound(i, k int) (Misalignment, float64) {
	c, cond := &t.Couplings[i], t.Condition(k)
	from := t.beyond(c, c.From, c.X, cond)
	to := t.beyond(c, c.To, c.X, cond)
	fromX, toX := c.FaceX()
	fromEnd := t.beyond(c, c.From, fromX, cond)
	toEnd := t.beyond(c, c.To, toX, cond)
	m := c.Found
	m.V.Offset += to.v - from.v
	m.H.Offset += to.h - from.h
	m.V.Angle += to.vSlope - from.vSlope
	m.H.Angle += to.hSlope - from.hSlope
	return m, c.FoundGap + toEnd.a - fromEnd.a
}

// beyond is where the condition has taken a point of a shaft beyond where it was when the coupling was read.
func (t *Train) beyond(c *Coupling, e End, x float64, cond *Condition) warm {
	if cond.OwnGrowth(e.Machine) == nil {
		return t.warmed(e, x, Share{
			Growth: cond.Growth[e.Machine] - c.Taken.Growth,
			Run:    cond.Run - c.Taken.Run,
		})
	}
	now, then := t.warmed(e, x, cond.share(e.Machine)), t.warmed(e, x, c.Taken)
	return warm{now.v - then.v, now.h - then.h, now.a - then.a, now.vSlope - then.vSlope, now.hSlope - then.hSlope}
}

// warm is where warmth and load have taken a point of a shaft: mm and mrad.
type warm struct{ v, h, a, vSlope, hSlope float64 }

// warmed is the displacement of a shaft at the train station x in mm for a
// share of growth and of journal shift. A case that grows unequally left and
// right rolls: what stands at y rises by y × roll, and the shaft's height
// takes it -height × roll to the left.
func (t *Train) warmed(e End, x float64, s Share) warm {
	m := &t.Machines[e.Machine]
	shaft, g, own := &m.Shafts[e.Shaft], t.GrowthOf(e), x-m.At
	if s.Own != nil {
		g, s.Growth = s.Own, 1
	}
	up, left := m.Rolled(e.Shaft, g.Roll)
	return warm{
		v:      s.Growth*(g.V.At(own)+up) + s.Run*shaft.Run.V,
		h:      s.Growth*(g.H.At(own)+left) + s.Run*shaft.Run.H,
		a:      s.Growth * g.A.At(own),
		vSlope: s.Growth * g.V.Slope,
		hSlope: s.Growth * g.H.Slope,
	}
}

// Linear is the misalignment of coupling i in condition k, and the distance
// between its shaft ends, after the motions (one for each machine), to first
// order.
func (t *Train) Linear(i, k int, motions []Motion) (Misalignment, float64) {
	c := &t.Couplings[i]
	m, gap := t.AsFound(i, k)
	from, to := t.Forms(i)
	q, r := motions[c.From.Machine], motions[c.To.Machine]
	m.V.Offset += to.V.Of(r) - from.V.Of(q)
	m.H.Offset += to.H.Of(r) - from.H.Of(q)
	m.V.Angle += to.VSlope.Of(r) - from.VSlope.Of(q)
	m.H.Angle += to.HSlope.Of(r) - from.HSlope.Of(q)
	return m, gap + to.Along.Of(r) - from.Along.Of(q)
}
