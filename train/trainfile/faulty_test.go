package trainfile

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/bolts"
	"leastmove/testdata/families"
)

var update = flag.Bool("update", false, "write the golden files")

// options are those of the command line.
var options = Options{ClearanceHole: bolts.ClearanceHole, Thread: bolts.Thread, Minor: bolts.Minor}

// Each file of testdata/faulty says in its first line what is wrong with it;
// beside it stands what is printed.
func TestFaultyFiles(t *testing.T) {
	files, err := filepath.Glob("../../testdata/faulty/*.toml")
	require.NoError(t, err)
	require.NotEmpty(t, files)
	for _, file := range files {
		name := filepath.Base(file)
		t.Run(strings.TrimSuffix(name, ".toml"), func(t *testing.T) {
			src, err := os.ReadFile(file)
			require.NoError(t, err)
			got, report := Read(name, src, options)
			assert.Equal(t, report.Failed(), got == nil)
			want := strings.TrimSuffix(file, ".toml") + ".want"
			if *update {
				require.NoError(t, os.WriteFile(want, []byte(report.String()), 0o644))
			}
			text, err := os.ReadFile(want)
			require.NoError(t, err)
			assert.Equal(t, string(text), report.String())
		})
	}
}

// The files that people are to run as they are have no error.
func TestExamplesAreSound(t *testing.T) {
	files, err := filepath.Glob("../../examples/*/before.toml")
	require.NoError(t, err)
	for _, file := range files {
		src, err := os.ReadFile(file)
		require.NoError(t, err)
		got, report := Read(file, src, options)
		assert.NotNil(t, got, report.String())
	}
}

// Trains as they are drawn and given as examples stand near their couplings: the
// doubt is for slips.
func TestUsualTrainsAreNotFar(t *testing.T) {
	near := func(name string, src []byte) {
		_, report := Read(name, src, options)
		assert.NotContains(t, report.String(), "the nearest foot of", name)
	}
	files, err := filepath.Glob("../../examples/*/before.toml")
	require.NoError(t, err)
	require.NotEmpty(t, files)
	for _, file := range files {
		src, err := os.ReadFile(file)
		require.NoError(t, err)
		near(file, src)
	}
	for _, family := range families.Names() {
		for seed := range uint64(15) {
			near(fmt.Sprint(family, " ", seed), []byte(families.TOML(family, seed)))
		}
	}
}

// A file of another kind altogether is refused with a bounded number of
// faults, and each is printed on a short line whatever the length of its own.
func TestManyFaults(t *testing.T) {
	var keys strings.Builder
	for i := range 5000 {
		fmt.Fprintf(&keys, "k%d = 1, ", i)
	}
	_, report := Read("many.toml", []byte("aim = { "+keys.String()+" }\n"), options)
	require.Equal(t, mostFaults+1, len(report))
	assert.Contains(t, report[mostFaults].Message, "the others are not shown")
	assert.Equal(t, 2, report[mostFaults].Line, "at the end of the file")
	for _, line := range strings.Split(report.String(), "\n") {
		require.Less(t, len(line), 200)
	}
	// Any of the keys will do: its caret stands under its first letter.
	carets := strings.Split(report[10].String(), "\n")
	at := strings.Index(carets[3], "^")
	assert.True(t, strings.HasPrefix(carets[2][at:], "k"), "the caret is under the key: %q", carets[2])
}

// Warnings, however many, do not make an error.
func TestManyWarnings(t *testing.T) {
	machines, couplings := strings.Builder{}, strings.Builder{}
	const each = mostNozzles
	for i := range 2 * mostFaults / each {
		fmt.Fprintf(&machines, "[[machine]]\nname = \"m%[1]d\"\nat = %[1]d000\nheight = 500\n[[machine.foot]]\nname = "+
			"\"a\"\nx = 0\nspread = 400\n[[machine.foot]]\nname = \"b\"\nx = 600\nspread = 400\n", i+1)
		for n := range each {
			fmt.Fprintf(&machines, "[[machine.nozzle]]\nname = \"%d\"\nx = 0\nz = 0\n", n)
		}
		if i > 0 {
			fmt.Fprintf(&couplings, "[[coupling]]\nname = \"c%[1]d\"\nfrom = \"m%[1]d\"\nto = \"m%[2]d\"\nx = "+
				"%[1]d800\nlimit = { offset = 0.1, angle = 0.5 }\nfound = { v = { offset = 0, angle = 0 }, h = { offset = 0, "+
				"angle = 0 } }\n", i, i+1)
		}
	}
	text := "title = \"many (invented)\"\nunits = \"mm\"\n" + machines.String() + couplings.String()
	got, report := Read("many.toml", []byte(text), options)
	assert.NotNil(t, got)
	assert.Equal(t, mostFaults+1, report.Count(Warning))
	assert.Zero(t, report.Count(Error))
}

// A fit that the options know no table for is a fault, not a silence.
func TestFitWithoutTable(t *testing.T) {
	text := strings.Replace(sound(t), "hole   = 22", `fit = "medium"`, 1)
	got, report := Read("fit.toml", []byte(text), Options{})
	assert.Nil(t, got)
	require.Len(t, report, 1)
	assert.Equal(t, 29, report[0].Line)

	got, report = Read("fit.toml", []byte(text), options)
	require.NotNil(t, got, report.String())
	assert.Equal(t, 22.0, got.Machines[1].Feet[0].Hole, "ISO 273, M20 medium")
}
