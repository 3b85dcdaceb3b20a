package cli

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/testdata/trains"
)

// counted is a context that is cancelled when it has been asked so many times whether it
// is: an interrupt after so much work, on any machine.
type counted struct {
	mu   sync.Mutex
	left int // questions
	done chan struct{}
}

func (c *counted) Deadline() (time.Time, bool) { return time.Time{}, false }
func (c *counted) Value(any) any               { return nil }
func (c *counted) Done() <-chan struct{}       { return c.done }

func (c *counted) Err() error {
	c.mu.Lock()
	defer c.mu.Unlock()
	if c.left == 0 {
		return context.Canceled
	}
	if c.left--; c.left == 0 {
		close(c.done)
		return context.Canceled
	}
	return nil
}

// cutOff runs the program, which is interrupted when its work has asked so many times, 0: at
// once.
func cutOff(t *testing.T, after int, args ...string) (code int, out, err string) {
	t.Helper()
	var stdout, stderr bytes.Buffer
	s := streams{in: strings.NewReader(""), out: &stdout, err: &stderr}
	s.context = func() (context.Context, context.CancelFunc) {
		c := &counted{left: after, done: make(chan struct{})}
		if after == 0 {
			close(c.done)
		}
		return c, func() {}
	}
	code = s.command(args)
	return code, stdout.String(), stderr.String()
}

const (
	cutWithResult = "leastmove: interrupted: the result is what was known by then\n"
	stays         = "interrupted before there was a plan or a proof"
	cutWithout    = "interrupted, nothing was written"
)

// Every command that searches ends with 130, and what says that the result is what was
// known by then has written one.
func TestInterruptedAtOnce(t *testing.T) {
	folder := t.TempDir()
	plan := filepath.Join(folder, "plan.json")
	code, _, stderr := run("plan", trainFile, "--format", "json", "-o", plan)
	require.Equal(t, exitDone, code, stderr)
	figure := filepath.Join(folder, "figure.svg")
	for _, c := range []struct {
		args   []string
		writes string // in the result; "": there is none
	}{
		{[]string{"plan", trainFile}, "the search was interrupted"},
		{[]string{"plan", trainFile, "--format", "json"}, `"status": "undecided"`},
		{[]string{"plan", trainFile, "--plan", plan}, "limit"},
		{[]string{"report", trainFile}, "the search was interrupted"},
		{[]string{"compare", trainFile}, "Ways to move the train"},
		{[]string{"verify", plan, trainFile}, "limit"},
		{[]string{"sheet", trainFile}, ""},
		{[]string{"chart", trainFile, "--figure", "moves", "-o", figure}, ""},
		{[]string{"chart", trainFile, "--figure", "tradeoff", "-o", figure}, ""},
	} {
		code, out, stderr := cutOff(t, 0, c.args...)
		assert.Equal(t, exitInterrupted, code, c.args)
		if c.writes == "" {
			assert.Empty(t, out, c.args)
			assert.NoFileExists(t, figure, c.args)
			assert.Contains(t, stderr, cutWithout, c.args)
			assert.NotContains(t, stderr, "the result is", c.args)
			continue
		}
		assert.Contains(t, out, c.writes, c.args)
		assert.True(t, strings.HasSuffix(stderr, cutWithResult), "%s: %s", c.args, stderr)
	}
}

// A page without a plan or a proof never goes over what an earlier run wrote; it does go
// where nothing is, and what was found by then goes over it too.
func TestInterruptedKeepsOlderResult(t *testing.T) {
	folder := t.TempDir()
	for _, c := range []struct{ name, command string }{
		{"plan.txt", "plan"}, {"report.html", "report"}, {"ways.txt", "compare"},
	} {
		path := filepath.Join(folder, c.name)
		code, _, stderr := cutOff(t, 0, c.command, trainFile, "-o", path)
		assert.Equal(t, exitInterrupted, code, c.command)
		assert.True(t, strings.HasSuffix(stderr, cutWithResult), stderr)
		assert.FileExists(t, path, "there was none")

		require.NoError(t, os.WriteFile(path, []byte("older"), 0o666))
		code, out, stderr := cutOff(t, 0, c.command, trainFile, "-o", path)
		assert.Equal(t, exitInterrupted, code, c.command)
		assert.Empty(t, out)
		assert.Contains(t, stderr, stays+": "+path+" stays as it was", c.command)
		text, err := os.ReadFile(path)
		require.NoError(t, err)
		assert.Equal(t, "older", string(text), c.command)
	}

	figure := filepath.Join(folder, "trade.svg")
	require.NoError(t, os.WriteFile(figure, []byte("older"), 0o666))
	code, out, stderr := cutOff(t, 0, "compare", trainFile, "--chart", figure)
	assert.Equal(t, exitInterrupted, code)
	assert.Contains(t, out, "Ways to move the train", "the page replaces nothing")
	assert.Contains(t, stderr, figure+" stays as it was")
	text, err := os.ReadFile(figure)
	require.NoError(t, err)
	assert.Equal(t, "older", string(text))
}

