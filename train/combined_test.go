package train

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
)

// length is the longest of a coupling's discs for shares of its limits: up and left of each measure.
func longest(c *Coupling, shares [][2]float64) float64 {
	var most float64
	for _, b := range c.Blends() {
		var at [2]float64
		for n, by := range b.By {
			for row := range at {
				at[row] += by[row][0]*shares[n][0] + by[row][1]*shares[n][1]
			}
		}
		most = math.Max(most, math.Hypot(at[0], at[1]))
	}
	return most
}

// By hand: 0.3 up and 0.4 to the left, 0.5 in all, and 0.4 to the right. The sum is 0.9; the discs are
// off it by 0.2 % at most.
func TestBlendsHoldTheSum(t *testing.T) {
	inf := math.Inf(1)
	two := &Coupling{Limit: Limit{Offset: 1, Angle: 1, Gap: inf, Combined: true}, FoundGap: math.NaN()}
	assert.InDelta(t, 0.9, longest(two, [][2]float64{{0.3, 0.4}, {0, -0.4}}), 0.9*0.0022)
	assert.Nil(t, (&Coupling{Limit: Limit{Offset: 1, Angle: 1, Gap: inf}}).Blends())

	r := rand.New(rand.NewPCG(1, 2))
	gap := &Coupling{Limit: Limit{Offset: 1, Angle: 1, Gap: 1, Combined: true}}
	each, both := *two, *gap
	each.Limit.EachPlane, both.Limit.EachPlane = true, true
	for range 2000 {
		a := [2]float64{r.NormFloat64(), r.NormFloat64()}
		b := [2]float64{r.NormFloat64(), r.NormFloat64()}
		g := [2]float64{r.NormFloat64(), 0}
		sum := math.Hypot(a[0], a[1]) + math.Hypot(b[0], b[1])
		got := longest(two, [][2]float64{a, b})
		assert.LessOrEqual(t, got, sum+1e-12, "what keeps the sum keeps every disc")
		assert.GreaterOrEqual(t, got, sum*(1-0.0022))
		got = longest(gap, [][2]float64{a, b, g})
		assert.LessOrEqual(t, got, sum+math.Abs(g[0])+1e-12)
		assert.GreaterOrEqual(t, got, (sum+math.Abs(g[0]))*(1-0.03))
		sum = math.Max(math.Abs(a[0]), math.Abs(a[1])) + math.Max(math.Abs(b[0]), math.Abs(b[1]))
		assert.InDelta(t, sum, longest(&each, [][2]float64{a, b}), 1e-12, "for each plane it is exact")
		assert.InDelta(t, sum+math.Abs(g[0]), longest(&both, [][2]float64{a, b, g}), 1e-12)
	}
}

// By hand: the angles of a spacer's elements are 0.5 and 0.3 of their limit, and the distance 0.4: 0.9, of the
// element that is worse off.
func TestBlendsOfASpacer(t *testing.T) {
	c := &Coupling{Spacer: true, Limit: Limit{Angle: 1, Gap: 1, Combined: true}}
	shares := [][2]float64{{0.3, 0.4}, {0.3, 0}, {-0.4, 0}}
	assert.InDelta(t, 0.9, longest(c, shares), 0.9*0.0022)
	shares[0], shares[1] = shares[1], shares[0]
	assert.InDelta(t, 0.9, longest(c, shares), 0.9*0.0022, "whichever it is")
	c.Limit.EachPlane = true
	assert.InDelta(t, 0.8, longest(c, shares), 1e-12, "0.4 sideways")
	r := Reading{Uses: []Use{{Kind: Flex1, Share: 0.5}, {Kind: Flex2, Share: 0.3}, {Kind: Gap, Share: 0.4}}}
	assert.InDelta(t, 0.9, r.Added(), 1e-12)
	c.Limit.Gap = math.Inf(1)
	c.FoundGap = math.NaN()
	assert.Nil(t, c.Blends(), "each angle is a limit alone")
}

// Shares that are limited together count added up; else the largest.
func TestSharesAddedUp(t *testing.T) {
	r := Reading{Uses: []Use{{Share: 0.6}, {Share: 0.7}}}
	assert.InDelta(t, 1.3, r.Added(), 1e-12)
	assert.Equal(t, 0.7, r.Worst())
	r.Sum = r.Added()
	assert.InDelta(t, 1.3, r.Worst(), 1e-12)
}
