package train

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// A chilled machine: in that condition it has growth of its own in place of a share. By hand at x = 500 of the machine:
// 0.2 up running; chilled -0.1 - 0.05 × 0.5 = -0.125; read with 0.5 of the growth there, it is 0.1 higher already.
func TestGrowthOfACondition(t *testing.T) {
	tr := &Train{
		Machines:  []Machine{{Shafts: []Shaft{{}}}, {Shafts: []Shaft{{}}, Growth: Growth{V: Line{Start: 0.2}}}},
		Couplings: []Coupling{{From: End{0, 0}, To: End{1, 0}, X: 500, Taken: Share{Growth: 0.5}, Found: Misalignment{}}},
		Conditions: []Condition{
			{Name: "running", Growth: []float64{1, 1}, Run: 1, Use: 1},
			{Name: "chilled", Growth: []float64{1, 1}, Run: 1, Use: 1,
				Own: []OwnGrowth{{1, Growth{V: Line{Start: -0.1, Slope: -0.05}}}}},
		},
	}
	m, _ := tr.AsFound(0, 0)
	assert.InDelta(t, 0.2-0.1, m.V.Offset, 1e-12, "running")
	m, _ = tr.AsFound(0, 1)
	assert.InDelta(t, -0.125-0.1, m.V.Offset, 1e-12, "chilled")
	assert.InDelta(t, -0.05, m.V.Angle, 1e-12)
	for k := range tr.Conditions {
		linear, _ := tr.AsFound(0, k)
		state := tr.Check(tr.Stay())
		assert.InDelta(t, linear.V.Offset, state.Couplings[0][k].V.Offset, 1e-6, "by true geometry")
	}
}
