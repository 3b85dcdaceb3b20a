package train

// This file is the first of two ways to a misalignment: linear forms, exact to
// first order in the motions. Units and signs are those of the package.

// An EndForms says how the shaft at one end of a coupling follows the motion
// of one body.
type EndForms struct {
	V, H           Form // mm at the coupling's X: up, left
	VSlope, HSlope Form // mrad: sloping up, pointing left
	Along          Form // mm along the train, of the shaft's own end
}

// A BodyForms says how a coupling's misalignment follows the motion of one of its Bodies.
type BodyForms struct {
	Body int  // index into Train.Machines
	To   bool // it carries the To shaft; else the From shaft
	EndForms
}

// Forms are the linear forms of coupling i: its misalignment changes by their sum over its Bodies, in that order.
// Those of the From shaft have the sign that takes it off.
func (t *Train) Forms(i int) []BodyForms {
	c := &t.Couplings[i]
	fromX, toX := c.FaceX()
	out := []BodyForms{
		{c.From.Machine, false, t.endForms(c.From, c.X, fromX).Times(-1)},
		{c.To.Machine, true, t.endForms(c.To, c.X, toX)},
	}
	for _, b := range t.Bodies(i)[2:] {
		f := out[0]
		if b.To {
			f = out[1]
		}
		on := t.onBase(f.Body)
		out = append(out, BodyForms{b.Body, b.To, EndForms{V: on.form(f.V), H: on.form(f.H), Along: on.form(f.Along),
			VSlope: on.form(f.VSlope), HSlope: on.form(f.HSlope)}})
	}
	return out
}

// Times is k·f.
func (f EndForms) Times(k float64) EndForms {
	return EndForms{V: f.V.Times(k), H: f.H.Times(k), VSlope: f.VSlope.Times(k), HSlope: f.HSlope.Times(k),
		Along: f.Along.Times(k)}
}

// Of is what the forms come to for a motion: of a misalignment, and in mm of the distance between shaft ends.
func (f *EndForms) Of(q Motion) (Misalignment, float64) {
	return Misalignment{
		V: Tilt{Offset: f.V.Of(q), Angle: f.VSlope.Of(q)}, H: Tilt{Offset: f.H.Of(q), Angle: f.HSlope.Of(q)},
	}, f.Along.Of(q)
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
	m, gap := t.AsFound(i, k)
	by, along := Moved(t.Forms(i), motions)
	return m.Plus(by), gap + along
}

// Moved is what forms of a coupling come to for motions, one for each machine: of its misalignment, and in mm of the
// distance between its shaft ends.
func Moved(forms []BodyForms, motions []Motion) (by Misalignment, along float64) {
	for n := range forms {
		m, a := forms[n].Of(motions[forms[n].Body])
		by, along = by.Plus(m), along+a
	}
	return by, along
}
