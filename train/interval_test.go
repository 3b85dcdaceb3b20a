package train

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

// By hand, each with both signs in it.
func TestIntervalsByHand(t *testing.T) {
	a, b := interval{-2, 3}, interval{-5, 4}
	assert.Equal(t, interval{-7, 7}, a.plus(b))
	assert.Equal(t, interval{-15, 12}, a.times(b), "3 × -5, and 3 × 4 over -2 × -5")
	assert.Equal(t, interval{-6, 4}, a.scaled(-2))
	assert.Equal(t, interval{0.25, 2}, interval{0.5, 4}.inverse())
	assert.Equal(t, interval{math.Inf(-1), math.Inf(1)}, a.inverse(), "0 is in it")
	assert.Equal(t, 5.0, b.most())
	assert.Equal(t, math.Inf(1), interval{math.NaN(), 1}.most(), "nothing is known")
}
