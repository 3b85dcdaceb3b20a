package bolts

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestClearanceHole(t *testing.T) {
	for _, c := range []struct {
		why        string
		bolt       float64 // mm
		fit        string
		inch       bool
		want, unit float64
	}{
		{"ISO 273, M20 medium, seen in print", 20, "medium", false, 22, 1},
		{"ISO 273, M36 medium, seen in print", 36, "medium", false, 39, 1},
		{"BS 4186, M30 fine (Machinery's Handbook 31 p. 2173)", 30, "fine", false, 31, 1},
		{"BS 4186, M64 coarse (Machinery's Handbook 31 p. 2173)", 64, "coarse", false, 74, 1},
		{"ASME B18.2.8, 3/4 normal", 0.75 * 25.4, "normal", true, 0.812, 25.4},
		{"ASME B18.2.8, 1 loose (Machinery's Handbook 31 p. 1741)", 25.4, "loose", true, 1.156, 25.4},
		{"the ISO word for the same column", 25.4, "coarse", true, 1.156, 25.4},
		{"5/16 written 0.312", 0.312 * 25.4, "close", true, 0.328, 25.4},
	} {
		hole, ok := ClearanceHole(c.bolt, c.fit, c.inch)
		assert.True(t, ok, c.why)
		assert.False(t, math.IsNaN(hole), c.why)
		assert.InDelta(t, c.want*c.unit, hole, 1e-12, c.why)
	}
}

func TestNoClearanceHole(t *testing.T) {
	for _, c := range []struct {
		why  string
		bolt float64 // mm
		fit  string
		inch bool
	}{
		{"no M31", 31, "medium", false},
		{"an inch bolt in the metric table", 25.4, "medium", false},
		{"a metric bolt in the inch table", 20, "normal", true},
		{"inch words are not for metric bolts", 20, "normal", false},
		{"no such fit", 20, "tight", false},
		{"no bolt", math.NaN(), "medium", false},
	} {
		_, ok := ClearanceHole(c.bolt, c.fit, c.inch)
		assert.False(t, ok, c.why)
	}
}

// Every row rises from bolt to fine to medium to coarse, and every column
// rises with the bolt: a figure out of place breaks one of the two. A row out
// of step with its neighbours shows as a jump in the clearance.
func TestHolesRise(t *testing.T) {
	for name, table := range map[string][][4]float64{"ISO 273": isoHoles[:], "ASME B18.2.8": inchHoles[:]} {
		for i, row := range table {
			for j := 1; j < 4; j++ {
				assert.Greater(t, row[j], row[j-1], "%s, bolt %v", name, row[0])
			}
			for j := 0; i > 0 && j < 4; j++ {
				assert.Greater(t, row[j], table[i-1][j], "%s, bolt %v", name, row[0])
			}
			assert.Less(t, row[3], 1.3*row[0], "%s, bolt %v: a hole is near its bolt", name, row[0])
		}
	}
}
