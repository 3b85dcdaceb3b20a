package train

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// By hand: two machines in line, the first grows by 0.2 mm and the second by 0.3, so that they are 0.1 apart when running.
// With the second hot and the first cold they are 0.3 apart, 0.6 of a limit of 0.5, more than the other way round, 0.2.
// A condition with 1.5 of the second's growth makes it 0.45. Its shaft rises by 0.05 besides once it turns.
func TestTransientsByHand(t *testing.T) {
	machine := func(at, v float64) Machine {
		return Machine{At: at, Height: 400, Effort: 1, Shafts: make([]Shaft, 1), Growth: Growth{V: Line{Start: v}},
			Feet: []Foot{{X: 0, Y: 200}, {X: 0, Y: -200}, {X: 800, Y: 200}, {X: 800, Y: -200}}}
	}
	tr := &Train{
		Machines: []Machine{machine(0, 0.2), machine(1000, 0.3)},
		Couplings: []Coupling{{From: End{0, 0}, To: End{1, 0}, X: 900, FoundGap: math.NaN(), WantedGap: math.NaN(),
			Limit: Limit{Offset: 0.5, Angle: 1, Gap: math.Inf(1)}}},
		Conditions: []Condition{{Name: "running", Growth: []float64{1, 1}, Run: 1, Use: 1}},
	}
	got := tr.Transients(tr.Stay())
	require.Len(t, got, 1)
	assert.InDelta(t, 0.6, got[0].Worst(), 1e-9)
	assert.Equal(t, [2]float64{0, 1}, [2]float64{got[0].From, got[0].To})

	tr.Conditions = append(tr.Conditions, Condition{Name: "overload", Growth: []float64{1, 1.5}, Run: 1, Use: 1.3})
	tr.Machines[1].Shafts[0].Run.V = 0.05
	got = tr.Transients(tr.Stay())
	assert.InDelta(t, 1, got[0].Worst(), 1e-9, "against the limits as stated")
	assert.Equal(t, [3]float64{0, 1.5, 1}, [3]float64{got[0].From, got[0].To, got[0].Run})
}
