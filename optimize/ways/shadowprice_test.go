package ways

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/optimize"
	"leastmove/optimize/bnb"
	"leastmove/optimize/mip"
	"leastmove/testdata/trains"
	"leastmove/train"
)

// In a train of many machines most couplings cost something. The limits that are worth the
// most are solved anew, a number that does not grow with the train.
func TestPricesOfALongTrain(t *testing.T) {
	if !trains.Everything() {
		t.Skip("takes seconds: LEASTMOVE_TESTS=all")
	}
	const machines = 45
	p, err := Make(context.Background(), rowOf(t, machines), optimize.Options{Solves: 60})
	require.NoError(t, err)
	require.Equal(t, optimize.Planned, p.Status)
	require.Len(t, p.ShadowPrices, 40, "of more than %d couplings' limits", machines-1)
	for i, w := range p.ShadowPrices[1:] {
		before := p.ShadowPrices[i]
		assert.GreaterOrEqual(t, before.Price*before.By, w.Price*w.By)
	}
}

// rowOf is a train of so many machines (invented), of which those held cannot move.
func rowOf(t *testing.T, machines int, held ...int) *train.Train {
	var b strings.Builder
	b.WriteString("title = \"a row of machines (invented)\"\nunits = \"mm\"\n")
	for i := range machines {
		fmt.Fprintf(&b, "[[machine]]\nname = \"m%d\"\nat = %d\nheight = 600\nhold = %v\n", i, 2000*i,
			slices.Contains(held, i))
		for k, name := range []string{"a", "b"} {
			fmt.Fprintf(&b, "[[machine.foot]]\nname = %q\nx = %d\nspread = 800\nshim = 5\nraise = 5\nbolt = 24\nhole = 30\n",
				name, 300+900*k)
		}
		if i > 0 {
			fmt.Fprintf(&b, "[[coupling]]\nname = \"c%d\"\nfrom = \"m%d\"\nto = \"m%d\"\nx = %d\nflex = [%d, %d]\nlimit = { "+
				"angle = 0.4 }\nfound = { v = { offset = %g, angle = 0 }, h = { offset = %g, angle = 0 } }\n",
				i, i-1, i, 2000*i-300, 2000*i-500, 2000*i-100, []float64{-0.3, 0.3}[i%2], []float64{0.2, -0.2}[i%2])
		}
	}
	return trains.Read(t, "row.toml", b.String())
}

// What limits of a long train cost is worked out near them alone. Worked out of the whole train it is nearly the
// same, and no limit saves more than is said.
func TestPricesNearAndOfAll(t *testing.T) {
	ctx := context.Background()
	held := []int{1, 3, 5, 7, 9, 11, 13, 15}
	tr := rowOf(t, 28, held...)
	p, err := Make(ctx, tr, optimize.Options{Solves: 60})
	require.NoError(t, err)
	require.Equal(t, optimize.Planned, p.Status)
	require.Greater(t, len(p.ShadowPrices), 15)
	m, goal := optimize.Again(ctx, &optimize.Solver{Plan: p}, optimize.Options{}), mip.Goal{Use: p.Kept}
	base := bnb.Relax(ctx, &m.Model.Problem, goal)
	seen := 0
	for n := range p.ShadowPrices {
		w := &p.ShadowPrices[n]
		if w.Coupling <= held[len(held)-1] || seen == trains.Draws(6, 40) {
			continue
		}
		seen++
		bound := func(by float64) float64 {
			k := optimize.Build(widened(w, tr, by), m.Linearization)
			r := bnb.Relax(ctx, &k.Problem, goal)
			require.NotNil(t, r.X)
			return r.Bound
		}
		wider, closer := base.Bound-bound(w.By), bound(-w.By)-base.Bound
		assert.InDelta(t, wider, w.Wider, 0.03*wider+1e-4, "coupling %d", w.Coupling)
		assert.InDelta(t, closer, w.Closer, 0.03*closer+1e-4, "coupling %d", w.Coupling)
		assert.GreaterOrEqual(t, w.AtMost, wider+p.Least-base.Bound-1e-6, "coupling %d", w.Coupling)
	}
	assert.Greater(t, seen, 5, "behind machines that are held")
}
