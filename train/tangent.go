package train

// tilted is how far, in mm and mrad, a motion is varied to find how true
// geometry follows it: far enough that rounding counts for nothing (1e-11),
// near enough that curvature does not either (1e-8).
const tilted = 0.1

// A Tangent is a coupling in one condition after some motions, and how it
// follows small further motions of its Bodies from there.
type Tangent struct {
	Misalignment
	Gap   float64     // mm between shaft ends; NaN where none was found
	Forms []BodyForms // as Train.Forms has them
}

// Tangents are what Check measures after the motions (one for each machine),
// and the linear forms that are tangent to true geometry there: [coupling][state].
func (t *Train) Tangents(motions []Motion) [][]Tangent {
	here := t.posed(t.placed(), motions)
	out := make([][]Tangent, len(t.Couplings))
	for i := range out {
		out[i] = make([]Tangent, t.States())
		for k := range out[i] {
			s := &out[i][k]
			s.Misalignment, s.Gap = t.misalignment(i, k, here)
			for _, b := range t.Bodies(i) {
				s.Forms = append(s.Forms, BodyForms{b.Body, b.To, t.slopes(i, k, b.Body, motions, here)})
			}
		}
	}
	return out
}

// slopes is how coupling i in condition k follows each motion of body m.
func (t *Train) slopes(i, k, m int, motions []Motion, here *posed) EndForms {
	var f EndForms
	at := func(q Motion) (Misalignment, float64) {
		here.set(m, q)
		return t.misalignment(i, k, here)
	}
	const per = 1 / (2 * tilted)
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
	here.set(m, motions[m])
	return f
}