// Once a plan is there it is written over an older result, interrupted or not, and a
// command that is asked to stop later finds no less.
func TestInterruptedWithPlan(t *testing.T) {
	path := filepath.Join(t.TempDir(), "plan.json")
	planned := 0
	for _, after := range []int{1, 3, 10, 30, 100, 300} {
		require.NoError(t, os.WriteFile(path, []byte("older"), 0o666))
		code, _, stderr := cutOff(t, after, "plan", trainFile, "--format", "json", "-o", path)
		text, err := os.ReadFile(path)
		require.NoError(t, err)
		switch {
		case code == exitDone:
			assert.Contains(t, string(text), `"status": "planned"`)
		case string(text) == "older":
			assert.Contains(t, stderr, stays)
			assert.Zero(t, planned, "less was found after %d questions than before", after)
		default:
			planned++
			assert.Equal(t, exitInterrupted, code)
			assert.Contains(t, string(text), `"status": "planned"`)
			assert.Contains(t, string(text), "the search was interrupted")
			assert.True(t, strings.HasSuffix(stderr, cutWithResult), stderr)
		}
	}
	assert.Positive(t, planned, "one of them is cut between a plan and its end")
}

// Wherever a command is cut it ends with 130 or as it would have, and it says what it did: a result was written, or
// none, or the older one stays. What goes over an older result has a plan, or a proof that there is none.
func TestInterruptedAnywhere(t *testing.T) {
	folder := t.TempDir()
	const none = "../../../optimize/ways/testdata/edge.toml" // no plan, and an option
	cuts := []int{0, 2, 40}
	if trains.Everything() {
		cuts = append(cuts, 5, 15, 120, 400, 1200)
	}
	seen := map[string]int{}
	for _, c := range []struct {
		file string
		args []string
		ends int // where it is not cut
	}{
		{trainFile, []string{"plan", "--full"}, exitDone},
		{none, []string{"plan", "--widen"}, exitImpossible},
		{none, []string{"plan", "--widen", "--relieve", "1"}, exitDone},
		{trainFile, []string{"plan", "--strategy", "fewest-machines", "--format", "json"}, exitDone},
		{trainFile, []string{"compare", "--work", "20"}, exitDone},
		{none, []string{"report", "--widen", "--relieve", "1"}, exitDone},
		{trainFile, []string{"report", "--work", "20"}, exitDone},
		{trainFile, []string{"sheet", "--format", "md"}, exitDone},
		{none, []string{"sheet", "--format", "md", "--widen", "--relieve", "1"}, exitDone},
		{trainFile, []string{"chart", "--figure", "moves"}, exitDone},
		{trainFile, []string{"chart", "--figure", "tradeoff"}, exitDone},
	} {
		for _, after := range cuts {
			path := filepath.Join(folder, "result")
			if c.args[0] == "chart" {
				path += ".svg"
			}
			require.NoError(t, os.WriteFile(path, []byte("older"), 0o666))
			args := append([]string{c.args[0], c.file, "-o", path}, c.args[1:]...)
			code, out, stderr := cutOff(t, after, args...)
			assert.Empty(t, out, args)
			text, err := os.ReadFile(path)
			require.NoError(t, err)
			written := string(text) != "older"
			switch {
			case code != exitInterrupted:
				assert.Equal(t, c.ends, code, "%v after %d: %s", args, after, stderr)
				seen["done"]++
			case strings.HasSuffix(stderr, cutWithResult):
				assert.True(t, written, "%v after %d: there is no result", args, after)
				assert.NotContains(t, string(text), "Undecided: no plan was found", "%v after %d", args, after)
				assert.NotContains(t, string(text), `"status": "undecided"`, "%v after %d", args, after)
				seen["written"]++
			case strings.Contains(stderr, stays):
				assert.False(t, written, "%v after %d", args, after)
				seen["stays"]++
			default:
				assert.Contains(t, stderr, cutWithout, "%v after %d", args, after)
				assert.False(t, written, "%v after %d", args, after)
				seen["nothing"]++
			}
		}
	}
	for _, what := range []string{"written", "stays", "nothing"} {
		assert.Positive(t, seen[what], "%s: %v", what, seen)
	}
}
