package cli

import (
	"bytes"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
	"github.com/stretchr/testify/require"
)

// grammar is what command lines are put together from: the commands and flags
// that there are, the words that flags offer, and values that fit some of them.
func grammar() []string {
	words := []string{
		"train.toml", "none.toml", "faulty.toml", "-", "out.txt", "new.txt", "new.svg", "old.svg", "folder",
		"folder/new.json", "link.toml", "/dev/full", "plan.json", "bands.toml",
		"", "0", "1", "-1", "0.5", "2", "99", "1e309", "NaN", "true", "1ms", "-5s", "a", "b", "c", "\x1b[31m", "--",
		"__complete", "help", "--help", "-h", strings.Repeat("x", 300),
	}
	every(newRoot(streams{}), func(c *cobra.Command) {
		words = append(words, c.Name())
		c.Flags().VisitAll(func(f *pflag.Flag) {
			words = append(words, "--"+f.Name)
			if f.Shorthand != "" {
				words = append(words, "-"+f.Shorthand)
			}
			if offers, is := c.GetFlagCompletionFunc(f.Name); is {
				names, _ := offers(c, nil, "")
				words = append(words, names...)
			}
		})
	})
	slices.Sort(words)
	return slices.Compact(words)
}

// small is a train of two machines that is planned in milliseconds.
const small = `title = "small (invented)"
units = "mm"
[[machine]]
name   = "a"
height = 300
hold   = true
[[machine]]
name   = "b"
at     = 800
height = 300
foot   = [{ name = "x", x = 0, spread = 400, shim = 1 }, { name = "y", x = 500, spread = 400, shim = 1, soft = 0.2 }]
[[coupling]]
name  = "c"
from  = "a"
to    = "b"
x     = 700
limit = { offset = 0.1, angle = 0.5 }
found = { v = { offset = 0.3, angle = 0.2 }, h = { offset = -0.2, angle = 0 } }
`

// plantBands are limits by speed that no train here needs.
const plantBands = "units = \"mm\"\n[[band]]\nup_to_rpm = 3600\noffset = 0.05\nangle = 0.3\n"

// mostPieces is how many pieces of memory a command may ask for: a count of its work that
// is the same on every machine. A report, the most of the seeds, asks for 116,000.
const mostPieces = 10e6

// filesIn are what is in a folder and below, by name.
func filesIn(t *testing.T, folder string) map[string]string {
	found := map[string]string{}
	require.NoError(t, filepath.WalkDir(folder, func(path string, d os.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		text, err := os.ReadFile(path)
		found[path] = string(text)
		return err
	}))
	return found
}

// Whatever the command line: no panic, an exit code that is documented and not
// that of a fault of the program, no word without a reason, no file touched where
// there is no result, the train that is read never, and nothing half written left behind. Each
// byte is a word of the grammar.
func FuzzCommandLine(f *testing.F) {
	words := grammar()
	require.Less(f, len(words), 256, "a byte must name every word")
	var plan, none bytes.Buffer
	require.Zero(f, Run([]string{"plan", "-", "--format", "json"}, strings.NewReader(small), &plan, &none))
	for _, line := range []string{
		"plan train.toml", "plan - --format json", "plan train.toml -o new.txt", "plan train.toml -o out.txt --use 0.5",
		"plan train.toml -o link.toml",
		"check train.toml --strict", "compare train.toml --chart new.svg --format csv",
		"compare train.toml --chart old.svg -o old.svg", "readings train.toml --format csv -o folder",
		"plan train.toml --strategy closest --hold b", "plan train.toml --work 1 --time-limit 1ms",
		"plan train.toml --relieve 99", "plan train.toml --use NaN", "plan faulty.toml -o out.txt",
		"plan none.toml", "schema plan -o new.txt", "help train-file", "completion bash", "verify plan.json train.toml",
		"verify plan.json - --format json -o new.txt", "sheet train.toml --plan plan.json",
		"report train.toml --bands bands.toml -o new.txt",
		"check train.toml --plan plan.json", "verify plan.json train.toml -o plan.json",
		"new --from train.toml -o bands.toml", "new --from train.toml --plan plan.json -o new.txt",
		"__complete plan train.toml --hold", "version 1", "plan -- train.toml train.toml", "plan --gap 1e309 train.toml",
		"check train.toml -o folder/new.json", "signs", "--help", "plan train.toml --help", "check train.toml -o /dev/full",
	} {
		var bytes []byte
		for _, word := range strings.Fields(line) {
			at, is := slices.BinarySearch(words, word)
			require.True(f, is, word)
			bytes = append(bytes, byte(at))
		}
		f.Add(bytes)
	}
	f.Fuzz(func(t *testing.T, picks []byte) {
		var args []string
		for _, p := range picks[:min(len(picks), 12)] {
			args = append(args, words[int(p)%len(words)])
		}
		t.Chdir(t.TempDir())
		for name, text := range map[string]string{"train.toml": small, "faulty.toml": small + "\nx = 1", "out.txt": "old",
			"old.svg": "old", "plan.json": plan.String(), "bands.toml": plantBands} {
			require.NoError(t, os.WriteFile(name, []byte(text), 0o666))
		}
		require.NoError(t, os.Mkdir("folder", 0o777))
		require.NoError(t, os.Symlink("train.toml", "link.toml"))
		before := filesIn(t, ".")
		var stdout, stderr bytes.Buffer
		var begun, done runtime.MemStats
		runtime.ReadMemStats(&begun)
		code := Run(args, strings.NewReader(small), &stdout, &stderr)
		runtime.ReadMemStats(&done)
		require.Less(t, done.Mallocs-begun.Mallocs, uint64(mostPieces), "%q: too much work", args)
		after := filesIn(t, ".")
		require.Contains(t, []int{exitDone, exitFault, exitInput, exitImpossible, exitUndecided}, code, "%q", args)
		require.NotContains(t, stderr.String(), "fault of the program", "%q", args)
		require.NotContains(t, stderr.String(), "\x1b", "%q", args)
		if code == exitFault {
			require.Contains(t, stderr.String(), "/dev/full", "%q: nothing else here is broken", args)
		}
		if code == exitFault || code == exitInput {
			require.Equal(t, before, after, "%q", args)
			require.Empty(t, stdout.String(), "%q", args)
			require.NotEmpty(t, stderr.String(), "%q", args)
		}
		if named(args, "train.toml", "link.toml") {
			require.Equal(t, small, after["train.toml"], "%q", args)
		}
		for name, text := range after {
			require.NotContains(t, name, ".leastmove-", "%q", args)
			require.NotEmpty(t, text, "%q %s", args, name)
		}
	})
}

// named says whether a command line names one of some files other than as the
// place of its result.
func named(args []string, files ...string) bool {
	for i, a := range args {
		if slices.Contains(files, a) && (i == 0 || !slices.Contains([]string{"-o", "--output", "--chart"}, args[i-1])) {
			return true
		}
	}
	return false
}
