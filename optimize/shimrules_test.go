package optimize_test

import (
	"context"
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/optimize"
	"leastmove/optimize/bnb"
	"leastmove/testdata/recheck"
	"leastmove/testdata/trains"
	"leastmove/train"
)

// withRules has lines of shim rules in machine n of a coarse train, from 1.
func withRules(text string, n int, rules string) string {
	line := fmt.Sprintf("name = \"machine %d\"\n", n)
	return strings.Replace(text, line, line+rules, 1)
}

// Three machines, one held, the others with steps and packs of their own, against every pack that can be made, by true
// geometry.
func TestEveryPackOfMachinesWithRulesOfTheirOwn(t *testing.T) {
	t.Parallel()
	counts := map[string]int{}
	for seed := range uint64(trains.Draws(4, 40)) {
		c := trains.Coarse{Seed: seed, Held: int(seed % 3), Step: 0.25, Room: 1, Limit: 0.7}
		text := withRules(c.Text(), 1, "step = 0.5\nstock = [0.5, 1, 3]\nmax_pieces = 4\n")
		text = withRules(text, 2, "step = 0.2\nstock = [0.4, 1, 3]\nmax_pieces = 4\n")
		tr, plain := trains.Read(t, "own", text), trains.Read(t, "plain", c.Text())
		stocks := optimize.ShimStocks(tr)
		least := func(tr *train.Train) float64 {
			best := math.Inf(1)
			trains.EveryPack(tr, func(moves train.Moves) {
				if state := tr.Check(moves); state.Worst() > tr.Aim.Use*(1+recheck.Rounding) {
					return
				}
				for i, feet := range moves {
					for f := range feet {
						if optimize.StockStated(tr, i) && !optimize.Makes(tr, stocks[i], i, f, feet[f].Up) {
							return
						}
					}
				}
				best = math.Min(best, trains.Weighed(tr, moves))
			})
			return best
		}
		own, asTrain := least(tr), least(plain)
		m := optimize.NewSolver(tr, optimize.Options{Gap: recheck.Exact, Solves: 20000})
		m.Linearize(t.Context())
		r := m.LeastTotal(context.Background(), tr.Aim.Use)
		require.False(t, m.OutOfWork)
		if math.IsInf(own, 1) {
			assert.Equal(t, bnb.Impossible, r.Status, "seed %d", seed)
			counts["impossible"]++
			continue
		}
		require.Equal(t, bnb.Least, r.Status, "seed %d", seed)
		assert.InDelta(t, own, r.Value, 1e-9, "seed %d", seed)
		assert.InDelta(t, own, r.Bound, 1e-3*own, "seed %d: by the linear forms", seed)
		assert.True(t, optimize.Verified(t.Context(), &m.Model.Problem, r.Claim, r.Proof), "seed %d", seed)
		assert.LessOrEqual(t, m.Proven(t.Context(), r), own+1e-9, "seed %d: by true geometry", seed)
		counts["planned"]++
		if math.Abs(own-asTrain) > 1e-9 {
			counts["other than with the train's rules"]++
		}
	}
	t.Log(counts)
	assert.GreaterOrEqual(t, counts["planned"], trains.Draws(2, 4))
	assert.GreaterOrEqual(t, counts["other than with the train's rules"], trains.Draws(2, 3))
}

// Rules of a machine that are the train's change nothing; without steps, which all of its steps are among, nothing
// costs more, and no pieces are said of it.
func TestShimRulesOfMachines(t *testing.T) {
	t.Parallel()
	less := 0
	for seed := range uint64(trains.Draws(4, 60)) {
		c := trains.Coarse{Seed: seed, Held: -1, Step: 0.25, Room: 1, Limit: 0.5}
		plan := func(rules string) *optimize.Plan {
			text := c.Text()
			for n := range 3 {
				text = withRules(text, n+1, rules)
			}
			return planned(t, trains.Read(t, "rules", text), optimize.Options{Gap: recheck.Exact})
		}
		plain, same, free := plan(""), plan("step = 0.25\n"), plan("step = 0\n")
		assert.Equal(t, plain.Moves, same.Moves)
		assert.Equal(t, plain.Packs, same.Packs)
		require.Equal(t, plain.Status, same.Status)
		if plain.Status != optimize.Planned {
			continue
		}
		assert.Equal(t, [3]float64{plain.Total, plain.Bound, plain.Reached}, [3]float64{same.Total, same.Bound, same.Reached})
		require.Equal(t, optimize.Planned, free.Status, "seed %d", seed)
		assert.Empty(t, free.Packs)
		if math.IsNaN(plain.Lowest) { // the aim can be kept with steps
			assert.LessOrEqual(t, free.Bound, plain.Total+1e-9, "seed %d: more freedom", seed)
			assert.LessOrEqual(t, free.Total, plain.Total*(1+2*recheck.Exact)+1e-9, "seed %d: more freedom", seed)
		}
		for i, feet := range free.Moves {
			for _, f := range feet {
				assert.InDelta(t, math.Round(f.Up/0.01), f.Up/0.01, 1e-6, "machine %d: as fine as a dial shows", i)
			}
		}
		if free.Total < plain.Total-1e-9 {
			less++
		}
	}
	assert.Positive(t, less)
}
