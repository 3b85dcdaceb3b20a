package cli

import (
	"bytes"
	"errors"
	"io"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"runtime"
	"runtime/debug"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/cmd/internal/view"
	"leastmove/optimize"
	"leastmove/optimize/bnb"
	"leastmove/train"
)

const trainFile = "../pages/testdata/mm.toml"

// run runs the program and gives its exit code and what it wrote.
func run(args ...string) (code int, out, err string) {
	var stdout, stderr bytes.Buffer
	code = Run(args, strings.NewReader(""), &stdout, &stderr)
	return code, stdout.String(), stderr.String()
}

// full is a place that takes nothing, as a full disk or a closed pipe.
type full struct{}

func (full) Write([]byte) (int, error) { return 0, errors.New("no space left") }

func TestResultThatCannotBeWritten(t *testing.T) {
	var stderr bytes.Buffer
	code := Run([]string{"check", trainFile}, strings.NewReader(""), full{}, &stderr)
	assert.Equal(t, exitFault, code)
	assert.Contains(t, stderr.String(), "the result could not be written: no space left")
}

// fallen is an input that panics, as a fault of the program would.
type fallen struct{}

func (fallen) Read([]byte) (int, error) { panic("fell over") }

func TestFaultOfTheProgram(t *testing.T) {
	var stdout, stderr bytes.Buffer
	assert.Equal(t, exitFault, Run([]string{"check", "-"}, fallen{}, &stdout, &stderr))
	assert.Empty(t, stdout.String())
	assert.Contains(t, stderr.String(), "fault of the program, please report it with the train file: fell over")
}

// endless is an input that never ends.
type endless struct{}

func (endless) Read(p []byte) (int, error) {
	for i := range p {
		p[i] = '#'
	}
	return len(p), nil
}

func TestInputThatNeverEnds(t *testing.T) {
	var stdout, stderr bytes.Buffer
	assert.Equal(t, exitInput, Run([]string{"check", "-"}, endless{}, &stdout, &stderr))
	assert.Contains(t, stderr.String(), "larger than 16 MiB")
}

func TestEndings(t *testing.T) {
	for status, want := range map[optimize.Status]int{
		optimize.Impossible: exitImpossible, optimize.Undecided: exitUndecided, optimize.Unsolved: exitFault,
	} {
		var e *ending
		require.ErrorAs(t, ended(&view.Plan{Result: optimize.Result{Status: status}}), &e, "%s", status)
		assert.Equal(t, want, e.code, "%s", status)
		assert.Equal(t, want, codeOf(&view.Plan{Result: optimize.Result{Status: status}}))
	}
	for _, status := range []optimize.Status{optimize.Planned, optimize.Within} {
		assert.NoError(t, ended(&view.Plan{Result: optimize.Result{Status: status}}))
		assert.NoError(t, ended(&view.Plan{Result: optimize.Result{Status: status,
			ChanceConstraint: &optimize.ChanceConstraint{Reached: true}}}))
		var e *ending
		require.ErrorAs(t, ended(&view.Plan{Result: optimize.Result{Status: status,
			ChanceConstraint: &optimize.ChanceConstraint{}}}), &e)
		assert.Equal(t, exitUndecided, e.code, "a chance that was not reached")
		require.ErrorAs(t, ended(&view.Plan{Result: optimize.Result{Status: status,
			ChanceConstraint: &optimize.ChanceConstraint{None: true}}}), &e)
		assert.Equal(t, exitImpossible, e.code, "none has it")
	}
}

// A file that is replaced keeps its permissions, and nothing is left beside it.
func TestReplaceKeepsPermissions(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("left out: Windows has no such permissions")
	}
	folder := t.TempDir()
	path := filepath.Join(folder, "plan.txt")
	require.NoError(t, os.WriteFile(path, []byte("old"), 0o640))
	require.NoError(t, os.Chmod(path, 0o640))
	code, out, _ := run("check", trainFile, "-o", path)
	require.Equal(t, exitDone, code)
	assert.Empty(t, out)
	info, err := os.Stat(path)
	require.NoError(t, err)
	assert.Equal(t, fs.FileMode(0o640), info.Mode().Perm())
	text, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.Contains(t, string(text), "Feet as found")
	files, err := os.ReadDir(folder)
	require.NoError(t, err)
	assert.Len(t, files, 1)
}

// Where the rename fails the old file stays and nothing is left beside it: here
// a folder that is not empty took the file's place after it was looked at.
func TestWholeOrNotAtAll(t *testing.T) {
	folder := t.TempDir()
	path := filepath.Join(folder, "plan.txt")
	require.NoError(t, os.MkdirAll(filepath.Join(path, "in the way"), 0o777))
	err := output{path: path}.write(streams{}, []byte("new"))
	var e *ending
	require.ErrorAs(t, err, &e)
	assert.Equal(t, exitFault, e.code)
	files, err := os.ReadDir(folder)
	require.NoError(t, err)
	assert.Len(t, files, 1)
}

