package bolts

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
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

// The tables whole, typed a second time from where they were found: ISO 273
// fine/medium/coarse in mm (M6 to M16 from a maker's table of the standard,
// M18 and up from BS 4186 in Machinery's Handbook, 31st ed., p. 2173), and ASME
// B18.2.8 close/normal/loose in inches (loose from Machinery's Handbook, 31st
// ed., p. 1741, the others from a table of the standard; close and normal from
// 1-1/8 on from memory).
func TestEveryHole(t *testing.T) {
	const iso = `6 6.4/6.6/7, 8 8.4/9/10, 10 10.5/11/12, 12 13/13.5/14.5, 14 15/15.5/16.5, 16 17/17.5/18.5, 18 19/20/21,
		20 21/22/24, 22 23/24/26, 24 25/26/28, 27 28/30/32, 30 31/33/35, 33 34/36/38, 36 37/39/42, 39 40/42/45, 42 43/45/48,
		45 46/48/52, 48 50/52/56, 52 54/56/62, 56 58/62/66, 60 62/66/70, 64 66/70/74`
	const inch = `.25 .266/.281/.297, .3125 .328/.344/.359, .375 .391/.406/.422, .4375 .453/.469/.484, .5 .531/.562/.609,
		.625 .656/.688/.734, .75 .781/.812/.906, .875 .906/.938/1.031, 1 1.031/1.094/1.156, 1.125 1.156/1.219/1.312,
		1.25 1.281/1.344/1.438, 1.375 1.438/1.500/1.609, 1.5 1.562/1.625/1.734`
	rows := func(list string) [][4]float64 {
		var rows [][4]float64
		for _, line := range strings.Split(list, ",") {
			var r [4]float64
			n, err := fmt.Sscanf(strings.TrimSpace(line), "%g %g/%g/%g", &r[0], &r[1], &r[2], &r[3])
			require.NoError(t, err, line)
			require.Equal(t, 4, n)
			rows = append(rows, r)
		}
		return rows
	}
	assert.Equal(t, rows(iso), isoHoles[:])
	assert.Equal(t, rows(inch), inchHoles[:])
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
