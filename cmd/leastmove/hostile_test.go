package main

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"unicode"

	"github.com/spf13/cobra"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/cmd/internal/cli"
	"leastmove/testdata/trains"
)

// hostileNames go into a train in place of its names: a formula, a page's script,
// and what ends strings and tags.
var hostileNames = []string{`=HYPERLINK("x")`, `<script>alert(1)</script>`, `@SUM(1+1)|cmd`,
	`"></svg><img src=x onerror=alert(1)>`, `-2+3`, `  =1+1`, `&lt;b&gt; ${x} \\ ]]>`}

// hostileTrain is a train whose every name is hostile.
func hostileTrain() string {
	text, n := hostile, 0
	for _, word := range []string{"TITLE", "MOTOR", "PUMP", "FOOT", "COUPLING", "LEFT", "COLD"} {
		text = strings.ReplaceAll(text, word, "'"+hostileNames[n%len(hostileNames)]+"'")
		n++
	}
	return text
}

// The figures are invented.
const hostile = `title = TITLE
units = "mm"
sides = { left = LEFT }
[[machine]]
name = MOTOR
height = 300
[[machine.foot]]
name = FOOT
x = 0
spread = 400
shim = 1.0
bolt = 20
hole = 22
[[machine.foot]]
name = "b"
x = 500
spread = 400
[[machine]]
name = PUMP
at = 800
height = 300
[[machine.foot]]
name = FOOT
x = 0
spread = 400
shim = 1.0
soft = 0.3
[[machine.foot]]
name = "b"
x = 500
spread = 400
[[machine.nozzle]]
name = FOOT
x = 0
z = 100
[[coupling]]
name = COUPLING
from = MOTOR
to = PUMP
x = 700
limit = { offset = 0.1, angle = 0.5 }
[[coupling.reading]]
kind = "rim"
on = PUMP
x = 760
sag = 0.0
clock = { 12 = 0, 3 = 0.3, 6 = 0.4, 9 = 0.1 }
[[coupling.reading]]
kind = "face"
on = PUMP
radius = 100
clock = { 12 = 0, 3 = 0.03, 6 = 0.04, 9 = 0.01 }
[[condition]]
name = COLD
growth = 0
`

// every calls f with each command that can be run and ends by itself: explore serves until it is
// told to end, and has a test of its own.
func every(c *cobra.Command, f func(*cobra.Command)) {
	if c.Runnable() && !c.Hidden && c.Name() != "explore" {
		f(c)
	}
	for _, sub := range c.Commands() {
		every(sub, f)
	}
}

// Whatever a train's names are, no form of any result holds a character that
// does something to a terminal, a tag of the names in a page or a picture, or a
// formula in a table; by default every second form in a file, the others as printed. Commands, forms and flags for
// files are those that there
// are.
func TestHostileNames(t *testing.T) {
	t.Chdir(t.TempDir())
	require.NoError(t, os.WriteFile("train.toml", []byte(hostileTrain()), 0o666))
	looked := 0
	look := func(args []string) {
		var out, stderr bytes.Buffer
		code := sharing(args, strings.NewReader(hostileTrain()), &out, &stderr)
		if code == 2 {
			return // a command that asks for something else
		}
		require.NotEqual(t, 1, code, "%s: %s", args, stderr.String())
		texts := map[string][]byte{"standard output": out.Bytes(), "standard error": stderr.Bytes()}
		made, err := filepath.Glob("made.*")
		require.NoError(t, err)
		for _, file := range made {
			text, err := os.ReadFile(file)
			require.NoError(t, err)
			texts[file] = text
			require.NoError(t, os.Remove(file))
		}
		for where, text := range texts {
			at := fmt.Sprint(args, " ", where)
			looked++
			if bytes.HasPrefix(text, []byte("%PDF")) || bytes.HasPrefix(text, []byte("\x89PNG")) {
				continue
			}
			assert.NotContains(t, string(text), "\x1b", at)
			bad := strings.IndexFunc(string(text), func(c rune) bool {
				return c != '\n' && c != '\t' && (unicode.IsControl(c) || unicode.Is(unicode.Bidi_Control, c))
			})
			assert.Negative(t, bad, at)
			if page := string(bytes.ToLower(text)); strings.Contains(page[:min(len(page), 300)], "<html") ||
				strings.Contains(page[:min(len(page), 300)], "<svg") {
				assert.NotContains(t, page, "<script>alert", at)
				assert.NotContains(t, page, "<img src=x", at)
			}
			if !strings.Contains(strings.Join(args, " "), "csv") || where == "standard error" {
				continue
			}
			rows, err := csv.NewReader(bytes.NewReader(text)).ReadAll()
			if err != nil {
				continue // not the table
			}
			for _, row := range rows {
				for _, cell := range row {
					if first := strings.TrimSpace(cell); first != "" && strings.Trim(first, "-+.0123456789") != "" {
						assert.NotContains(t, "=+-@", first[:1], "%s: %q", at, cell)
					}
				}
			}
		}
	}
	every(cli.Command(), func(c *cobra.Command) {
		args := append(strings.Fields(c.CommandPath())[1:], "train.toml")
		look(args)
		if offers, is := c.GetFlagCompletionFunc("format"); is {
			formats, _ := offers(c, nil, "")
			for n, f := range formats {
				if n%2 == 0 || trains.Everything() {
					look(append(args, "--format", f))
				}
				if n%2 == 1 || trains.Everything() {
					look(append(args, "--format", f, "-o", "made.out"))
				}
			}
		}
		if c.Flags().Lookup("chart") != nil {
			for _, f := range []string{"svg", "png", "pdf"} {
				look(append(args, "--chart", "made."+f))
			}
		}
	})
	assert.Greater(t, looked, 20)
}

