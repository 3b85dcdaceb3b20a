package cli

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/testdata/trains"
)

// Runs that share what they found print what each prints by itself, and a file that was changed meanwhile is another
// train.
func TestKeptPrintsTheSame(t *testing.T) {
	name, was, is := "turbine", "angle = 0.45", "angle = 0.44"
	if !trains.Everything() {
		name, was, is = "survey", "angle = 0.5 }", "angle = 0.49 }" // planned sooner
	}
	text, err := os.ReadFile("../../../examples/" + name + "/before.toml")
	require.NoError(t, err)
	file := filepath.Join(t.TempDir(), "train.toml")
	var kept Kept
	print := func(format string) string {
		var out, errs bytes.Buffer
		require.Equal(t, exitDone, kept.Run([]string{"plan", file, "--format", format}, strings.NewReader(""), &out, &errs),
			errs.String())
		return out.String()
	}
	require.NoError(t, os.WriteFile(file, text, 0o600))
	print("text")
	first := print("json")
	require.Len(t, kept.trains, 1)
	_, alone, _ := run("plan", file, "--format", "json")
	assert.Equal(t, alone, first)

	require.NoError(t, os.WriteFile(file, bytes.Replace(text, []byte(was), []byte(is), 1), 0o600))
	assert.NotEqual(t, first, print("json"))
	assert.Len(t, kept.trains, 2)
}

// So do all commands that plan, one after the other on one train.
func TestKeptPrintsTheSameByEveryCommand(t *testing.T) {
	if !trains.Everything() {
		t.Skip("many plans: LEASTMOVE_TESTS=all")
	}
	for _, name := range []string{"turbine", "reverse-dials"} {
		file := "../../../examples/" + name + "/before.toml"
		var kept Kept
		for _, args := range [][]string{
			{"plan", file}, {"plan", file, "--format", "json"}, {"plan", file, "--use", "0.8", "--format", "json"},
			{"compare", file, "--format", "json"}, {"sheet", file, "--released", "--format", "md"}, {"report", file, "-o", "-"},
		} {
			var out, errs bytes.Buffer
			code := kept.Run(args, strings.NewReader(""), &out, &errs)
			alone, want, told := run(args...)
			require.Equal(t, exitDone, code, errs.String())
			assert.Equal(t, alone, code)
			assert.True(t, want == out.String(), args)
			assert.Equal(t, told, errs.String())
		}
	}
}
