package certify

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/optimize/mip"
)

// By hand: a and b of -5 to 5 come to 3 to 5, so that what turns by their sum turns by less than 5.1, where their
// ranges
// allow 10. y of 0 to 8 is within 1 of 10 but for a tenth of the turn: it has to come to 9 - 0.51 = 8.49, which it
// can't. With a turn of 10 it could, at 8.
func TestCapsOnTurnsByHand(t *testing.T) {
	sum := []mip.Term{{Var: 0, Coefficient: 1}, {Var: 1, Coefficient: 1}}
	p := &mip.Problem{Turns: []mip.Row{{Terms: sum}}, TurnMost: []float64{100}}
	for b := range 2 {
		p.Vars = append(p.Vars, mip.Var{Block: b, Weight: 1, Step: 1, Lo: -5, Hi: 5})
	}
	p.Vars = append(p.Vars, mip.Var{Block: 2, Weight: 1, Step: 1, Lo: 0, Hi: 8})
	p.Limits = []mip.Limit{
		{Radius: 1, Rows: []mip.Row{{Constant: -4, Terms: sum}}},
		{Radius: 1, Rows: []mip.Row{{Constant: -10, Terms: []mip.Term{{Var: 2, Coefficient: 1}},
			Off: []mip.Curve{{Sum: []mip.Bend{{A: 0, B: -1, By: 0.1}}}}}}},
	}
	claim := Claim{Lo: mip.Steps{-5, -5, 0}, Hi: mip.Steps{5, 5, 8}, Use: 1, Cost: math.Inf(1)}
	capped := func(most float64) *Proof {
		up, down := &DualCertificate{Pull: []float64{1, 0}}, &DualCertificate{Pull: []float64{-1, 0}}
		return &Proof{Turns: &Turns{Caps: []TurnCap{{Most: most, Up: up, Down: down}}, Then: &Proof{}}}
	}
	require.NoError(t, Check(p, claim, capped(5.1)))
	assert.ErrorContains(t, Check(p, claim, capped(4.9)), "turn 0 is capped at 4.9 without reason")
	assert.ErrorContains(t, Check(p, claim, &Proof{}), "neither closed nor split")
	assert.ErrorContains(t, Check(p, claim, capped(math.NaN())), "turn 0 of 1 is capped at NaN")
	wrong := capped(5.1)
	wrong.Turns.Caps[0].Up = wrong.Turns.Caps[0].Down // says nothing of a turn the other way
	assert.ErrorContains(t, Check(p, claim, wrong), "turn 0 is capped at 5.1 without reason")
	wrong.Turns.Caps[0].Up = nil
	assert.ErrorContains(t, Check(p, claim, wrong), "a cap of turn 0 has no certificate")
}
