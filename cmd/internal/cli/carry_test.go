package cli

import (
	"bytes"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/cmd/internal/planjson"
	"leastmove/testdata/trains"
	"leastmove/train"
	"leastmove/train/trainfile/tree"
)

// filled is a train file with a nought for all that is to be read, and without what need
// not be.
func filled(text string) string {
	var lines []string
	for line := range strings.Lines(text) {
		_, s, is := strings.Cut(line, tree.ToRead)
		key, _, _ := strings.Cut(s, " ")
		switch {
		case !is:
			lines = append(lines, line)
		case strings.HasSuffix(s, "below\n"), strings.Contains(s, "soft = "), key == "gap", key == "running":
		case strings.Contains(s, "{"):
			lines = append(lines, strings.NewReplacer(" = ,", " = 0.0,", " = }", " = 0.0}").Replace(s))
		case key == "v", key == "h":
			lines = append(lines, key+" = 0.0\n")
		default:
			lines = append(lines, s)
		}
	}
	return strings.Join(lines, "")
}

func done(t *testing.T, args ...string) (int, string) {
	t.Helper()
	var out, said bytes.Buffer
	code := Run(args, strings.NewReader(""), &out, &said)
	require.NotEqual(t, exitInput, code, said.String())
	require.NotEqual(t, exitFault, code, said.String())
	return code, out.String()
}

func readTrain(t *testing.T, name, text string) *train.Train {
	t.Helper()
	src, report := streams{}.parse(name, []byte(text), nil)
	require.NotNil(t, src.train, "%s\n%s", report.String(), text)
	return src.train
}

// From a plan to the file of the next visit: every foot of every example has what the
// plan's figures leave it, the pieces that the plan lists, and verify finds nothing that
// the plan used up and the file does not say.
func TestCarried(t *testing.T) {
	files, err := filepath.Glob("../../../examples/*/before.toml")
	require.NoError(t, err)
	pieces := filepath.Join(t.TempDir(), "pieces.toml")
	require.NoError(t, os.WriteFile(pieces, []byte(strings.ReplaceAll(small, "shim = 1", "pieces = [0.5, 0.5]")), 0o666))
	carriedOver := 0
	for _, file := range append(files, pieces) {
		if long := strings.Contains(file, "five-machines") || strings.Contains(file,
			"reverse-dials"); long && !trains.Everything() {
			continue
		}
		t.Run(strings.TrimPrefix(file, "../../../examples/"), func(t *testing.T) {
			plan, after := filepath.Join(t.TempDir(), "plan.json"), filepath.Join(t.TempDir(), "after.toml")
			if code, _ := done(t, "plan", file, "--format", "json", "-o", plan); code == exitImpossible {
				code := Run([]string{"new", "--from", file, "--plan", plan}, strings.NewReader(""), &bytes.Buffer{},
					&bytes.Buffer{})
				assert.Equal(t, exitInput, code, "there are no moves")
				return
			}
			_, text := done(t, "new", "--from", file, "--plan", plan)
			assert.Contains(t, text, "MEASURE IT, do not believe it")
			old, err := os.ReadFile(file)
			require.NoError(t, err)
			was, is := readTrain(t, file, string(old)), readTrain(t, file, filled(text))
			js, err := os.ReadFile(plan)
			require.NoError(t, err)
			p, faults := planjson.Read(js, planjson.Options{})
			require.Nil(t, faults)
			moves, faults := p.Moves(was)
			require.Nil(t, faults)
			state := was.Check(moves)
			for n := range p.Machines {
				for k := range p.Machines[n].Feet {
					f, old, now, went := &p.Machines[n].Feet[k], &was.Machines[n].Feet[k], &is.Machines[n].Feet[k],
						state.Machines[n].Feet[k]
					require.Equal(t, f.Name, now.Name)
					if !math.IsNaN(old.Pack) {
						then := p.PackChangeOf(f).Then
						assert.InDelta(t, then, now.Pack, 1e-6, f.Name)
					}
					if then, listed := p.ThenUnder(p.Machines[n].Name, f.Name); listed && old.Pieces != nil {
						carriedOver++
						assert.InDeltaSlice(t, then, now.Pieces, 1e-6, f.Name)
					}
					if old.Hole >= old.Bolt {
						assert.InDelta(t, old.BoltAt[0]-went.Axial, now.BoltAt[0], 0.0013, f.Name)
						assert.InDelta(t, old.BoltAt[1]-went.Left, now.BoltAt[1], 0.0013, f.Name)
						bolt, _ := p.UsedOf(f, "bolt")
						assert.InDelta(t, bolt, math.Hypot(now.BoltAt[0], now.BoltAt[1]), 0.002, "%s: as the plan has it", f.Name)
					}
				}
			}
			require.NoError(t, os.WriteFile(after, []byte(filled(text)), 0o666))
			_, out := done(t, "verify", plan, after, "--format", "json")
			var doc struct {
				Used  []string `json:"used_up"`
				Packs string   `json:"packs"`
			}
			require.NoError(t, json.Unmarshal([]byte(out), &doc))
			for _, used := range doc.Used { // no value of the file is said to be used up
				assert.Contains(t, used, "measure where each bolt sits")
			}
			assert.Equal(t, "now", doc.Packs)
		})
	}
	assert.Positive(t, carriedOver, "packs by their pieces")
}

