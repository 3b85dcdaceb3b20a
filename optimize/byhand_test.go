package optimize_test

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/optimize"
	"leastmove/testdata/trains"
	"leastmove/train"
	"leastmove/train/trainfile"
)

// A motor in rolling bearings and a turbine in plain ones; TURBINE and FOUND are filled in.
const plainBearings = `title = "journal shift by hand (invented)"
units = "mm"
[[machine]]
name = "motor"
height = 500
run = { v = 0, h = 0 }
growth = [{ v = 0, a = 0 }]
foot = [{ name = "a", x = 0, spread = 800 }, { name = "b", x = 1000, spread = 800 }]
[[machine]]
name = "turbine"
at = 1500
height = 610
TURBINE
[[coupling]]
name = "c"
from = "motor"
to = "turbine"
x = 1250
limit = { offset = 0.05, angle = 0.5 }
found = { v = { offset = FOUND_V, angle = 0 }, h = { offset = FOUND_H, angle = 0 } }
[[condition]]
name = "at rest"
growth = 0
run = 0
`

func filledIn(pairs ...string) string { return strings.NewReplacer(pairs...).Replace(plainBearings) }

// Journal shift by hand. A journal of 100 mm has 0.20 mm of diametral clearance (0.2 % of it: from memory), so that its
// centre may be 0.10 from that of the bearing. At rest it lies there, straight below. Running it is at an
// eccentricity of half of that, 0.05, on a line of centres 60° from straight below, to the side that the shaft turns
// to at the bottom (attitude: common practice, no source); clockwise looking along the train, that is left. From rest
// to running it rises:
//
//	v = 0.10 - 0.05 cos 60° = 0.075      h = 0.05 sin 60° = 0.0433
//
// which is within the circle of the clearance (Bloch & Geitner, Major Process Equipment Maintenance and Repair, pp.
// 249-250): sqrt(0.0433² + (0.075 - 0.10)²) = 0.05, at most 0.10, and shifts by sqrt(0.075² + 0.0433²) = 0.0866,
// under half of the clearance. So the turbine is to be 0.075 low and 0.043 to the right when it is read, cold and at
// rest.
func TestJournalShiftByHand(t *testing.T) {
	const feet = "foot = [{ name = \"a\", x = 0, spread = 900 }, { name = \"b\", x = 1400, spread = 900 }]\n" +
		"growth = [{ v = 0, a = 0 }]\nclearance = 0.2\n"
	rises, aside := 0.10-0.05*math.Cos(math.Pi/3), 0.05*math.Sin(math.Pi/3)
	assert.InDelta(t, 0.075, rises, 1e-12)
	text := filledIn("TURBINE", feet+"run = { v = 0.075, h = 0.0433 }", "FOUND_V", "-0.075", "FOUND_H", "-0.0433")
	tr, report := trainfile.Read("hand", []byte(text), trainfile.Options{})
	require.NotNil(t, tr, report.String())
	assert.Empty(t, report, "within the clearance")
	state := tr.Check(tr.Stay())
	running, rest := state.Couplings[0][0], state.Couplings[0][1]
	require.Equal(t, "running", tr.Conditions[0].Name)
	assert.InDelta(t, 0, running.V.Offset, 1e-9)
	assert.InDelta(t, 0, running.H.Offset, 1e-9)
	assert.InDelta(t, -rises, rest.V.Offset, 1e-9)
	assert.InDelta(t, -aside, rest.H.Offset, 1e-4)

	// Found in line at rest it is out of line when running, by the shift: 0.0866 of 0.05 is 1.732 of the limit.
	state = trains.Read(t, "in line", filledIn("TURBINE", feet+"run = { v = 0.075, h = 0.0433 }", "FOUND_V",
		"0", "FOUND_H",
		"0")).Check(tr.Stay())
	assert.InDelta(t, math.Hypot(rises, aside)/0.05, state.Couplings[0][0].Worst(), 1e-3)
	assert.InDelta(t, 0, state.Couplings[0][1].Worst(), 1e-9)

	// A shaft that were to go down by that has no room for it: a warning.
	_, report = trainfile.Read("down", []byte(filledIn("TURBINE", feet+"run = { v = -0.075, h = 0.0433 }", "FOUND_V", "0",
		"FOUND_H", "0")), trainfile.Options{})
	require.Len(t, report, 1)
	assert.Contains(t, report[0].Message, "it can't go there")
}

// Feet that slide, by hand. A steel casing is doweled at its front feet and warms by 50 °C; steel grows by 6.3e-6 per
// °F, 11.34e-6 per °C (McMillan, Rotating Machinery: Practical Solutions to Unbalance and Misalignment, 2004, p. 134,
// Table 8-3). That feet slide by that, from the fixed one, is common practice, no source.
//
//	along, 1400 mm behind the fixed feet:  11.34e-6 × 50 × 1400 = 0.7938
//	sideways, 450 mm from the centreline:  11.34e-6 × 50 × 450  = 0.25515
//	up, 610 mm from shims to shaft:        11.34e-6 × 50 × 610  = 0.34587
//
// Holes of 31 on bolts of 30 have 0.5 each way. A bolt that sits in the middle cold is 0.2938 past the edge hot; one
// that sits 0.35 further along in the hole has 0.15 left cold and 0.5 - |0.35 - 0.7938| = 0.0562 hot. Sideways
// 0.24485 are left.
func TestSlidesOfFeetByHand(t *testing.T) {
	const bolt = "spread = 900, shim = 4, bolt = 30, hole = 31"
	room := func(growth, at, rise string) (cold, hot float64, tr *train.Train) {
		feet := "run = { v = 0, h = 0 }\n" + growth + "\nfoot = [{ name = \"front\", x = 0, " + bolt + rise + " }, " +
			"{ name = \"exhaust\", x = 1400, " + bolt + at + rise + " }]"
		tr = trains.Read(t, "slides", filledIn("TURBINE", feet, "FOUND_V", "0", "FOUND_H", "0"))
		state := tr.Check(tr.Stay())
		cold, hot = optimize.HoleRoom(tr, 1, 2, state.Machines[1].Feet[2])
		return cold, hot, tr
	}
	const along = "growth = [{ x = 0, v = 0.346, a = 0 }, { x = 1400, v = 0.346, a = 0.7938 }]"
	cold, hot, tr := room(along, "", "")
	assert.InDelta(t, 0.5, cold, 1e-9)
	assert.InDelta(t, -0.2938, hot, 1e-9)
	state := tr.Check(tr.Stay())
	front, _ := optimize.HoleRoom(tr, 1, 0, state.Machines[1].Feet[0])
	assert.InDelta(t, 0.5, front, 1e-9, "the fixed feet do not slide")
	cold, hot, _ = room(along, ", bolt_at = [0.35, 0]", "")
	assert.InDelta(t, 0.15, cold, 1e-9)
	assert.InDelta(t, 0.0562, hot, 1e-9)
	_, hot, _ = room(along, ", bolt_at = [0.35, 0], free = 0.05", "")
	assert.InDelta(t, 0.0062, hot, 1e-9, "clearance that is to be left")

	cold, hot, tr = room("", "", ", rise = 50, material = \"steel\"")
	assert.InDelta(t, 0.5, cold, 1e-9)
	assert.InDelta(t, 0.5-0.25515, hot, 1e-9)
	state = tr.Check(tr.Stay())
	assert.InDelta(t, 0.34587, state.Couplings[0][0].V.Offset, 1e-6, "up")
}
