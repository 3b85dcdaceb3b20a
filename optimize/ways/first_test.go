package ways

import (
	"cmp"
	"context"
	"math"
	"slices"
	"sync/atomic"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/optimize"
	"leastmove/testdata/trains"
)

// What is told of first is a plan of what was asked, not of the pool that it is taken from, and nothing is proven of it
// yet; it changes nothing of what comes after.
func TestFirstIsOfTheQuestion(t *testing.T) {
	tr := example(t, "turbine")
	all := map[string]optimize.Options{
		"least total":      {},
		"no row":           {Use: 0.65},
		"margin":           {Use: 0.5},
		"fewest machines":  {Strategy: optimize.FewestMachines},
		"closest":          {Strategy: optimize.Closest},
		"a machine stays":  {Hold: []string{"compressor"}},
		"raise only":       {Strategy: optimize.RaiseOnly},
		"without a search": {Use: 1},
	}
	if !trains.Everything() {
		all = map[string]optimize.Options{"no row": all["no row"]}
	}
	for name, opt := range all {
		opt.Brief = true
		alone, err := asked.Ask(t.Context(), tr, opt, 0, 0.95)
		require.NoError(t, err)
		for _, pools := range []*Pools{nil, &asked} {
			var first []*optimize.Plan
			opt.First = func(p *optimize.Plan) { first = append(first, p) }
			a, err := pools.Ask(t.Context(), tr, opt, 0, 0.95)
			require.NoError(t, err, name)
			assert.Equal(t, alone.Plan.Moves, a.Plan.Moves, name)
			assert.Equal(t, alone.Plan.Bound, a.Plan.Bound, name)
			assert.Equal(t, alone.Plan.Solves, a.Plan.Solves, name)
			require.NotEmpty(t, first, name)
			for _, p := range first {
				assert.Equal(t, a.Plan.Strategy, p.Strategy, name)
				assert.Equal(t, a.Plan.Aim, p.Aim, name)
				assert.LessOrEqual(t, p.Reached, a.Plan.Kept*(1+optimize.CheckTolerance), name)
			}
			assert.Equal(t, a.Plan.Moves, first[len(first)-1].Moves, name)
		}
	}
}

// A search that is ended as soon as a plan is known ends with that, at any row of the pool.
func TestEndedAtTheFirst(t *testing.T) {
	tr := example(t, "turbine")
	for _, opt := range []optimize.Options{{}, {Use: 0.65}, {Hold: []string{"compressor"}}}[:trains.Draws(1, 3)] {
		ctx, end := context.WithCancel(t.Context())
		opt.First = func(*optimize.Plan) { end() }
		a, err := (*Pools)(nil).Ask(ctx, tr, opt, 0, 0.95)
		require.NoError(t, err)
		assert.NotEmpty(t, a.Plan.Moves)
	}
}

// A search that goes on tells of the best plan so far: one that keeps what was asked. It comes to the same.
func TestBestSoFarIsToldOf(t *testing.T) {
	tr := example(t, "turbine")
	alone, err := asked.Ask(t.Context(), tr, optimize.Options{Use: 0.65, Brief: true}, 0, 0.95)
	require.NoError(t, err)
	var told []*optimize.Plan
	opt := optimize.Options{Use: 0.65, Brief: true, Early: 1, First: func(p *optimize.Plan) { told = append(told, p) }}
	a, err := (*Pools)(nil).Ask(t.Context(), tr, opt, 0, 0.95)
	require.NoError(t, err)
	assert.Equal(t, alone.Plan.Moves, a.Plan.Moves)
	assert.Equal(t, alone.Plan.Solves, a.Plan.Solves)
	require.Greater(t, len(told), 1)
	total := math.Inf(1)
	for n, p := range told {
		assert.Equal(t, n < len(told)-1, p.SoFar)
		assert.Equal(t, optimize.Planned, p.Status)
		assert.LessOrEqual(t, p.Reached, 0.65*(1+optimize.CheckTolerance))
		assert.GreaterOrEqual(t, p.Total, a.Plan.Least-1e-9)
		if p.SoFar {
			assert.Less(t, p.Total, total, "each is better")
			total = p.Total
		}
	}
}

// Parts of a very long train are searched side by side; of what they find each better plan is told of once.
func TestBestSoFarOfALongTrain(t *testing.T) {
	var told []float64
	opt := optimize.Options{Solves: 60, Brief: true, Early: 1}
	opt.First = func(p *optimize.Plan) { told = append(told, p.Total) }
	p, err := Make(t.Context(), rowOf(t, 20, 3, 9), opt)
	require.NoError(t, err)
	require.Equal(t, optimize.Planned, p.Status)
	require.NotEmpty(t, told)
	falls := slices.IsSortedFunc(told[:len(told)-1], func(a, b float64) int { return cmp.Compare(b, a) })
	assert.True(t, falls, "%v", told)
}

// A counted context counts how often it is looked at, which is a measure of work.
type counted struct {
	context.Context
	looks atomic.Int64
}

func (c *counted) Err() error {
	c.looks.Add(1)
	return c.Context.Err()
}

// Where there is no plan the search for it is made once, and what would help is looked for after it, with a machine
// held too that the pool was asked without before.
func TestNoPlanIsSearchedForOnce(t *testing.T) {
	for name, hold := range map[string][]string{"base-bound": nil, "turbine": {"gear"}} {
		tr := example(t, name)
		made := func(brief bool) (*optimize.Plan, int64) {
			ctx := &counted{Context: t.Context()}
			p, err := Make(ctx, tr, optimize.Options{Hold: hold, Brief: brief})
			require.NoError(t, err)
			return p, ctx.looks.Load()
		}
		_, first := made(true)
		alone, all := made(false)
		require.NotEmpty(t, alone.Relaxations)
		var pools Pools
		if hold != nil {
			file, err := pools.pool(t.Context(), tr, optimize.Options{}, 0.95)
			require.NoError(t, err)
			_, err = file.Held(t.Context(), optimize.Named(tr, hold...), optimize.Options{Brief: true})
			require.NoError(t, err)
			all -= first
		}
		ctx := &counted{Context: t.Context()}
		a, err := pools.Ask(ctx, tr, optimize.Options{Hold: hold}, 0, 0.95)
		require.NoError(t, err)
		assert.Less(t, ctx.looks.Load(), all+first/2, name)
		assert.Equal(t, alone.Conflict, a.Plan.Conflict, name)
		assert.Equal(t, alone.Relaxations, a.Plan.Relaxations, name)
		assert.Equal(t, alone.Solves, a.Plan.Solves, name)
	}
}