// The standard input may be the train file too.
func TestNotOverTheStandardInput(t *testing.T) {
	path := filepath.Join(t.TempDir(), "train.toml")
	text, err := os.ReadFile(trainFile)
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(path, text, 0o666))
	in, err := os.Open(path)
	require.NoError(t, err)
	defer in.Close()
	var stderr bytes.Buffer
	assert.Equal(t, exitInput, Run([]string{"check", "-", "-o", path}, in, io.Discard, &stderr))
	assert.Contains(t, stderr.String(), "is the train file itself")
	after, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.Equal(t, text, after)
}

func TestNearest(t *testing.T) {
	names := []string{"plan", "check", "version", "completion"}
	for word, want := range map[string]string{
		"plna": "plan", "PLAN": "plan", "chek": "check", "comp": "completion", "vresion": "version", "something": "", "": "",
	} {
		assert.Equal(t, want, nearest(word, names), word)
	}
}

func TestBuild(t *testing.T) {
	info := &debug.BuildInfo{Main: debug.Module{Version: "v1.2.3"}, Settings: []debug.BuildSetting{
		{Key: "vcs.revision", Value: "abc123"}, {Key: "vcs.modified", Value: "true"},
		{Key: "vcs.time", Value: "2026-02-03T04:05:06Z"},
	}}
	assert.True(t, strings.HasPrefix(build(info), "leastmove v1.2.3 (commit abc123 of 2026-02-03T04:05:06Z, "+
		"modified), go"), build(info))
	assert.True(t, strings.HasPrefix(build(nil), "leastmove (unknown), go"), build(nil))
}

func TestGoing(t *testing.T) {
	assert.Equal(t, "looking for a plan, 7 bounds worked out",
		going(bnb.Progress{Value: math.Inf(1), Bound: 2, Solves: 7}, train.Millimetres))
	assert.Equal(t, "best plan 5.00 mm, none below 4.90, gap 2.00 %",
		going(bnb.Progress{Value: 5, Bound: 4.9, Solves: 9}, train.Millimetres))
	assert.Equal(t, "best plan 10.00 mil, none below 5.00, gap 50.00 %", going(bnb.Progress{Value: 0.254, Bound: 0.127},
		train.Inches), "1 mil is 0.0254 mm")
	assert.Equal(t, "best plan uses 80.0 % of the limits, none less than 75.0 %",
		going(bnb.Progress{LeastUse: true, Value: 0.8, Bound: 0.75}, train.Millimetres))
}

// A flag that a shell's empty variable left without a value is no flag left out, and a
// name with a line break would be taken for a line of the program's own.
func TestFlagsThatSayNothing(t *testing.T) {
	for _, c := range []struct {
		args []string
		says string
	}{
		{[]string{"plan", "train.toml", "--plan", ""}, "--plan is empty"},
		{[]string{"check", "train.toml", "--bands="}, "--bands is empty"},
		{[]string{"check", "a\nleastmove: all is well"}, `"a\nleastmove: all is well" holds a line break`},
		{[]string{"check", "train.toml", "-o", "a\nb"}, `"a\nb" holds a line break`},
	} {
		code, out, stderr := run(c.args...)
		assert.Equal(t, exitInput, code, c.args)
		assert.Empty(t, out)
		assert.Contains(t, stderr, c.says)
	}
	assert.Equal(t, "a\ufffdb\ufffd\ufffd.toml", shown("folder/a\x1bb\u202e\xff.toml"))
}

// Two paths that end in one folder are one place, whether there is a file yet or not.
func TestOnePlaceByTwoWays(t *testing.T) {
	t.Chdir(t.TempDir())
	require.NoError(t, os.Mkdir("d", 0o777))
	require.NoError(t, os.Symlink("d", "link"))
	assert.True(t, same("d/x.svg", "link/x.svg"))
	assert.True(t, same("./x.svg", "x.svg"))
	assert.False(t, same("d/x.svg", "x.svg"))
	assert.False(t, same("d/x.svg", "d/y.svg"))
}

// What is not there is told with the nearest name of its kind.
func TestNearestFileOfItsKind(t *testing.T) {
	t.Chdir(t.TempDir())
	require.NoError(t, os.WriteFile("train.toml", []byte(small), 0o666))
	require.NoError(t, os.WriteFile("plan.json", []byte("{}"), 0o666))
	_, _, stderr := run("plan", "train.toml", "--plan", "plann.json")
	assert.Contains(t, stderr, "there is no file plann.json\n  did you mean plan.json?")
	_, _, stderr = run("check", "trian.toml")
	assert.Contains(t, stderr, "did you mean train.toml?")
}