// What is hostile by its size is refused, with little work and in little room.
func TestHostileSizes(t *testing.T) {
	t.Chdir(t.TempDir())
	const head = "title = \"t\"\nunits = \"mm\"\n"
	many := func(s string, bytes int) string { return strings.Repeat(s, bytes/len(s)) }
	// All of a pair's readings name one file of as many bytes as may be read.
	bomb := head + "[[machine]]\nname = \"a\"\nheight = 1\nhold = true\n[[machine]]\nname = \"b\"\nheight = " +
		"1\nhold = true\n"
	for i := range 50 {
		bomb += fmt.Sprintf("[[coupling]]\nname = \"c%d\"\nfrom = \"a\"\nto = \"b\"\nx = 0\nlimit = { offset = 1, "+
			"angle = 1 }\n", i)
		bomb += strings.Repeat("[[coupling.reading]]\nkind = \"face\"\nradius = 100\nfile = \"bomb.csv\"\n", 200)
	}
	cases := []struct {
		why, text, csv, says string
		// Some one and a half times what was counted, all told: thousands of pieces of
		// memory, and megabytes (2^20).
		pieces, megabytes uint64
	}{
		{"100 MB", many("# nothing\n", 100e6), "", "larger than 16 MiB", 20, 100},
		{"a million machines", head + many("[[machine]]\n", 12e6), "", "at most 4194304 are read", 20, 150},
		{"as many machines as the size allows", head + many("[[machine]]\n", 4e6), "", "more than 200000 values", 1500, 150},
		{"10,000 lists in lists", head + "a = " + strings.Repeat("[", 10_000) + strings.Repeat("]", 10_000), "",
			"nested more than 50 deep", 20, 5},
		{"10,000 tables in braces in each other", head + "a = " + strings.Repeat("{a=", 10_000) + "1" +
			strings.Repeat("}", 10_000), "", "nested more than 50 deep", 20, 10},
		{"two million lists that do not end", head + "a = " + strings.Repeat("[", 2_000_000), "", "nested more than", 20, 20},
		{"a key of a million parts", head + "a" + strings.Repeat(".a", 1_000_000) + " = 1", "",
			"nested more than 50 deep", 20, 200},
		{"a name of 10 MB", "units = \"mm\"\ntitle = \"" + strings.Repeat("x", 10_000_000) + "\"", "",
			"at most 4194304 are read", 20, 50},
		{"a name of 4 MB", "units = \"mm\"\ntitle = \"" + strings.Repeat("x", 4_000_000) + "\"", "",
			"title has 4000000 characters, at most 200 are read", 20, 50},
		{"a million readings", head + "[[coupling]]\n[[coupling.reading]]\nsweep = [" + many("[1,1],", 4e6) + "]", "",
			"more than 200000 values", 600, 500},
		{"a number of a million digits", head + "[shims]\nstep = 0." + strings.Repeat("1", 1_000_000), "",
			"machine is missing", 20, 20},
		{"a whole number of a million digits", head + "[shims]\nmax_pieces = " + strings.Repeat("1", 1_000_000), "",
			"error: ", 20, 20},
		{"a file of readings of a hundred thousand lines", bomb, many("1,1\n", 400e3), "more than 4000 lines", 1500, 150},
		{"a file of readings that is one cell", bomb, strings.Repeat("9", 1<<20),
			"line 1 has 1048576 bytes, at most 1000 are read", 1500, 150},
		{"a file of readings that is one quote", bomb, "\"" + many("\n", 1e6), "more than 4000 lines", 1500, 150},
		{"a file of readings of 400 lines, many times", bomb, many("1,1     \n", 3600), "larger than 16 MiB together",
			10000, 500},
		{"a file of readings of 2 MB", bomb, many("1,1\n", 2e6), "larger than 1 MiB", 1500, 100},
		{"a file of readings of commas", bomb, many(",", 1<<20), "line 1 has 1048576 bytes, at most 1000 are read", 1500,
			150},
	}
	for n, c := range cases {
		if n%6 != 0 && !trains.Everything() {
			continue
		}
		require.NoError(t, os.WriteFile("train.toml", []byte(c.text), 0o666))
		require.NoError(t, os.WriteFile("bomb.csv", []byte(c.csv), 0o666))
		var out, stderr bytes.Buffer
		did := effortOf(func() {
			assert.Equal(t, 2, cli.Run([]string{"plan", "train.toml"}, strings.NewReader(""), &out, &stderr), c.why)
		})
		assert.Contains(t, stderr.String(), c.says, c.why)
		assert.Empty(t, out.String(), c.why)
		assert.Less(t, did.pieces, c.pieces*1000, c.why)
		assert.Less(t, did.bytes, c.megabytes<<20, c.why)
		t.Logf("%-55s %9d pieces, %4d MB", c.why, did.pieces, did.bytes>>20)
	}
}

// An effort is what a program asked of memory, all told. It is the same on every
// machine, however busy.
type effort struct{ pieces, bytes uint64 }

func effortOf(f func()) effort {
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	f()
	runtime.ReadMemStats(&after)
	return effort{after.Mallocs - before.Mallocs, after.TotalAlloc - before.TotalAlloc}
}
