package words

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
		got  Number
		want Number
	}{
		{"nearest", Fixed(0.126, 2), "0.13"},
		{"no minus before a zero", Fixed(-0.004, 2), "0.00"},
		{"a minus before anything else", Fixed(-0.006, 2), "-0.01"},
		{"NaN is no number", Fixed(math.NaN(), 2), ""},
		{"infinity is no number", Fixed(math.Inf(-1), 2), ""},
		{"a bound goes down", Floor(4.9579, 3), "4.957"},
		{"a bound that is exact stays", Floor(3.15, 3), "3.150"},
		{"124 mil by way of mm stay 124", Floor(124*train.Mil/train.Mil, 2), "124.00"},
		{"nothing proven", Floor(math.NaN(), 3), ""},
		{"a use goes up", Use(0.7001), "0.701"},
		{"a use at its limit stays, with the rounding that the check allows", Use(0.7 * (1 + 0.9e-6)), "0.700"},
		{"a room goes down", NumbersOf(&train.Train{}).Room(1.998), "1.99"},
		{"a room stays, with what a tilt takes of it", NumbersOf(&train.Train{}).Room(2 - 3e-5), "2.00"},
		{"no room stays none", NumbersOf(&train.Train{}).Room(-3e-5), "0.00"},
		{"per cent go up", Number(Percent(0.6901)), "70 %"},
		{"per cent that are whole stay", Number(Percent(0.07)), "7 %"},
	}
	for _, c := range cases {
		assert.Equal(t, c.want, c.got, c.why)
	}
}

// Parts come to what is said of their sum: by hand, 48.1 + 19.8 is 67.9.
func TestPartsComeToTheirSum(t *testing.T) {
	cases := []struct {
		why   string
		parts []float64
		want  []string
	}{
		{"68 %, not 49 and 20", []float64{0.481, 0.198}, []string{"48 %", "20 %"}},
		{"70 %, up by both", []float64{0.286, 0.405}, []string{"29 %", "41 %"}},
		{"whole ones stay", []float64{0.3, 0.4}, []string{"30 %", "40 %"}},
		{"one is none", []float64{0, 0.101}, []string{"0 %", "11 %"}},
		{"three of 31.1", []float64{0.101, 0.101, 0.109}, []string{"11 %", "10 %", "11 %"}},
	}
	for _, c := range cases {
		var sum float64
		for _, part := range c.parts {
			sum += part
		}
		assert.Equal(t, c.want, PercentParts(c.parts, sum), c.why)
	}
}

func TestNumberInJSON(t *testing.T) {
	got, err := json.Marshal([]Number{"", "0.50", "-3.00", "100", "120.0"})
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
		tr := &train.Train{Units: c.units, Shims: train.Shims{Step: c.step},
			Machines: []train.Machine{{Feet: []train.Foot{{Pack: c.pack}}}}}
		n := NumbersOf(tr)
		assert.Equal(t, c.move, n.MoveDecimals, c.why)
		assert.Equal(t, c.pack2, n.PackDecimals, c.why)
	}
}

// 2.125 mm come of weights: the total shows them, and is never below its bound.
func TestTotalIsNotBelowItsBound(t *testing.T) {
	n := Numbers{MoveDecimals: 2}
	assert.Equal(t, Number("4.96"), n.Total(4.96))
	assert.Equal(t, Number("2.125"), n.Total(2.125))
	assert.Equal(t, Number("4.955"), n.Total(4.9544))
	assert.Equal(t, Number("4.954"), n.Bound(4.9544))
}
