package main

import (
	"encoding/csv"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/testdata/trains"
)

// The calculation by hand in README is redone from the moves that the program
// gives for its train, and must come to what the program says. README's moves
// are the motor's, at its own stations 0 and 560 mm; the coupling is at 760.
func TestReadmeByHand(t *testing.T) {
	_, section, ok := strings.Cut(readPage(t, manualFile("model")), "## The same by hand")
	require.True(t, ok)
	section, _, _ = strings.Cut(section, "\n## ")
	settle(t)
	out, code := run(t, "leastmove plan train.toml --format json")
	require.Zero(t, code)
	type tilt struct{ Offset, Angle float64 }
	var plan struct {
		Total    float64
		Machines []struct {
			Feet []struct{ Up, Left float64 }
		}
		Couplings []struct {
			States []struct{ Planned struct{ V, H tilt } }
		}
	}
	require.NoError(t, json.Unmarshal([]byte(out), &plan))
	feet := plan.Machines[0].Feet
	fan, drive := feet[0], feet[2]
	section = strings.Join(strings.Fields(section), " ")
	says := func(words string) { assert.True(t, strings.Contains(section, words), "it should say %q", words) }
	plane := func(at0, at560, foundOffset, foundAngle, growth float64, planned tilt) tilt {
		slope := (at560 - at0) / 0.560
		move := at0 + 0.760*slope
		offset, angle := foundOffset-growth-move, foundAngle-slope
		for _, v := range []float64{slope, move, offset, angle} {
			says(fmt.Sprintf("%.4f", v))
		}
		assert.InDelta(t, offset, planned.Offset, 0.001)
		assert.InDelta(t, angle, planned.Angle, 0.001)
		return tilt{offset, angle}
	}
	planned := plan.Couplings[0].States[0].Planned
	v := plane(fan.Up, drive.Up, 0.30, -0.40, 0.12, planned.V)
	h := plane(fan.Left, drive.Left, -0.45, 0.60, 0, planned.H)
	says(fmt.Sprintf("%.1f %%", 100*math.Hypot(v.Offset, h.Offset)/0.08))
	says(fmt.Sprintf("%.1f %%", 100*math.Hypot(v.Angle, h.Angle)/0.5))
	says(fmt.Sprintf("= %.2f mm", plan.Total))
}

// What README says of setting machine after machine is what compare says of its train: the least
// and the largest total of the cascades, each of which breaks a limit, beside the plan's.
func TestReadmeCascades(t *testing.T) {
	if !trains.Everything() {
		t.Skip("a comparison of five machines: LEASTMOVE_TESTS=all")
	}
	page := strings.Join(strings.Fields(readPage(t, readmeFile)), " ")
	said := regexp.MustCompile(`take ([0-9.]+) to ([0-9.]+) mm, and each breaks a limit; the plan takes ([0-9.]+) mm`).
		FindStringSubmatch(page)
	require.Len(t, said, 4)
	settle(t)
	out, code := run(t, "leastmove compare examples/five-machines/before.toml --format csv")
	require.Zero(t, code, out)
	var totals []float64
	rows, err := csv.NewReader(strings.NewReader(out[strings.Index(out, "kind,"):])).ReadAll()
	require.NoError(t, err)
	column := func(name string) int { return slices.Index(rows[0], name) }
	least := ""
	for _, row := range rows[1:] {
		switch {
		case row[column("kind")] == "cascade":
			total, err := strconv.ParseFloat(row[column("total (mm)")], 64)
			require.NoError(t, err)
			totals = append(totals, total)
			assert.Contains(t, row[column("why")], "breaks limits: ")
		case row[column("way")] == "least total":
			least = row[column("total (mm)")]
		}
	}
	require.Len(t, totals, 5)
	assert.Equal(t, said[1:], []string{fmt.Sprintf("%.2f", slices.Min(totals)), fmt.Sprintf("%.2f", slices.Max(totals)),
		least})
}

// The picture shows the moves of the plan in README.
func TestReadmePicture(t *testing.T) {
	picture, err := os.ReadFile("../../examples/train.svg")
	require.NoError(t, err)
	said := regexp.MustCompile(`(?:[+−]|left |right )\d+\.\d+`).FindAllString(string(picture), -1)
	settle(t)
	page, code := run(t, "leastmove plan train.toml")
	require.Zero(t, code)
	moves, _, ok := strings.Cut(page, "\nCouplings: ")
	require.True(t, ok)
	seen := map[string]bool{}
	for _, words := range said {
		shown := strings.NewReplacer("+", "raise ", "−", "remove ").Replace(words)
		assert.Contains(t, moves, shown, "the picture says %q, the plan does not", words)
		seen[shown] = true
	}
	for _, move := range regexp.MustCompile(`(?:raise|remove|left|right) [0-9.]+`).FindAllString(moves, -1) {
		assert.True(t, seen[move], "the picture has no %q", move)
	}
	assert.Len(t, seen, 6, "three feet raised and moved sideways")
}

// The manual's picture of which way is which is the one that its command draws.
func TestReadmeSigns(t *testing.T) {
	picture, err := os.ReadFile("../../examples/signs.svg")
	require.NoError(t, err)
	settle(t)
	_, code := run(t, "leastmove chart train.toml --figure signs -o signs.svg")
	require.Zero(t, code)
	drawn, err := os.ReadFile("signs.svg")
	require.NoError(t, err)
	assert.Equal(t, string(picture), string(drawn), "examples/pictures.sh makes it anew")
}

// What the manual says of an assured plan is what the program does: the command prints the row of the other plans.
func TestReadmeAssurance(t *testing.T) {
	_, said, ok := strings.Cut(readPage(t, manualFile("plan")), "## A chance that is asked for")
	require.True(t, ok)
	said, _, _ = strings.Cut(said, "\n## ")
	assert.Contains(t, said, "A chance of 0.95 is a row of the other plans on every page; the command prints that row.")
	settle(t)
	const train = "leastmove plan examples/turbine/before.toml"
	assert.Contains(t, said, train+" --assure 0.95")
	out, code := run(t, train)
	require.Zero(t, code, out)
	row := regexp.MustCompile(`(?m)^ +([0-9.]+) +([0-9]+ %) +([0-9.]+ %) .* --assure 0\.95$`).FindStringSubmatch(out)
	require.Len(t, row, 4, out)
	out, code = run(t, train+" --assure 0.95")
	require.Zero(t, code, out)
	page := strings.Join(strings.Fields(out), " ")
	assert.Contains(t, page, "total "+row[1]+" mm")
	assert.Contains(t, page, "ends at "+row[2]+" of its limit")
	assert.Contains(t, page, "CARRY OUT: "+row[3]+" chance of ending within all limits (95 % wanted)")
}
