package bolts

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Names of metric threads: the minor diameters as printed in tables of the
// metric coarse thread, to 0.01 mm.
func TestMetricThreads(t *testing.T) {
	for _, c := range []struct {
		why, name       string
		diameter, minor float64 // mm
	}{
		{"M20", "M20", 20, 16.93},
		{"M24", "M24", 24, 20.32},
		{"M30", "M30", 30, 25.71},
		{"M36", "M36", 36, 31.09},
		{"the smallest: 6 - 1.22687", "M6", 6, 4.77},
		{"the largest: 64 - 6 × 1.22687", "M64", 64, 56.64},
		{"a small m and a blank", " m 24 ", 24, 20.32},
		{"the coarse pitch spelled out", "M24x3", 24, 20.32},
		{"the same with a true times sign", "M24 × 3", 24, 20.32},
	} {
		d, minor, inch, err := Thread(c.name)
		require.NoError(t, err, c.why)
		assert.False(t, inch, c.why)
		assert.Equal(t, c.diameter, d, c.why)
		assert.False(t, math.IsNaN(minor), c.why)
		assert.InDelta(t, c.minor, minor, 0.005, c.why)
	}
}

// By hand, d - 1.22687 / n: 3/4 in with 10 threads 0.75 - 0.122687 = 0.6273,
// 1 in with 8 threads 1 - 0.153359 = 0.8466, 1 1/8 in with 7 threads
// 1.125 - 0.175267 = 0.9497. The older tables of UNC print the same.
func TestInchThreads(t *testing.T) {
	for _, c := range []struct {
		why, name       string
		diameter, minor float64 // inch
	}{
		{"a fraction", "3/4 in", 0.75, 0.6273},
		{"a whole number", "1 in", 1, 0.8466},
		{"a blank between", "1 1/8 in", 1.125, 0.9497},
		{"a dash between", "1-1/8 in", 1.125, 0.9497},
		{"a decimal", "1.125 in", 1.125, 0.9497},
		{"a decimal that starts with its point", ".75 in", 0.75, 0.6273},
		{"a rounded decimal", "0.312 in", 0.3125, 0.3125 - 1.22687/18},
		{"the sign for inches", `1 1/8"`, 1.125, 0.9497},
		{"the unit in full", "1 1/8 inch", 1.125, 0.9497},
	} {
		d, minor, inch, err := Thread(c.name)
		require.NoError(t, err, c.why)
		assert.True(t, inch, c.why)
		assert.Equal(t, c.diameter*25.4, d, c.why)
		assert.False(t, math.IsNaN(minor), c.why)
		assert.InDelta(t, c.minor*25.4, minor, 0.00006*25.4, c.why)
	}
}

func TestNoThread(t *testing.T) {
	for _, c := range []struct{ why, name, says string }{
		{"between two sizes", "M25", "M24 and M27"},
		{"below the smallest", "M3", "M6 and M7"},
		{"above the largest", "M100", "M60 and M64"},
		{"a fine thread", "M24x2", "M24 has a pitch of 3 mm"},
		{"no size", "M", `"M24"`},
		{"no pitch", "M24x", `"M24"`},
		{"a fine thread of no size", "M25x1", "M24 and M27"},
		{"not a number", "Minf", `"M24"`},
		{"no inch size", "1.1 in", "1 in and 1 1/8 in"},
		{"below the smallest inch size", "1/16 in", "1/4 in and 5/16 in"},
		{"above the largest inch size", "10 in", "3 3/4 in and 4 in"},
		{"no unit", "7/8", `"7/8 in"`},
		{"a number alone", "24", `"M24" or "1 1/8 in"`},
		{"nothing over nothing", "1/0 in", `"1 1/8 in"`},
		{"a unit alone", "in", `"1 1/8 in"`},
		{"empty", "", `"1 1/8 in"`},
		{"a Whitworth thread", "W 3/4", `"1 1/8 in"`},
	} {
		d, minor, _, err := Thread(c.name)
		require.Error(t, err, c.why)
		assert.Contains(t, err.Error(), c.says, c.why)
		assert.True(t, math.IsNaN(d), c.why)
		assert.Zero(t, minor, c.why)
	}
}

// A diameter alone has the minor diameter of the coarse thread of that size,
// and none where it is off the size.
func TestMinorOfADiameter(t *testing.T) {
	assert.InDelta(t, 20.32, Minor(24, false), 0.005, "M24")
	assert.InDelta(t, 0.8466*25.4, Minor(25.4, true), 0.00006*25.4, "1 in")
	assert.InDelta(t, 0.9497*25.4, Minor(1.125*25.4, true), 0.00006*25.4, "1 1/8 in")
	assert.Zero(t, Minor(25.4, false), "no metric thread of 25.4 mm")
	assert.Zero(t, Minor(24, true), "no inch thread of 24 mm")
	assert.Zero(t, Minor(23.98, false), "a shank that was measured or turned")
	assert.Zero(t, Minor(math.NaN(), false), "no bolt")
}

// Diameters rise, pitches never fall, and the root takes between a tenth and a
// quarter of the diameter: a figure out of place breaks one of these. Every
// name reads back as its own thread, and every bolt that a hole is known for
// has one.
func TestThreadsRise(t *testing.T) {
	for _, inch := range []bool{false, true} {
		series := coarse(inch)
		for i, row := range series {
			if i > 0 {
				assert.Greater(t, row.diameter, series[i-1].diameter)
				assert.GreaterOrEqual(t, row.pitch, series[i-1].pitch, "%v", row.diameter)
				assert.Greater(t, row.minor(), series[i-1].minor(), "%v", row.diameter)
			}
			assert.Greater(t, row.minor(), 0.74*row.diameter, "%v", row.diameter)
			assert.Less(t, row.minor(), 0.93*row.diameter, "%v", row.diameter)
		}
	}
	for _, row := range coarse(true) {
		d, _, inch, err := Thread(inchName(row.diameter))
		require.NoError(t, err)
		assert.True(t, inch)
		assert.Equal(t, row.diameter, d)
	}
	for _, row := range isoHoles {
		assert.NotZero(t, Minor(row[0], false), "M%v", row[0])
	}
	for _, row := range inchHoles {
		assert.NotZero(t, Minor(row[0]*25.4, true), "%v in", row[0])
	}
}
