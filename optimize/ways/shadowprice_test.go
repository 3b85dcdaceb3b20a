package ways_test

import (
	"context"
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/optimize"
	"leastmove/optimize/ways"
	"leastmove/testdata/trains"
)

// In a train of many machines most couplings cost something. The limits that are worth the
// most are solved anew, a number that does not grow with the train.
func TestPricesOfALongTrain(t *testing.T) {
	if !trains.Everything() {
		t.Skip("takes seconds: LEASTMOVE_TESTS=all")
	}
	var b strings.Builder
	b.WriteString("title = \"a row of machines (invented)\"\nunits = \"mm\"\n")
	const machines = 45
	for i := range machines {
		fmt.Fprintf(&b, "[[machine]]\nname = \"m%d\"\nat = %d\nheight = 600\n", i, 2000*i)
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
	p, err := ways.Make(context.Background(), trains.Read(t, "row.toml", b.String()), optimize.Options{Solves: 60})
	require.NoError(t, err)
	require.Equal(t, optimize.Planned, p.Status)
	require.Len(t, p.ShadowPrices, 40, "of more than %d couplings' limits", machines-1)
	for i, w := range p.ShadowPrices[1:] {
		before := p.ShadowPrices[i]
		assert.GreaterOrEqual(t, before.Price*before.By, w.Price*w.By)
	}
}
