package ways

import (
	"context"
	"math"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/optimize"
	"leastmove/optimize/bnb"
	"leastmove/testdata/recheck"
	"leastmove/testdata/trains"
)

// By hand: from (0.2, 10) to (1, 2) the line falls by 10 for each unit of use.
// At 0.4 it stands at 8, the curve at 4: half the height below; at 0.6 at 6 and 3.
func TestKneeByHand(t *testing.T) {
	points := []ParetoPoint{{Use: 0.2, Total: 10}, {Use: 0.4, Total: 4}, {Use: 0.6, Total: 3}, {Use: 0.8, Total: 2.5},
		{Use: 1, Total: 2}}
	assert.Equal(t, 1, knee(points))
	straight := []ParetoPoint{{Use: 0.2, Total: 10}, {Use: 0.6, Total: 6}, {Use: 1, Total: 2}}
	assert.Equal(t, -1, knee(straight))
}

// By hand: a plan of 3.5 that reaches 0.55 lowers the points from 0.6 on whose totals are above it, one that reaches
// 0.15 is a point of its own before the first, with what was proven there; one that is dearer changes nothing.
func TestKnownPlansByHand(t *testing.T) {
	front := &ParetoFront{Points: []ParetoPoint{{Use: 0.2, Total: 10, Bound: 9}, {Use: 0.4, Total: 4, Bound: 3.9},
		{Use: 0.6, Total: 3.8, Bound: 3.4}, {Use: 0.8, Total: 3.6, Bound: 3.3}, {Use: 1, Total: 2, Bound: 2}}}
	front.Know(ParetoPoint{Total: 3.5, Reached: 0.55, Moved: 3})
	front.Know(ParetoPoint{Total: 12, Reached: 0.15, Moved: 4})
	front.Know(ParetoPoint{Total: 11, Reached: 0.7})
	var uses, totals []float64
	for _, p := range front.Points {
		uses, totals = append(uses, p.Use), append(totals, p.Total)
	}
	assert.Equal(t, []float64{0.15, 0.2, 0.4, 0.6, 0.8, 1}, uses)
	assert.Equal(t, []float64{12, 10, 4, 3.5, 3.5, 2}, totals)
	assert.Equal(t, 3, front.Points[4].Moved)
	assert.Equal(t, 9., front.Points[0].Bound)
	assert.True(t, math.IsNaN(front.Points[0].Relaxed))
	empty := &ParetoFront{Status: optimize.Impossible}
	empty.Know(ParetoPoint{Total: 1, Reached: 0.5})
	assert.Empty(t, empty.Points)
}

func TestConvexByHand(t *testing.T) {
	assert.True(t, convex([]ParetoPoint{{Use: 0.2, Relaxed: 10}, {Use: 0.4, Relaxed: 4}, {Use: 0.6, Relaxed: 3},
		{Use: 1, Relaxed: 2.9}}))
	assert.False(t, convex([]ParetoPoint{{Use: 0.2, Relaxed: 10}, {Use: 0.4, Relaxed: 9}, {Use: 0.6, Relaxed: 3}}),
		"it bends the other way")
	assert.False(t, convex([]ParetoPoint{{Use: 0.2, Relaxed: 1}, {Use: 0.4, Relaxed: 2}}), "it rises")
	assert.False(t, convex([]ParetoPoint{{Use: 0.2, Relaxed: math.NaN()}, {Use: 0.4, Relaxed: 2}}), "not known")
}

// By hand: 10, 4, 3 at 0.2, 0.4, 0.6. In the second part, from 4 to 3, the line of the
// first goes on with a slope of -30; from the right the curve may be flat, at 3. They
// meet at 0.4 + 1/30, where the chord stands at 4 - 5/30: 0.8333 above. In the first
// part nothing is known to the left: the line of the second goes on up to 5 at 0.2,
// where the curve is 10, so that is how far below it may be.
func TestSagByHand(t *testing.T) {
	points := []ParetoPoint{{Use: 0.2, Relaxed: 10}, {Use: 0.4, Relaxed: 4}, {Use: 0.6, Relaxed: 3}}
	most, at := sag(points)
	assert.InDelta(t, 5, most, 1e-12)
	assert.Equal(t, 0, at)
	most, at = sag([]ParetoPoint{{Use: 0.2, Relaxed: 6}, {Use: 0.3, Relaxed: 5}, {Use: 0.4, Relaxed: 4},
		{Use: 0.5, Relaxed: 3}, {Use: 0.6, Relaxed: 3}})
	assert.InDelta(t, 0, most, 1e-12, "straight, and flat at the end")
	assert.Equal(t, 0, at)
}

