package train

// tilted is how far, in mm and mrad, a motion is varied to find how true
// geometry follows it: far enough that rounding counts for nothing (1e-11),
// near enough that curvature does not either (1e-8).
const tilted = 0.1

// A Tangent is a coupling in one condition after some motions, and how it
// follows small further motions of its two machines from there.
type Tangent struct {
	Misalignment
	Gap      float64  // mm between shaft ends; NaN where none was found
	From, To EndForms // change by the To form less the From form, as in Forms
}

// Tangents are what Check measures after the motions (one for each machine),
// and the linear forms that touch true geometry there: [coupling][state].
func (t *Train) Tangents(motions []Motion) [][]Tangent {
	found := t.placed()
	here := make([]pose, len(found))
	for i := range here {
		here[i] = found[i].moved(motions[i])
	}
	out := make([][]Tangent, len(t.Couplings))
	for i := range out {
		c := &t.Couplings[i]
		out[i] = make([]Tangent, t.States())
		for k := range out[i] {
			s := &out[i][k]
			s.Misalignment, s.Gap = t.misalignment(i, k, found, here)
			s.From = t.slopes(i, k, c.From.Machine, motions, found, here, -1)
			s.To = t.slopes(i, k, c.To.Machine, motions, found, here, 1)
		}
	}
	return out
}

// slopes is sign × how coupling i in condition k follows each motion of machine
// m.
func (t *Train) slopes(i, k, m int, motions []Motion, found, here []pose, sign float64) EndForms {
	var f EndForms
	before := here[m]
	at := func(q Motion) (Misalignment, float64) {
		here[m] = found[m].moved(q)
		return t.misalignment(i, k, found, here)
	}
	per := sign / (2 * tilted)
	for q := range motions[m] {
		less, more := motions[m], motions[m]
		less[q] -= tilted
		more[q] += tilted
		a, gapA := at(less)
		b, gapB := at(more)
		f.V[q], f.VSlope[q] = per*(b.V.Offset-a.V.Offset), per*(b.V.Angle-a.V.Angle)
		f.H[q], f.HSlope[q] = per*(b.H.Offset-a.H.Offset), per*(b.H.Angle-a.H.Angle)
		f.Along[q] = per * (gapB - gapA)
	}
	here[m] = before
	return f
}