// A plan that is not of this train, is no plan to make, or does more than there is room
// for is refused in words.
func TestNotCarried(t *testing.T) {
	t.Chdir(t.TempDir())
	for name, text := range map[string]string{
		"train.toml": small, "made.toml": strings.ReplaceAll(small, "shim = 1", "shim = 2"),
		"moved.toml":  strings.ReplaceAll(small, "x = 500", "x = 510"),
		"hand.json":   `{"units": "mm", "machines": [{"name": "b", "feet": [{"name": "x", "up": 0.1}]}]}`,
		"within.json": `{"schema": "leastmove.plan/1", "units": {"length": "mm", "move": "mm"}, "status": "within", "machines": []}`,
		"out.json":    `{"schema": "leastmove.plan/1", "units": {"length": "mm", "move": "mm"}, "status": "planned", "machines": [{"name": "b", "feet": [{"name": "x left", "up": -1.5}]}]}`,
	} {
		require.NoError(t, os.WriteFile(name, []byte(text), 0o666))
	}
	done(t, "plan", "train.toml", "--format", "json", "-o", "plan.json")
	done(t, "plan", "train.toml", "--plan", "plan.json", "--format", "json", "-o", "tried.json")
	code, _ := done(t, "new", "--from", "train.toml", "--plan", "tried.json")
	assert.Equal(t, exitDone, code, "moves that a person wrote, once the program went through them")
	for line, want := range map[string]string{
		"new --plan plan.json":                     "--plan goes with --from",
		"new --from train.toml --plan=":            "--plan is empty",
		"new --from - --plan -":                    "can't be the train file and the plan",
		"new --from train.toml --plan none.json":   "there is no file none.json",
		"new --from train.toml --plan train.toml":  "this is not JSON",
		"new --from train.toml --plan hand.json":   `the status of hand.json is "", and only moves of a plan with the status "planned"`,
		"new --from train.toml --plan within.json": `is "within"`,
		"new --from made.toml --plan plan.json":    `the plan was made from a pack of 1 mm under "b" "x left", the train file has 2`,
		"new --from moved.toml --plan plan.json":   `"b" "y left" stands at x = 500 mm in the plan, in the train file at 510 mm`,
		"new --from train.toml --plan out.json": "with the moves of out.json made the train file " +
			"could not be used",
		"new --from train.toml --plan plan.json -o plan.json": "plan.json is there already",
	} {
		var out, said bytes.Buffer
		code := Run(strings.Fields(line), strings.NewReader(""), &out, &said)
		assert.Equal(t, exitInput, code, line)
		assert.Empty(t, out.String(), line)
		assert.Contains(t, said.String(), want, line)
	}
}

// A plan made with an option that takes something off the feet counts as the program's own:
// what makes up for the cut goes into the pack beside the move.
func TestCarriedWithAnOption(t *testing.T) {
	t.Chdir(t.TempDir())
	low := strings.NewReplacer("foot   = [{ name = \"x\", x = 0, spread = 400, shim = 1 }",
		"foot   = [{ name = \"x\", x = 0, spread = 400, shim = 0.05 }",
		"{ name = \"y\", x = 500, spread = 400, shim = 1, soft = 0.2 }",
		"{ name = \"y\", x = 500, spread = 400, shim = 0.05 }").Replace(small)
	require.NotEqual(t, small, low)
	require.NoError(t, os.WriteFile("train.toml", []byte(low), 0o666))
	code, text := done(t, "plan", "train.toml", "--relieve", "1", "--format", "json")
	require.Equal(t, exitDone, code)
	require.Contains(t, text, `"cut": 0.`)
	require.NoError(t, os.WriteFile("plan.json", []byte(text), 0o666))
	code, after := done(t, "new", "--from", "train.toml", "--plan", "plan.json")
	assert.Equal(t, exitDone, code)
	assert.Contains(t, after, "# The moves of plan.json")
	var out, said bytes.Buffer
	Run([]string{"verify", "plan.json", "train.toml"}, strings.NewReader(""), &out, &said)
	assert.NotContains(t, said.String(), "changed by hand")
}
