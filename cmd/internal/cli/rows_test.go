package cli

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/cmd/internal/view"
	"leastmove/testdata/families"
	"leastmove/testdata/trains"
	"leastmove/train"
)

// rowFiles are the train files of which rows are held against their commands.
func rowFiles(t *testing.T) map[string]string {
	out := map[string]string{}
	for _, name := range []string{"turbine", "survey"} {
		text, err := os.ReadFile("../../../examples/" + name + "/before.toml")
		require.NoError(t, err)
		out[name] = string(text)
	}
	names := families.Names()
	for n := range trains.Draws(3, 12) {
		family := names[n%len(names)]
		if family != "twelve" {
			seed := uint64(1000 + n)
			out[fmt.Sprintf("%s-%d", family, seed)] = families.TOML(family, seed)
		}
	}
	return out
}

// A printedPlan is what these tests read of a plan as JSON.
type printedPlan struct {
	Units        struct{ Move string }
	Total, Plain float64
	Moved        int
	Use          struct{ Aim, Reached float64 }
	Chance       *struct{ Within float64 }
	Machines     []struct{ Feet []struct{ Up, Left float64 } }
}

// Every row of the other plans is what the command beside it prints.
func TestRowsAreWhatTheirCommandsPrint(t *testing.T) {
	rows := 0
	for name, text := range rowFiles(t) {
		file := filepath.Join(t.TempDir(), name+".toml")
		require.NoError(t, os.WriteFile(file, []byte(text), 0o600))
		a, err := view.Ask(t.Context(), trains.Read(t, name, text), view.Options{}, 0, 0)
		require.NoError(t, err)
		for _, row := range a.Others.Rows {
			args := append([]string{"plan", file, "--format", "json"}, row.Flags...)
			code, out, _ := run(args...)
			what := name + " " + strings.Join(row.Flags, " ")
			if !row.Found {
				if row.None && code == exitDone { // the plan that misses the aim by least
					var doc printedPlan
					require.NoError(t, json.Unmarshal([]byte(out), &doc), what)
					assert.Greater(t, doc.Use.Reached, doc.Use.Aim, "%s: none is proven", what)
				}
				continue
			}
			rows++
			assert.Equal(t, exitDone, code, what)
			var doc printedPlan
			require.NoError(t, json.Unmarshal([]byte(out), &doc), what)
			unit := 1.0 // mm
			if doc.Units.Move == "mil" {
				unit = train.Mil
			}
			assert.InDelta(t, row.Total, doc.Total*unit, 1e-3, what)
			assert.InDelta(t, row.Plain, doc.Plain*unit, 1e-3, what)
			assert.InDelta(t, row.Share, doc.Use.Reached, 1e-3, what)
			assert.Equal(t, len(row.Machines), doc.Moved, what)
			if !math.IsNaN(row.Chance) {
				require.NotNil(t, doc.Chance, what)
				assert.InDelta(t, row.Chance, doc.Chance.Within, 1e-4, what)
			}
			for i, feet := range row.Moves {
				for f, move := range feet {
					foot := doc.Machines[i].Feet[f]
					assert.InDelta(t, move.Up, foot.Up*unit, 1e-3, what)
					assert.InDelta(t, move.Left, foot.Left*unit, 1e-3, what)
				}
			}
		}
	}
	assert.Greater(t, rows, 15)
}