// The curve without whole steps between its points: nowhere below what is said, nor
// above the chords.
func TestTradeOffBetweenItsPoints(t *testing.T) {
	t.Parallel()
	compared := 0
	for _, family := range []string{"plain", "spacer", "gear"} {
		for seed := range trains.Draws(1, 2) {
			tr := trains.Drawn(t, family, 351+uint64(seed))
			m := optimize.NewSolver(tr, optimize.Options{})
			m.Plan.Aim = 0
			m.Linearize(context.Background())
			points := relaxedCurve(context.Background(), m, 0.6, 1)
			if !convex(points) {
				continue
			}
			most, _ := sag(points)
			fall := points[0].Relaxed - points[len(points)-1].Relaxed
			assert.True(t, most <= frontSag*fall+1e-9 || len(points) == mostPoints, "%s-%d: %g of %g", family, seed, most, fall)
			for n := 1; n < len(points); n++ {
				a, b := points[n-1], points[n]
				between := relaxedPoint(context.Background(), m, (a.Use+b.Use)/2)
				chord := (a.Relaxed + b.Relaxed) / 2
				assert.LessOrEqual(t, between.Relaxed, chord+1e-6)
				assert.GreaterOrEqual(t, between.Relaxed, chord-most-1e-6)
				compared++
			}
		}
	}
	assert.GreaterOrEqual(t, compared, trains.Draws(15, 30))
}

// On trains of every cheap family the curve falls, is convex without whole
// steps, and what is proven of its points does not contradict the plans.
func TestTradeOff(t *testing.T) {
	t.Parallel()
	curves := 0
	trains.Some(t, 341, trains.Draws(1, 2), func(t *testing.T, family string, seed uint64) {
		tr := trains.Drawn(t, family, seed)
		trade, err := Pareto(context.Background(), tr, optimize.Options{Solves: trains.Draws(300, 0)})
		require.NoError(t, err)
		if trade.Points == nil {
			return
		}
		curves++
		assert.True(t, trade.Convex)
		for n, p := range trade.Points {
			require.False(t, math.IsNaN(p.Total), "a plan at a smaller use is one at this")
			assert.LessOrEqual(t, p.Reached, p.Use*(1+recheck.Rounding))
			assert.LessOrEqual(t, p.Relaxed, p.Total+1e-6)
			if !math.IsNaN(p.Bound) {
				assert.LessOrEqual(t, p.Bound, p.Total+1e-9)
			}
			if n > 0 {
				assert.LessOrEqual(t, p.Total, trade.Points[n-1].Total+1e-9, "more use never costs more")
			}
		}
	})
	assert.GreaterOrEqual(t, curves, trains.Draws(1, 10))
}

// Options.Limit is for all of a trade-off, and for all ways of a comparison.
func TestTimeLimitOfWholeStudies(t *testing.T) {
	tr := trains.Drawn(t, "plain", 103)
	told := 0
	opt := optimize.Options{Limit: time.Nanosecond, Tell: func(bnb.Progress) { told++ }}
	_, err := Pareto(t.Context(), tr, opt)
	require.NoError(t, err)
	_, err = Compare(t.Context(), tr, opt, nil)
	require.NoError(t, err)
	assert.Zero(t, told, "every search ends before its first word")
	opt.Limit = 0
	_, err = Pareto(t.Context(), tr, opt)
	require.NoError(t, err)
	assert.Positive(t, told)
}

// A trade-off without a point says whether that is proven.
func TestTradeOffWithoutPlan(t *testing.T) {
	tr := trains.Read(t, "pump", trains.PumpBeside)
	tr.Couplings[0].Limit.Offset = 1e-4
	for i := range tr.Machines {
		tr.Machines[i].Hold = true
	}
	trade, err := Pareto(t.Context(), tr, optimize.Options{})
	require.NoError(t, err)
	assert.Equal(t, optimize.Impossible, trade.Status)
	assert.Empty(t, trade.Points)
}
