package ways

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/optimize"
	"leastmove/testdata/recheck"
	"leastmove/testdata/trains"
	"leastmove/train"
)

// A machine stands off level two ways, each with a limit of its own: what was found of
// one says nothing of the other, and each has its own worth.
func TestLevelsAreTwoLimits(t *testing.T) {
	tr := trains.Read(t, "pump", trains.PumpBeside)
	m := &tr.Machines[1]
	m.Roll = true
	m.Level = train.Level{Pitch: 40, Roll: 0.0005}
	p, err := Make(t.Context(), tr, optimize.Options{})
	require.NoError(t, err)
	require.Equal(t, optimize.Planned, p.Status)
	for _, w := range p.ShadowPrices {
		if w.Kind == train.LimitRoll {
			assert.Less(t, w.By, 0.001, "a tenth of its own limit, not of the other one's")
		}
		assert.NotEqual(t, train.LimitPitch, w.Kind)
	}
}

// Three machines against every pack there is, by true geometry.
func TestEveryPackOfACoarseTrain(t *testing.T) {
	t.Parallel()
	var cases []trains.Coarse
	for seed := range uint64(trains.Draws(6, 40)) {
		// 9 packs at each of 4 stations
		cases = append(cases, trains.Coarse{Seed: seed, Held: int(seed % 3), Step: 0.25, Room: 1, Limit: 0.3})
	}
	for seed := range uint64(trains.Draws(1, 12)) {
		// 5 packs at each of 6
		cases = append(cases, trains.Coarse{Seed: 100 + seed, Held: -1, Step: 0.25, Room: 0.5, Limit: 0.5})
	}
	counts := map[string]int{}
	for _, c := range cases {
		t.Run(fmt.Sprint(c.Seed), func(t *testing.T) {
			tr := trains.Read(t, "coarse", c.Text())
			type tried struct{ use, total float64 }
			var all []tried
			lowest := math.Inf(1)
			trains.EveryPack(tr, func(moves train.Moves) {
				state := tr.Check(moves)
				all = append(all, tried{state.Worst(), trains.Weighed(tr, moves)})
				lowest = math.Min(lowest, state.Worst())
			})
			least := func(use float64) float64 {
				sum := math.Inf(1)
				for _, a := range all {
					if a.use <= use*(1+recheck.Rounding) {
						sum = math.Min(sum, a.total)
					}
				}
				return sum
			}
			p := planned(t, tr, optimize.Options{Gap: recheck.Exact})
			require.Empty(t, p.Cut)
			switch found := tr.Check(tr.Stay()); {
			case found.Worst() <= 1:
				counts["within"]++
				assert.Equal(t, optimize.Within, p.Status)
			case !math.IsInf(least(p.Aim), 1):
				counts["planned"]++
				require.Equal(t, optimize.Planned, p.Status)
				assert.InDelta(t, least(p.Aim), p.Least, 1e-9)
				assert.LessOrEqual(t, p.Bound, least(p.Aim)+1e-9)
			case lowest <= 1:
				counts["aim out of reach"]++
				require.Equal(t, optimize.Planned, p.Status)
				assert.LessOrEqual(t, p.Lowest, lowest*(1+1e-3), "proven lowest use") // second order
				assert.LessOrEqual(t, p.Reached, math.Min(1, lowest*(1+optimize.NearLowest)*(1+optimize.Spare))*(1+1e-3))
				assert.GreaterOrEqual(t, p.Least,
					least(math.Min(1, lowest*(1+optimize.NearLowest)*(1+optimize.Spare)*(1+1e-3)))-1e-9)
			default:
				counts["impossible"]++
				assert.Equal(t, optimize.Impossible, p.Status)
			}
		})
	}
	t.Log(counts)
	for _, what := range []string{"planned", "aim out of reach", "impossible"} {
		assert.GreaterOrEqual(t, counts[what], trains.Draws(1, 3), what)
	}
}
