package cli

import (
	"bytes"
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
	out["turbine with a chance"] = strings.Replace(out["turbine"], "\n[errors]", "\n[aim]\nchance = 0.9\n\n[errors]", 1)
	require.Contains(t, out["turbine with a chance"], "chance = 0.9")
	names := families.Names()
	for n := range trains.Draws(0, 8) {
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
		if name != "survey" && !trains.Everything() {
			continue // each row is planned anew
		}
		file := filepath.Join(t.TempDir(), name+".toml")
		require.NoError(t, os.WriteFile(file, []byte(text), 0o600))
		asked := planning{Options: view.Options{Strategy: view.LeastTotal}}
		a, err := asked.solve(t.Context(), trains.Read(t, name, text))
		require.NoError(t, err)
		for n, row := range a.Others.Rows {
			if n == 4 && !trains.Everything() {
				break
			}
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
	assert.Greater(t, rows, trains.Draws(2, 25))
}

// With an option the commands beside other plans have it too, and with a machine held no chance is promised that needs
// it moved. By hand: without the option, or with the machine free, they answer something else.
func TestRowsKeepOptionAndHold(t *testing.T) {
	file, options := "../../../examples/turbine/before.toml", []string{"1", "2"}
	if !trains.Everything() {
		file, options = "../../../examples/base-bound/before.toml", options[1:] // planned sooner
	}
	type printed struct {
		Total float64
		Plans []struct {
			Total   *float64
			Command string
			Highest *float64 `json:"highest_chance"`
		}
	}
	ask := func(args ...string) (out printed) {
		_, text, stderr := run(append([]string{"plan", "--format", "json"}, args...)...)
		require.NoError(t, json.Unmarshal([]byte(text), &out), "%v: %s", args, stderr)
		return out
	}
	plans := 0
	for _, option := range options {
		for _, p := range ask(file, "--hold", "gear", "--relieve", option).Plans {
			require.Contains(t, p.Command, "--relieve "+option)
			require.Contains(t, p.Command, "--hold gear")
			flags, is := strings.CutPrefix(p.Command, "leastmove plan FILE ")
			require.True(t, is)
			if p.Total == nil {
				continue
			}
			plans++
			assert.InDelta(t, *p.Total, ask(append([]string{file}, strings.Fields(flags)...)...).Total, 1e-9, p.Command)
		}
	}
	assert.GreaterOrEqual(t, plans, trains.Draws(4, 6))

	if !trains.Everything() {
		return // the rest plans a train that leaves little room
	}
	text, err := os.ReadFile(file)
	require.NoError(t, err)
	held := filepath.Join(t.TempDir(), "held.toml")
	require.NoError(t, os.WriteFile(held, []byte(strings.Replace(string(text), "angle = 0.45", "angle = 0.28", 1)), 0o600))
	none := 0
	for _, p := range ask(held, "--hold", "turbine").Plans {
		if p.Total == nil {
			none++
			assert.Contains(t, p.Command, "--hold turbine")
			assert.Nil(t, p.Highest, p.Command)
		}
	}
	assert.Positive(t, none)
}

// A chance that the file states is what --assure asks for, and what the verdict goes by; --use is in its place.
func TestChanceOfTheFile(t *testing.T) {
	text := rowFiles(t)["turbine with a chance"]
	file := filepath.Join(t.TempDir(), "train.toml")
	require.NoError(t, os.WriteFile(file, []byte(text), 0o600))
	var kept Kept
	total := func(args ...string) (sum float64, verdict string) {
		var out, stderr bytes.Buffer
		code := kept.Run(append([]string{"plan", "--format", "json"}, args...), strings.NewReader(""), &out, &stderr)
		require.Equal(t, exitDone, code, stderr.String())
		var doc struct {
			Total   float64
			Verdict struct {
				Verdict        string
				Wanted, Chance float64
			}
		}
		require.NoError(t, json.Unmarshal(out.Bytes(), &doc))
		return doc.Total, fmt.Sprint(doc.Verdict.Verdict, " ", doc.Verdict.Wanted)
	}
	sum, verdict := total(file)
	assured, _ := total(file, "--assure", "0.9")
	assert.InDelta(t, assured, sum, 1e-9)
	assert.Equal(t, "carry-out 0.9", verdict)
	by, verdict := total(file, "--use", "0.7")
	require.NoError(t, os.WriteFile(file, []byte(strings.Replace(text, "chance = 0.9\n", "", 1)), 0o600))
	least, _ := total(file)
	assert.InDelta(t, least, by, 1e-9)
	assert.Less(t, least, sum, "the chance costs movement")
	assert.Equal(t, "not-advised 0.9", verdict)
}
