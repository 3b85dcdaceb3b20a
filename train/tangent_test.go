package train

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

// Tangents touch true geometry: at the motions they are what Check measures,
// and what they say of further motions is off by the square of those only. Half
// the way, a quarter of the error; forms that touch where the train stands stay
// off in proportion.
func TestTangentsTouchTrueGeometry(t *testing.T) {
	for _, tr := range grounds() {
		tangentsTouch(t, tr)
	}
}

func tangentsTouch(t *testing.T, tr *Train) {
	at := []Motion{{1.5, -0.8, 0.6, 0.4, -1.1, 0.9}, {-0.7, 1.2, -0.9, 0.3, 0.8, -1.3}, {0.5, 0.4, 1.1, -0.6, -0.9, 0.7},
		{0.3, -0.6, 0.5, -0.4, 0.9, 0.6}, {-0.2, 0.7, 0.4, 0.5, -0.8, 0.3}}[:len(tr.Machines)]
	further := []Motion{{0.1, -0.2, 0.15, 0.1, 0.2, -0.1}, {0.2, 0.1, -0.1, 0.05, -0.15, 0.2},
		{-0.1, 0.2, 0.1, -0.1, 0.1, 0.2}, {0.15, 0.1, -0.2, 0.1, 0.15, -0.1}, {0.1, -0.1, 0.1, -0.15, 0.1, 0.2}}
	tangents := tr.Tangents(at)
	truth := func(share float64) (q []Motion, there *posed) {
		for i := range at {
			var m Motion
			for k := range m {
				m[k] = at[i][k] + share*further[i][k]
			}
			q = append(q, m)
		}
		return q, tr.posed(tr.placed(), q)
	}
	off := func(share float64) (tangent, linear float64) {
		q, there := truth(share)
		for i := range tr.Couplings {
			for k := range tr.Conditions {
				want, gap := tr.misalignment(i, k, there)
				s := &tangents[i][k]
				add := func(got float64, of func(*BodyForms) Form, ideal, straight float64) {
					for n := range s.Forms {
						got += share * of(&s.Forms[n]).Of(further[s.Forms[n].Body])
					}
					tangent = math.Max(tangent, math.Abs(got-ideal))
					linear = math.Max(linear, math.Abs(straight-ideal))
				}
				m, g := tr.Linear(i, k, q)
				add(s.V.Offset, func(f *BodyForms) Form { return f.V }, want.V.Offset, m.V.Offset)
				add(s.H.Offset, func(f *BodyForms) Form { return f.H }, want.H.Offset, m.H.Offset)
				add(s.V.Angle, func(f *BodyForms) Form { return f.VSlope }, want.V.Angle, m.V.Angle)
				add(s.H.Angle, func(f *BodyForms) Form { return f.HSlope }, want.H.Angle, m.H.Angle)
				if !math.IsNaN(gap) {
					add(s.Gap, func(f *BodyForms) Form { return f.Along }, gap, g)
				}
			}
		}
		return tangent, linear
	}
	here, _ := off(0)
	assert.Less(t, here, 1e-12)
	whole, linear := off(1)
	half, _ := off(0.5)
	assert.Less(t, whole, linear/5, "forms that touch nearby are off by less")
	assert.Less(t, whole, 5e-4, "mm and mrad")
	assert.InDelta(t, 4, whole/half, 0.2)
}
