package ways

import (
	"context"
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

// One set of moves of a coarse train, by each strategy's measure.
type outcome struct {
	use, total, peak float64
	machines, feet   int
}

func (o outcome) by(s optimize.Strategy) float64 {
	switch s {
	case optimize.Minimax:
		return o.peak
	case optimize.FewestMachines:
		return float64(o.machines)
	case optimize.FewestFeet:
		return float64(o.feet)
	case optimize.Closest:
		return o.use
	}
	return 0
}

// outcomes are those of every pack that a train allows.
func outcomes(tr *train.Train) []outcome {
	var all []outcome
	trains.EveryPack(tr, func(moves train.Moves) {
		state := tr.Check(moves)
		o := outcome{use: state.Worst(), total: trains.Weighed(tr, moves)}
		for i, feet := range moves {
			if moves.Moved(i) {
				o.machines++
			}
			for _, f := range feet {
				o.peak = math.Max(o.peak, math.Abs(f.Up))
				if f.Up != 0 {
					o.feet++
				}
			}
		}
		all = append(all, o)
	})
	return all
}

// Every strategy against every pack there is, by true geometry: its own measure
// is the least there is, and the total the least with that.
func TestStrategiesAgainstEveryPack(t *testing.T) {
	t.Parallel()
	compared := map[optimize.Strategy]int{}
	for seed := range uint64(trains.Draws(6, 30)) {
		tr := trains.Read(t, "coarse", trains.Coarse{Seed: seed, Held: int(seed%4) - 1, Step: 0.25, Room: 0.5 +
			0.5*float64(min(seed%4, 1)), Limit: 0.3 + 0.2*float64(seed%2)}.Text())
		all := outcomes(tr)
		for _, s := range []optimize.Strategy{optimize.Minimax, optimize.FewestMachines, optimize.FewestFeet} {
			p, err := Make(context.Background(), tr, optimize.Options{Strategy: s, Gap: recheck.Exact, Brief: true})
			require.NoError(t, err)
			if p.Status != optimize.Planned {
				continue
			}
			recheck.Uses(t, p, &p.Planned)
			use := p.Aim
			if !math.IsNaN(p.Lowest) {
				continue // how near the aim can be come to is tested elsewhere
			}
			compared[s]++
			first := math.Inf(1)
			for _, o := range all {
				if o.use <= use*(1+recheck.Rounding) {
					first = math.Min(first, o.by(s))
				}
			}
			total := math.Inf(1)
			for _, o := range all {
				if o.use <= use*(1+recheck.Rounding) && o.by(s) <= first+1e-9 {
					total = math.Min(total, o.total)
				}
			}
			name := fmt.Sprintf("coarse train %d, %s", seed, s)
			assert.InDelta(t, first, p.First, 1e-9, name)
			assert.LessOrEqual(t, p.FirstBound, first+1e-9, name)
			require.Empty(t, p.Cut, name)
			assert.InDelta(t, first, p.FirstBound, 1e-9, "%s: proven", name)
			assert.InDelta(t, total, p.Least, 1e-9, name)
			assert.LessOrEqual(t, p.Bound, total+1e-9, name)
		}
	}
	t.Log(compared)
	for _, s := range []optimize.Strategy{optimize.Minimax, optimize.FewestMachines, optimize.FewestFeet} {
		assert.GreaterOrEqual(t, compared[s], trains.Draws(2, 10), s)
	}
}

// The closest alignment against every pack there is.
func TestClosestAgainstEveryPack(t *testing.T) {
	t.Parallel()
	compared := 0
	for seed := range uint64(trains.Draws(5, 20)) {
		tr := trains.Read(t, "coarse", trains.Coarse{Seed: seed, Held: int(seed % 3), Step: 0.25, Room: 1, Limit: 0.3}.Text())
		lowest := math.Inf(1)
		for _, o := range outcomes(tr) {
			lowest = math.Min(lowest, o.use)
		}
		p, err := Make(context.Background(), tr, optimize.Options{Strategy: optimize.Closest, Brief: true})
		require.NoError(t, err)
		if p.Status != optimize.Planned {
			assert.Greater(t, lowest, 1.0)
			continue
		}
		compared++
		assert.LessOrEqual(t, p.FirstBound, lowest*(1+1e-3), "proven lowest use; second order")
		assert.LessOrEqual(t, p.Reached, math.Max(lowest*(1+optimize.NearLowest), lowest+0.012)*(1+optimize.Spare)*(1+1e-3))
	}
	assert.GreaterOrEqual(t, compared, trains.Draws(2, 5))
}

// A use so low that true geometry adds more to it than is spared still has its plan:
// on this train 0.2902 by the linear forms is 0.2922 by true geometry.
func TestClosestKeepsWhatTrueGeometryAdds(t *testing.T) {
	t.Parallel()
	p := planned(t, trains.Drawn(t, "spacer", 42), optimize.Options{Strategy: optimize.Closest,
		Solves: trains.Draws(300, 0)})
	require.Equal(t, optimize.Planned, p.Status)
	assert.LessOrEqual(t, p.FirstBound, p.First+1e-9)
	assert.InDelta(t, p.First, p.Reached, 0.01)
}

// No shims come out, and what holding and raising forbid only adds to the total.
func TestHoldFreeAndRaiseOnly(t *testing.T) {
	t.Parallel()
	raised, held := 0, 0
	trains.Some(t, 301, trains.Draws(1, 2), func(t *testing.T, family string, seed uint64) {
		tr := trains.Drawn(t, family, seed)
		least := planned(t, tr, optimize.Options{Brief: true})
		p := planned(t, tr, optimize.Options{Brief: true, Strategy: optimize.RaiseOnly})
		if recheck.NoWorse(t, p, least) {
			raised++
			for _, feet := range p.Moves {
				for _, f := range feet {
					require.GreaterOrEqual(t, f.Up, 0.0)
				}
			}
		}
		name := tr.Machines[len(tr.Machines)-1].Name
		p = planned(t, tr, optimize.Options{Brief: true, Hold: []string{name}})
		if recheck.NoWorse(t, p, least) {
			held++
			require.False(t, p.Moves.Moved(len(tr.Machines)-1))
		}
		freed := planned(t, tr, optimize.Options{Brief: true, Hold: []string{name}, Free: []string{name}})
		require.Equal(t, p.Moves, freed.Moves, "hold wins")
	})
	assert.GreaterOrEqual(t, raised, trains.Draws(1, 4))
	assert.GreaterOrEqual(t, held, trains.Draws(1, 4))
	_, err := Make(context.Background(), trains.Drawn(t, "plain", 301), optimize.Options{Hold: []string{"pump"}})
	assert.ErrorContains(t, err, `no machine "pump"`)
}

// Every strategy's plan on trains of every cheap family: no better by its own
// measure than proven, no worse than the plan of the least total.
func TestStrategiesOnRandomTrains(t *testing.T) {
	t.Parallel()
	compared := 0
	trains.Some(t, 321, trains.Draws(1, 2), func(t *testing.T, family string, seed uint64) {
		tr := trains.Drawn(t, family, seed)
		ways, err := Compare(context.Background(), tr, optimize.Options{Solves: trains.Draws(300, 0)}, nil)
		require.NoError(t, err)
		least := ways[0].Plan
		for _, w := range ways {
			if w.Kind != ByStrategy || w.Plan.Status != optimize.Planned || least.Status != optimize.Planned ||
				!math.IsNaN(least.Lowest) {
				continue
			}
			p := w.Plan
			recheck.Recheck(t, p)
			if w.Strategy == optimize.Minimax || w.Strategy == optimize.FewestMachines || w.Strategy == optimize.FewestFeet {
				assert.LessOrEqual(t, p.FirstBound, p.First+1e-9)
				assert.LessOrEqual(t, least.Bound, p.Least+1e-9, "%s", w.Strategy)
				compared++
			}
			switch w.Strategy {
			case optimize.Minimax:
				assert.LessOrEqual(t, p.Largest, p.First+1e-9)
				assert.LessOrEqual(t, p.First, least.Largest+1e-9)
			case optimize.FewestMachines:
				assert.LessOrEqual(t, float64(p.Moved), p.First)
				assert.LessOrEqual(t, p.Moved, least.Moved)
			case optimize.FewestFeet:
				assert.LessOrEqual(t, float64(p.FeetMoved()), p.First)
				assert.LessOrEqual(t, p.FeetMoved(), least.FeetMoved())
			case optimize.Closest:
				assert.LessOrEqual(t, p.Reached, least.Reached*(1+optimize.NearLowest)*(1+optimize.Spare))
			}
		}
	})
	assert.GreaterOrEqual(t, compared, trains.Draws(3, 15))
}

// Every subset that can do it is found: against planning with the others held.
func TestSubsetsAgainstHolding(t *testing.T) {
	t.Parallel()
	seen := 0
	for seed := uint64(331); seed < uint64(trains.Draws(333, 337)); seed++ {
		tr := trains.Drawn(t, "plain", seed)
		s, err := EverySubset(context.Background(), tr, optimize.Options{})
		require.NoError(t, err)
		require.Equal(t, 1<<len(tr.Machines), len(s.Can)+s.Idle+s.Cannot+s.Undecided, "every subset is counted")
		for _, sub := range s.Can {
			held := map[string]bool{}
			for i := range tr.Machines {
				held[tr.Machines[i].Name] = true
			}
			for _, i := range sub.Machines {
				delete(held, tr.Machines[i].Name)
			}
			var names []string
			for name := range held {
				names = append(names, name)
			}
			p, err := Make(context.Background(), tr, optimize.Options{Hold: names, Brief: true})
			require.NoError(t, err)
			require.Equal(t, optimize.Planned, p.Status)
			assert.LessOrEqual(t, sub.Plan.Bound, p.Least+1e-9)
			assert.LessOrEqual(t, p.Bound, sub.Plan.Least+1e-9)
			seen++
		}
	}
	assert.GreaterOrEqual(t, seen, trains.Draws(2, 6))
}

// With more feet than sets of them can be tried the plan is that of the least
// total, and nothing is claimed of how few feet could do.
func TestTooManyFeetToTry(t *testing.T) {
	tr := trains.Drawn(t, "twelve", 105)
	least, err := Make(context.Background(), tr, optimize.Options{Brief: true, Solves: 300})
	require.NoError(t, err)
	require.Equal(t, optimize.Planned, least.Status)
	require.Greater(t, len(footChoice(optimize.Build(tr, nil)).weight), mostThings-8)
	m, err := optimize.Begin(context.Background(), tr, optimize.Options{Strategy: optimize.FewestFeet, Solves: 300})
	require.NoError(t, err)
	start := m.Least
	c := choice{weight: make([]int, mostThings+1)}
	r, bound := leastChoice(context.Background(), m, c, start)
	assert.Equal(t, start.Steps, r.Steps)
	assert.LessOrEqual(t, bound, start.Value+1e-9)
	assert.True(t, math.IsNaN(m.Plan.FirstBound))
	assert.InDelta(t, least.FeetMoved(), m.Plan.First, 8)
	assert.Contains(t, m.Cut(context.Background()), "too many feet or machines")
}
