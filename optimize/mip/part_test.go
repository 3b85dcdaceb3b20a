package mip

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A chain of three blocks, cut after the second, by hand: what its parts cost together is what it costs, with the pulls
// at the limit that is cut; and each limit that speaks of one part alone is in it, with what its rows may be off.
func TestPartsAddUp(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 5))
	p := &Problem{FixedCost: []float64{0.1, 0.2, 0.3}}
	for b := range 3 {
		for range 2 {
			p.Vars = append(p.Vars, Var{Block: b, Weight: 1 + r.Float64(), Step: 0.1, Lo: -2, Hi: 2})
		}
		p.Turns = append(p.Turns, Row{Terms: []Term{{2 * b, 1}, {2*b + 1, -1}}, Constant: float64(b)})
		p.TurnMost = append(p.TurnMost, float64(3+b))
	}
	p.Turns, p.TurnMost = append(p.Turns, Row{Constant: 7}), append(p.TurnMost, 7) // of what does not move
	limit := func(from, to int) {
		l := Limit{Radius: r.Float64()}
		for range 2 {
			row := Row{Constant: r.NormFloat64(), Off: []Curve{{Fixed: 0.1, Caps: []Cap{{to / 2, 2}},
				Sum: []Bend{{A: from / 2, B: to / 2, By: 0.5}, {A: 3, B: -1, By: 0.25}}}}}
			for v := from; v < to+2; v++ {
				row.Terms = append(row.Terms, Term{v, r.NormFloat64()})
			}
			l.Rows = append(l.Rows, row)
		}
		p.Limits = append(p.Limits, l)
	}
	limit(0, 2)
	limit(2, 4) // is cut
	limit(4, 4)
	pull := []float64{0, 0, r.NormFloat64(), r.NormFloat64(), 0, 0}
	each := []float64{0, 0, 0.1, 0.2, 0.3, 99}
	parts := []*Problem{p.Part(0, 2, pull, each), p.Part(2, 3, pull, each)}

	require.Len(t, parts[0].Vars, 4)
	require.Len(t, parts[0].Limits, 1)
	require.Len(t, parts[1].Limits, 1)
	assert.Equal(t, p.Limits[0].Rows[1].Terms, parts[0].Limits[0].Rows[1].Terms)
	assert.Equal(t, []Bend{{A: 0, B: 1, By: 0.5}, {A: 2, B: -1, By: 0.25}}, parts[0].Limits[0].Rows[0].Off[0].Sum)
	assert.Equal(t, []float64{0.1, 0.2}, parts[0].FixedCost)
	assert.Equal(t, []float64{0.3}, parts[1].FixedCost)
	assert.Equal(t, []float64{5, 7}, parts[1].TurnMost)
	assert.Equal(t, []Term{{0, 1}, {1, -1}}, parts[1].Turns[0].Terms)
	assert.Equal(t, []Bend{{A: 0, B: 0, By: 0.5}, {A: 1, B: -1, By: 0.25}}, parts[1].Limits[0].Rows[0].Off[0].Sum)
	assert.Equal(t, []Cap{{0, 2}}, parts[1].Limits[0].Rows[0].Off[0].Caps)
	assert.Equal(t, 0, parts[1].Vars[0].Block)
	assert.Zero(t, parts[1].Vars[1].Weight, "more is paid than it costs")
	assert.Equal(t, []Term{{0, 1}, {1, -1}}, p.Turns[0].Terms, "the chain is as it was")

	whole, cost := 0.0, 0.0 // of a point, without what has no variable in it
	for n := range 6 {
		v, x := p.Vars[n], r.NormFloat64()
		if n == 5 {
			x = 0 // its weight is cut off at 0
		}
		whole += (v.Weight - each[n]) * math.Abs(x)
		for k, row := range p.Limits[1].Rows {
			for _, term := range row.Terms {
				if term.Var == n {
					whole += pull[2+k] * term.Coefficient * x
				}
			}
		}
		mine := parts[n/4].Vars[n%4]
		cost += mine.Weight*math.Abs(x) + mine.Slope*x
	}
	assert.InDelta(t, whole, cost, 1e-12)
}
