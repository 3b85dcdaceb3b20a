package certify

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/optimize/mip"
)

// By hand: a and b of 0 to 3 steps are to come to two together, and a to one more than b; b and c to three. Where a and b
// come to two they are none or two steps apart. So they use half of a limit at least, whatever c does.
func TestAStretchClosesABox(t *testing.T) {
	within := func(j int, sign, by float64) mip.Limit {
		row := mip.Row{Constant: by, Terms: []mip.Term{{Var: j, Coefficient: 1}, {Var: j + 1, Coefficient: sign}}}
		return mip.Limit{Radius: 2, Shared: true, Rows: []mip.Row{row}}
	}
	const most = 3
	p := &mip.Problem{
		Limits: []mip.Limit{within(0, 1, -2), within(0, -1, -1), within(1, 1, -3)}, FixedCost: []float64{1, 1, 1},
	}
	for b := range 3 {
		p.Vars = append(p.Vars, mip.Var{Block: b, Weight: 1, Step: 1, Hi: most})
	}
	claim := func(use float64) Claim {
		return Claim{Lo: mip.Steps{0, 0, 0}, Hi: mip.Steps{most, most, most}, Use: use, Cost: math.Inf(1)}
	}
	var split func(v, at int) *Proof // into all points of two variables
	split = func(v, at int) *Proof {
		switch {
		case v == 2:
			return &Proof{}
		case at == most:
			return split(v+1, 0)
		}
		return &Proof{Var: v, At: at, Below: split(v+1, 0), Above: split(v, at+1)}
	}
	points := split(0, 0)
	by := func(from, to int, proof *Proof) *Proof { return &Proof{Stretch: &Stretch{from, to, proof}} }

	require.NoError(t, Check(p, claim(0.49), by(0, 2, points)))
	cheap := claim(0.49)
	cheap.Cost = 3
	require.NoError(t, Check(p, cheap, by(0, 2, points)), "at any cost, so at that too")
	require.Error(t, Check(p, claim(0.51), by(0, 2, points)))
	require.Error(t, Check(p, claim(0.49), by(1, 3, points)), "b and c can come to three")
	for _, ends := range [][2]int{{-1, 2}, {2, 2}, {0, 4}} {
		assert.ErrorContains(t, Check(p, claim(0.49), by(ends[0], ends[1], points)), "no stretch")
	}
	require.Error(t, Check(p, claim(0.49), by(0, 2, nil)), "a stretch is not taken at its word")
}
