package mip

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

// By hand: a row that stands for x + y²/2 off by at most y²/2, y up to 3 in the box 1..3 of
// steps of 0.5 and thus up to 1.5: 1.125 as a whole. Two rows of 3 and 4 are off by 5.
func TestLooseByHand(t *testing.T) {
	y := Row{Terms: []Term{{Var: 1, Coefficient: 1}}}
	half := Curve{Caps: []Cap{{Turn: 0, Most: 2}}, Sum: []Bend{{A: 0, B: 0, By: 0.5}}}
	wide := Curve{Caps: []Cap{{Turn: 0, Most: 8}}, Fixed: 1, Sum: []Bend{{A: 0, B: -1, By: 2}}}
	p := &Problem{
		Vars:     []Var{{Weight: 1, Step: 1, Lo: -9, Hi: 9}, {Weight: 2, Step: 0.5, Lo: -9, Hi: 9}},
		Turns:    []Row{y},
		TurnMost: []float64{6},
		Limits: []Limit{
			{Radius: 1, Rows: []Row{{Terms: []Term{{Var: 0, Coefficient: 1}}, Off: []Curve{half, wide}}}},
			{Radius: 1, Rows: []Row{{Off: []Curve{{Fixed: 3}}}, {Off: []Curve{{Fixed: 4}}}}},
			{Radius: 1, Rows: []Row{{Terms: []Term{{Var: 0, Coefficient: 1}}}}},
			{Radius: 1, Rows: []Row{{Off: []Curve{half}}}},
		},
	}
	assert.InDeltaSlice(t, []float64{1.125, 5, 0, 1.125}, p.Loose(Steps{0, 1}, Steps{0, 3}), 1e-7)
	loose := p.Loose(Steps{0, -1}, Steps{0, 6})
	assert.InDelta(t, 1+2*3, loose[0], 1e-7, "beyond 2 the wider curve, by 3")
	assert.InDelta(t, 1+2*3, p.Loose(Steps{0, -6}, Steps{0, 1})[0], 1e-7, "the other way as well")
	assert.True(t, math.IsInf(loose[3], 1), "beyond 2 nothing is known")
	loose = p.Loose(Steps{0, 0}, Steps{0, 18})
	assert.InDelta(t, 1+2*6, loose[0], 1e-7, "no more than a turn may be at all")

	lo, hi := Steps{-9, -18}, Steps{9, 18}
	assert.True(t, p.Afford(lo, hi, 4.5))
	assert.Equal(t, Steps{-4, -4}, lo, "4 of 1 or 4 of 1 a step; the next costs 5")
	assert.Equal(t, Steps{4, 4}, hi)
	lo, hi = Steps{5, 0}, Steps{9, 18}
	assert.False(t, p.Afford(lo, hi, 4.5))
}
