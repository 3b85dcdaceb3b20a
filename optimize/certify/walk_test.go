package certify

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"leastmove/optimize/mip"
)

// By hand: a of 0 to 9 and b of 0 to 9 steps of 1.5 are to be 1.4 apart and to come to 6.9. At a = 4, b = 3 they are
// 0.4 and 0.1 off, and nowhere less.
func TestAWalkClosesABox(t *testing.T) {
	p := &mip.Problem{
		Vars: []mip.Var{{Block: 0, Way: 1, Step: 1, Hi: 9}, {Block: 1, Way: 1, Step: 1.5, Hi: 13.5}},
		Limits: []mip.Limit{
			{Radius: 1, Shared: true, Rows: []mip.Row{
				{Constant: -1.4, Terms: []mip.Term{{Var: 0, Coefficient: 1}, {Var: 1, Coefficient: -1}}},
			}},
			{Radius: 1, Shared: true, Rows: []mip.Row{
				{Constant: -6.9, Terms: []mip.Term{{Var: 0, Coefficient: 1}, {Var: 1, Coefficient: 1}}},
			}},
		},
	}
	claim := func(use float64) Claim {
		return Claim{Lo: mip.Steps{0, 0}, Hi: mip.Steps{9, 9}, Use: use, Cost: math.Inf(1)}
	}
	assert.NoError(t, Check(p, claim(0.3999), &Proof{Way: 1}))
	assert.ErrorContains(t, Check(p, claim(0.4001), &Proof{Way: 1}), "a walk by way 1 does not close a box")
	assert.ErrorContains(t, CheckUntil(p, claim(0.3999), &Proof{Way: 1}, func() bool { return true }), "no time")

	// Only the first of the two limits is claimed: at a = 3, b = 1.5 it is 0.1 off.
	some := claim(0.3999)
	some.Limits = []int{0}
	assert.ErrorContains(t, Check(p, some, &Proof{Way: 1}), "does not close")
	some.Use = 0.0999
	assert.NoError(t, Check(p, some, &Proof{Way: 1}))
	assert.ErrorContains(t, Check(p, some, &Proof{Way: 2}), "a walk by way 2 does not close a box")
}
