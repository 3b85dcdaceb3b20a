package train

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// warming is that of TestTransientsByHand.
func warming() *Train {
	machine := func(at, v float64) Machine {
		return Machine{At: at, Height: 400, Effort: 1, Shafts: make([]Shaft, 1), Growth: Growth{V: Line{Start: v}},
			Feet: []Foot{{X: 0, Y: 200}, {X: 0, Y: -200}, {X: 800, Y: 200}, {X: 800, Y: -200}}}
	}
	return &Train{
		Machines: []Machine{machine(0, 0.2), machine(1000, 0.3)},
		Couplings: []Coupling{{From: End{0, 0}, To: End{1, 0}, X: 900, FoundGap: math.NaN(), WantedGap: math.NaN(),
			Limit: Limit{Offset: 0.5, Angle: 1, Gap: math.Inf(1)}}},
		Conditions: []Condition{{Name: "running", Growth: []float64{1, 1}, Run: 1, Use: 1}},
	}
}

// By hand: two machines in line, the first grows by 0.2 mm and the second by 0.3, so that they are 0.1 apart when
// running. With the second hot and the first cold they are 0.3 apart, 0.6 of a limit of 0.5, more than the other way
// round, 0.2. A condition with 1.5 of the second's growth makes it 0.45. Its shaft rises by 0.05 besides once it
// turns.
func TestTransientsByHand(t *testing.T) {
	tr := warming()
	got := tr.Transients(tr.Stay())
	require.Len(t, got, 1)
	assert.InDelta(t, 0.6, got[0].Worst(), 1e-9)
	assert.Equal(t, [2]Warmth{{Share: 0}, {Share: 1}}, [2]Warmth{got[0].From, got[0].To})

	tr.Conditions = append(tr.Conditions, Condition{Name: "overload", Growth: []float64{1, 1.5}, Run: 1, Use: 1.3})
	tr.Machines[1].Shafts[0].Run.V = 0.05
	got = tr.Transients(tr.Stay())
	assert.InDelta(t, 1, got[0].Worst(), 1e-9, "against the limits as stated")
	assert.Equal(t, [2]Warmth{{Share: 0}, {Share: 1.5}}, [2]Warmth{got[0].From, got[0].To})
	assert.Equal(t, 1.0, got[0].Run)
}

// By hand: growth that a condition has of its own is an end too. The second machine chilled by 0.4 mm against the first
// one hot: 0.2 + 0.4 = 0.6 apart, 1.2 of the limit; no share of the growth of running comes near.
func TestTransientsOfOwnGrowth(t *testing.T) {
	tr := warming()
	tr.Conditions = append(tr.Conditions, Condition{Name: "chilled", Growth: []float64{0, 0}, Use: 1,
		Own: []OwnGrowth{{Machine: 1, Growth: Growth{V: Line{Start: -0.4}}}}})
	got := tr.Transients(tr.Stay())
	assert.InDelta(t, 1.2, got[0].Worst(), 1e-9)
	assert.Equal(t, Warmth{Share: 1}, got[0].From)
	assert.Equal(t, "chilled", got[0].To.Own)
	assert.Len(t, tr.WarmUp(), 18, "3 × 3 pairs of ends, with journal shift and without")
}

// No state in between is worse than the worst of the ends: 1,000 of them drawn.
func TestNothingInBetweenIsWorse(t *testing.T) {
	tr := warming()
	tr.Machines[0].Growth.H, tr.Machines[1].Shafts[0].Run = Line{0.15, -0.1}, Shift{0.05, -0.12}
	tr.Conditions = append(tr.Conditions, Condition{Name: "overload", Growth: []float64{-0.2, 1.5}, Run: 1, Use: 1.3})
	worst := tr.Transients(tr.Stay())[0].Worst()
	rnd, most := rand.New(rand.NewPCG(1, 2)), 0.0
	between := *tr
	for range 1000 {
		between.Conditions = []Condition{tr.Conditions[0], {Use: 1, Run: rnd.Float64(),
			Growth: []float64{-0.2 + 1.2*rnd.Float64(), 1.5 * rnd.Float64()}}}
		state := between.Check(between.Stay())
		most = max(most, state.Couplings[0][1].Worst())
	}
	assert.LessOrEqual(t, most, worst+1e-6)
	assert.Greater(t, most, 0.9*worst, "the draws come near")
}
