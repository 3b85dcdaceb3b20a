package report

import (
	"encoding/json"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/train"
)

func TestRounding(t *testing.T) {
	cases := []struct {
		why  string
		got  number
		want number
	}{
		{"nearest", fixed(0.126, 2), "0.13"},
		{"no minus before a zero", fixed(-0.004, 2), "0.00"},
		{"a minus before anything else", fixed(-0.006, 2), "-0.01"},
		{"NaN is no number", fixed(math.NaN(), 2), ""},
		{"infinity is no number", fixed(math.Inf(-1), 2), ""},
		{"a bound goes down", floor(4.9579, 3), "4.957"},
		{"a bound that is exact stays", floor(3.15, 3), "3.150"},
		{"124 mil by way of mm stay 124", floor(124*train.Mil/train.Mil, 2), "124.00"},
		{"nothing proven", floor(math.NaN(), 3), ""},
		{"a use goes up", use(0.7001), "0.701"},
		{"a use at its limit stays, with the rounding that the check allows", use(0.7 * (1 + 0.9e-6)), "0.700"},
		{"per cent go up", number(percent(0.6901)), "70 %"},
		{"per cent that are whole stay", number(percent(0.07)), "7 %"},
	}
	for _, c := range cases {
		assert.Equal(t, c.want, c.got, c.why)
	}
}

func TestNumberInJSON(t *testing.T) {
	got, err := json.Marshal([]number{"", "0.50", "-3.00", "100", "120.0"})
	require.NoError(t, err)
	assert.Equal(t, "[null,0.5,-3,100,120]", string(got))
}

// As many decimals as whole steps need, so that the printed moves are the plan.
func TestDecimalsFollowTheSteps(t *testing.T) {
	nan := math.NaN()
	cases := []struct {
		why         string
		units       train.Units
		step        float64 // mm
		pack        float64 // mm
		move, pack2 int
	}{
		{"steps of 0.05 mm", train.Millimetres, 0.05, nan, 2, 2},
		{"steps of 0.025 mm need three", train.Millimetres, 0.025, nan, 3, 3},
		{"steps of 1 mil", train.Inches, train.Mil, nan, 1, 1},
		{"steps of a quarter of a mil need two", train.Inches, 0.25 * train.Mil, nan, 2, 2},
		{"a pack of 3.125 mm keeps its digits", train.Millimetres, 0.05, 3.125, 2, 3},
	}
	for _, c := range cases {
		tr := &train.Train{Units: c.units, Shims: train.Shims{Step: c.step}, Machines: []train.Machine{{Feet: []train.Foot{{Pack: c.pack}}}}}
		n := numbersOf(tr)
		assert.Equal(t, c.move, n.move, c.why)
		assert.Equal(t, c.pack2, n.pack, c.why)
	}
}

// 2.125 mm come of weights: the total shows them, and is never below its bound.
func TestTotalIsNotBelowItsBound(t *testing.T) {
	n := numbers{move: 2}
	assert.Equal(t, number("4.96"), n.total(4.96))
	assert.Equal(t, number("2.125"), n.total(2.125))
	assert.Equal(t, number("4.955"), n.total(4.9544))
	assert.Equal(t, number("4.954"), n.bound(4.9544))
}

func TestWrap(t *testing.T) {
	assert.Equal(t, []string{"one two", "three"}, wrap("one two three", 8))
	assert.Equal(t, []string{"abcd", "ef g"}, wrap("abcdef g", 4), "a word that is too long is cut")
	assert.Equal(t, []string{""}, wrap("", 4))
	assert.Equal(t, []string{"at least", "2.50 mm or", "so"}, wrap("at least 2.50 mm or so", 12), "a number keeps its unit")
}
