package main

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/bolts"
	"leastmove/testdata/families"
	"leastmove/testdata/trains"
	"leastmove/train"
	"leastmove/train/trainfile"
)

var offBy = regexp.MustCompile(`±([0-9.]+)`)

// tolerances are the numbers after ± in some cells, in the order of the sheet.
func tolerances(t *testing.T, cells []string) []float64 {
	var out []float64
	for _, c := range cells {
		for _, m := range offBy.FindAllStringSubmatch(c, -1) {
			v, err := strconv.ParseFloat(m[1], 64)
			require.NoError(t, err)
			out = append(out, v)
		}
	}
	return out
}

// What a sheet lets a coupling be off by at its end keeps every limit in every
// condition, in every combination of signs, by true geometry; a tenth and one printed step
// further does not, unless it is the most that is let be: 2 mil and 0.1 mrad. Where the limits leave less than a
// reading tells, the sheet says that the engineer decides; nothing is finer than a dial shows.
// (What dials may be off by follows from it: TestMarginsHold.)
func TestSheetAcceptanceIsSafe(t *testing.T) {
	files := []string{}
	for _, name := range plannedExamples()[:trains.Draws(1, 3)] {
		files = append(files, "../../examples/"+name+"/before.toml")
	}
	for _, family := range []string{"gear", "inch", "spacer", "two"} {
		for _, seed := range []uint64{941, 942}[:trains.Draws(1, 2)] {
			path := filepath.Join(t.TempDir(), fmt.Sprintf("%s-%d.toml", family, seed))
			require.NoError(t, os.WriteFile(path, []byte(families.TOML(family, seed)), 0o666))
			files = append(files, path)
		}
	}
	narrow, dials, said, engineers := 0, 0, 0, 0
	for _, file := range files {
		text, err := os.ReadFile(file)
		require.NoError(t, err)
		tr, report := trainfile.Read(file, text, trainfile.Options{ClearanceHole: bolts.ClearanceHole, Thread: bolts.Thread,
			Minor: bolts.Minor})
		require.NotNil(t, tr, report)
		w := runOnce("sheet", file, "--format", "md", "--released")
		if w.code != 0 {
			continue
		}
		_, last, found := strings.Cut(w.out, "## All stages done")
		if !found {
			continue
		}
		plan := planOf(t, file)
		moves := tr.Stay()
		for i, m := range plan.Machines {
			for f, foot := range m.Feet {
				u := tr.Units.Move()
				moves[i][f] = train.FootMove{Up: foot.Up * u, Left: foot.Left * u, Axial: foot.Axial * u}
			}
		}
		for _, line := range strings.Split(strings.ReplaceAll(last, `\`, ""), "\n") {
			line = strings.TrimPrefix(line, "| ")
			i := slices.IndexFunc(tr.Couplings, func(k train.Coupling) bool {
				return strings.HasPrefix(strings.TrimLeft(line, "*"), k.Name+": ")
			})
			if i < 0 {
				continue
			}
			cell, _, _ := strings.Cut(line, " |")
			tolerance := tolerances(t, []string{cell})
			require.NotEmpty(t, tolerance, line)
			said++
			u, step, most := tr.Units.Move(), 0.01, 0.05
			if tr.Units == train.Inches {
				step, most = 0.1, 2
			}
			dial := []float64{0.01, 0.5}[tr.Units]
			assert.GreaterOrEqual(t, tolerance[0], dial, "no finer than a dial shows: %s", line)
			decides := strings.Contains(cell, " *")
			if decides {
				engineers++
				assert.Contains(t, last, "the engineer decides on these readings")
			}
			if len(tolerance) == 1 { // of instruments
				dials++
				assert.LessOrEqual(t, tolerance[0], most)
				continue
			}
			require.Len(t, tolerance, 2, line)
			o, a := tolerance[0]*u, tolerance[1]
			assert.GreaterOrEqual(t, a, 0.01)
			if decides {
				assert.Greater(t, worstOff(tr, moves, i, 1.1*o+step*u, 1.1*a+0.01), 1.0, "%s: %s", file, line)
				continue
			}
			assert.LessOrEqual(t, tolerance[0], most)
			assert.LessOrEqual(t, a, 0.1)
			assert.LessOrEqual(t, worstOff(tr, moves, i, o, a), 1.0, "%s: %s", file, line)
			if tolerance[0] < most-step {
				narrow++
				assert.Greater(t, worstOff(tr, moves, i, 1.1*o+step*u, 1.1*a+0.01), 1.0, "%s: %s", file, line)
			}
		}
	}
	t.Logf("%d said, %d narrow, %d by dials, %d by the engineer", said, narrow, dials, engineers)
	assert.Greater(t, said, trains.Draws(5, 15))
	assert.Greater(t, narrow+engineers, trains.Draws(4, 10))
	assert.Greater(t, narrow, 0)
	assert.Greater(t, engineers, 0)
}

// worstOff is the most that coupling i uses of its limits once the moves are made
// and it reads off by an offset in mm and an angle in mrad, in any combination of
// signs.
func worstOff(tr *train.Train, moves train.Moves, i int, offset, angle float64) float64 {
	var worst float64
	for signs := range 16 {
		sign := func(bit int) float64 { return float64(1 - 2*(signs>>bit&1)) }
		off := *tr
		off.Couplings = slices.Clone(tr.Couplings)
		f := &off.Couplings[i].Found
		f.V.Offset += sign(0) * offset
		f.V.Angle += sign(1) * angle
		f.H.Offset += sign(2) * offset
		f.H.Angle += sign(3) * angle
		state := off.Check(moves)
		for k := range state.Couplings[i] {
			worst = math.Max(worst, state.Couplings[i][k].Worst())
		}
	}
	return worst
}
