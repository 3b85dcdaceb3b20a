package explore

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// What stands on the work order is taken as it is typed; a word of the other plane, or a sign and a word, is not.
func TestReadingsAreTypedAsTheWorkOrderHasThem(t *testing.T) {
	up, side, gap := "read.coupling.0.reading.0.v", "read.coupling.0.found.h.angle", "read.coupling.0.found.gap"
	for _, c := range []struct{ field, typed, number string }{
		{up, "0.802 low", "-0.802"}, {up, "low 0.802", "-0.802"}, {up, "-0.802", "-0.802"}, {up, "−0.802", "-0.802"},
		{up, "0,802 High", "0.802"}, {up, "down .8", "-0.8"}, {up, "slopes up 0.05", "0.05"}, {up, "+0.8", "+0.8"},
		{up, "0.37 left", ""}, {up, "-0.8 low", ""}, {up, "low 0.8 low", ""}, {up, "low", ""}, {up, "-0.80.2", ""},
		{side, "0.37 left", "0.37"}, {side, "points right 0.37", "-0.37"}, {side, "0.37 low", ""},
		{gap, "400.20", "400.20"}, {gap, "400.20 low", ""},
		{"read.coupling.0.reading.0.clock.3", "-0.05", "-0.05"},
	} {
		n, ok := axisOf(c.field).number(c.typed)
		assert.Equal(t, c.number != "", ok, c.typed)
		assert.Equal(t, c.number, n, c.typed)
	}
}
