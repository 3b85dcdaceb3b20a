package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// exampleWith is a file of an example with one thing otherwise.
func exampleWith(t *testing.T, file, was, is string) string {
	t.Helper()
	text, err := os.ReadFile("../../examples/" + file)
	require.NoError(t, err)
	require.Contains(t, string(text), was)
	path := filepath.Join(t.TempDir(), "train.toml")
	require.NoError(t, os.WriteFile(path, []byte(strings.Replace(string(text), was, is, 1)), 0o666))
	return path
}

// A dial that does not close is the first thing to do, whether limits are met by what it says or not.
func TestVerifyBeginsWithWhatToReadAgain(t *testing.T) {
	for _, c := range []struct {
		was, is string
		code    int // 4: met by what does not close; 3: not met
	}{{"6 = -0.27,", "6 = -0.10,", 3}, {"3 = 0.255,", "3 = -0.2,", 4}} {
		file := exampleWith(t, "turbine/after.toml", c.was, c.is)
		w := runOnce("verify", "../../examples/turbine/plan.json", file)
		assert.Equal(t, c.code, w.code, c.is)
		var answer struct {
			Met   bool
			Again []string `json:"read_again"`
		}
		as := runOnce("verify", "../../examples/turbine/plan.json", file, "--format", "json")
		require.NoError(t, json.Unmarshal([]byte(as.out), &answer))
		assert.Equal(t, c.code == 4, answer.Met, c.is)
		require.Len(t, answer.Again, 1, c.is)
		assert.Contains(t, answer.Again[0], "does not close its ring")
		text := strings.Join(strings.Fields(w.out), " ")
		_, first, _ := strings.Cut(text, "(invented example) ")
		assert.True(t, strings.HasPrefix(first, "READ AGAIN FIRST"), first[:80])
		_, todo, _ := strings.Cut(text, "What to do now -------------- ")
		assert.True(t, strings.HasPrefix(todo, "Read this again, put it into the train file and run verify again"), todo[:80])
		todo, _, _ = strings.Cut(todo, "Did the moves go as planned?")
		assert.Contains(t, todo, `- The rim dial on "compressor" at x = 3750 does not close its ring`)
	}
}

// The chance counts what was read as read: where a misread position would not show, it says so beside the chance.
func TestPlanSaysWhatNothingChecks(t *testing.T) {
	const says = "Nothing checks a dial at low speed, read at too few positions"
	file := exampleWith(t, "turbine/before.toml", "6 = -0.73, 9 = -0.835 }", "6 = -0.73 }")
	assert.Contains(t, strings.Join(strings.Fields(runOnce("plan", file).out), " "), says)
	assert.NotContains(t, runOnce("plan", "../../examples/turbine/before.toml").out, "Nothing checks")
}
