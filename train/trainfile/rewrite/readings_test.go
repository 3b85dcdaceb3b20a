package rewrite

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/bolts"
	"leastmove/testdata/families"
	"leastmove/train"
	"leastmove/train/trainfile"
	"leastmove/train/trainfile/tree"
)

// options are those of the command line.
var options = trainfile.Options{ClearanceHole: bolts.ClearanceHole, Thread: bolts.Thread, Minor: bolts.Minor}

func readAll(t *testing.T, name, text string) *train.Train {
	t.Helper()
	tr, report := trainfile.Read(name, []byte(text), trainfile.Options{
		ClearanceHole: bolts.ClearanceHole, Thread: bolts.Thread, Minor: bolts.Minor,
		File: func(string) ([]byte, error) { return []byte("0, 0\n90, 0.1\n180, 0.2\n270, 0.1\n"), nil },
	})
	require.NotNilf(t, tr, "%s:\n%v\n%s", name, report, text)
	return tr
}

// filledIn is a file without readings, with a nought for all that is to be read: what
// follows from it may not hold a reading of the old file, and all else of it.
func filledIn(text string) string {
	var lines []string
	for _, line := range strings.Split(text, "\n") {
		at := strings.Index(line, tree.ToRead)
		if at < 0 {
			lines = append(lines, line)
			continue
		}
		s := line[at+len(tree.ToRead):]
		switch {
		case strings.HasPrefix(s, "sweep"):
			s = "sweep = [[0, 0.0], [90, 0.0], [180, 0.0], [270, 0.0]]"
		case strings.HasPrefix(s, "file"):
			s = "clock = { 12 = 0.0, 3 = 0.0, 6 = 0.0, 9 = 0.0 }"
		case strings.HasPrefix(s, "["):
		case strings.HasSuffix(strings.TrimRight(s, "\r"), "into the braces below"), strings.HasPrefix(s, "pieces"):
			s = ""
		default:
			s = strings.NewReplacer(" = ,", " = 0.0,", " = }", " = 0.0}").Replace(strings.TrimRight(strings.SplitN(s, "#",
				2)[0], " \r"))
			if strings.HasSuffix(s, "=") {
				s += " 0.0"
			}
		}
		lines = append(lines, s)
	}
	return strings.Join(lines, "\n")
}

// unread is a train without what was read, and without what follows from that.
func unread(tr *train.Train) *train.Train {
	tr.Survey = nil
	for i := range tr.Machines {
		m := &tr.Machines[i]
		if len(m.Points) > 0 {
			m.Growth = train.Growth{} // of points read running
			for k := range m.Shafts {
				if m.Shafts[k].Growth != nil {
					m.Shafts[k].Growth = &train.Growth{}
				}
			}
		}
		for p := range m.Points {
			m.Points[p].V, m.Points[p].H = 0, 0
		}
		for f := range tr.Machines[i].Feet {
			tr.Machines[i].Feet[f].Soft = 0
		}
	}
	for i := range tr.Couplings {
		c := &tr.Couplings[i]
		c.Fit, c.Found, c.FoundGap, c.Taken = nil, train.Misalignment{}, 0, train.Share{}
		for d := range c.Dials {
			dial := &c.Dials[d]
			dial.Angles, dial.Values, dial.V, dial.H = nil, nil, 0, 0
		}
	}
	return tr
}

// A file without readings has none of the old one, and all else of it.
func TestWithoutReadings(t *testing.T) {
	texts := map[string]string{}
	files, err := filepath.Glob("../../../examples/*/before.toml")
	require.NoError(t, err)
	for _, f := range append(files, "../testdata/whole.toml") {
		text, err := os.ReadFile(f)
		require.NoError(t, err)
		texts[f] = string(text)
	}
	for _, family := range families.Names() {
		texts[family] = families.TOML(family, 4)
	}
	for name, text := range texts {
		t.Run(name, func(t *testing.T) {
			out, err := WithoutReadings([]byte(text))
			require.NoError(t, err)
			assert.Contains(t, out, tree.ToRead)
			empty, report := trainfile.Read(name, []byte(out), trainfile.Options{ClearanceHole: bolts.ClearanceHole,
				Thread: bolts.Thread})
			assert.Nil(t, empty, "without readings it can't be planned")
			assert.Regexp(t, "the found misalignment of coupling .* is missing|has no clock, sweep or file|needs v and h|v "+
				"is missing: ",
				report.String(), "and says so")
			is := readAll(t, name, filledIn(out))
			for _, c := range is.Couplings {
				if len(c.Dials) == 0 {
					assert.Zero(t, c.Found, "nothing of what was found is left")
				}
				for _, d := range c.Dials {
					for _, v := range append(d.Values, d.V, d.H) {
						assert.False(t, v != 0 && !math.IsNaN(v), "no reading is left: %g", v)
					}
				}
			}
			// NaN is not like itself: compare as printed.
			assert.True(t, sprint(unread(readAll(t, name, text))) == sprint(unread(is)), "all else stays")
			assert.Equal(t, strings.Count(text, "#")+strings.Count(out, tree.ToRead), strings.Count(out, "#"), "comments stay")
		})
	}
}

// Ways to write one and the same.
func TestWithoutReadingsForms(t *testing.T) {
	const head = `title = "forms"
units = "mm"
[[machine]]
name = "a"
height = 300
hold = true
[[machine]]
name = "b"
height = 300
[[machine.foot]]
name = "x"
x = 1000
spread = 400
soft = 0.1 # of both
[[machine.foot]]
name = "y"
x = 2000
spread = 400
left = { soft = 0.2, shim = 3.0 }
right = { shim = 3.0, soft = 0.2 }
[[machine.foot]]
name = "z"
x = 3000
spread = 400
  left = { soft = 0.2 } # alone
right.soft = 0.2
[[machine]]
name = "after"
height = 300
foot = [
  { name = "i", x = 4000, spread = 400, left = { soft = 0.2 }, right = { soft = 0.2, shim = 3.0 } },
  { name = "j", x = 5000, spread = 400, soft = 0.2 }, { name = "k", x = 6000, y = 0, soft = 0.2 },
]
[[coupling]]
name = "other"
from = "b"
to = "after"
x = 3500
limit = { offset = 0.1, angle = 1.0 }
found = { v = { offset = 0.1, angle = 0.2 }, h = { offset = 0.1, angle = 0.2 } } # in one
[[coupling]]
name = "c"
from = "a"
to = "b"
x = 500
limit = { offset = 0.1, angle = 1.0 }
`
	for name, c := range map[string]struct{ found, want string }{
		"lines": {"[coupling.found]\nv = { offset = 0.1, angle = 0.2 } # mine\nh = { offset = 0.1, angle = 0.2 }\n",
			"# TO READ: v = { offset = , angle = } # mine\n# TO READ: h ="},
		"one table": {"found = { v = { offset = 0.1, angle = 0.2 }, h = { offset = 0.1, angle = 0.2 } }\n",
			"# TO READ: found = { v = { offset = , angle = }, h = { offset = , angle = }}\n"},
		"headers": {"[coupling.found.v]\noffset = 0.1\nangle = 0.2\n[coupling.found.h]\noffset = 0.1\nangle = 0.2\n",
			"# TO READ: [coupling.found.v]\n# TO READ: offset = \n# TO READ: angle = \n"},
		"dots": {"found.v.offset = 0.1\nfound.v.angle = 0.2\nfound.h.offset = 0.1\nfound.h.angle = 0.2\n",
			"# TO READ: found.v.offset = \n"},
		"several rows": {"[[coupling.reading]]\nkind = \"face\"\nradius = 100\nsweep = [\n  [0, 0.0],\n  [90, 0.1],\n  " +
			"[180, 0.2],\n]\n[[coupling.reading]]\nkind = \"offset\"\nx = 500\nv = 0.1\nh = 0.2\n",
			"# TO READ: sweep = \n[[coupling.reading]]\nkind = \"offset\"\nx = 500\n# TO READ: v = \n# TO READ: h = \n"},
		"braces on a line each": {`reading = [
  { kind = "rim", on = "a", x = 200, clock = { 12 = 0, 3 = 0.1, 6 = 0.2, 9 = 0.1 }, sag = 0 }, # top
{ kind = "offset", x = 800, v = 0.1, h = 0.2 }] # low
`, `reading = [
  # TO READ: { kind = "rim", on = "a", x = 200, clock = { 12 = 0, 3 = , 6 = , 9 = }, sag = 0 }, # top
# TO READ: { kind = "offset", x = 800, v = , h = }
] # low
`},
		"braces on one line": {"reading = [{ kind = \"offset\", x = 100, v = 0, h = 0.2 }, " +
			"{ kind = \"offset\", x = 900, v = 0.1, h = 0.2 }]\n",
			"# TO READ: reading = [{ kind = \"offset\", x = 100, v = , h = }, { kind = \"offset\", x = 900, v = , h = }]\n"},
		"braces of two on a line": {`reading = [
  { kind = "offset", x = 100, v = 0.1, h = 0.2 }, { kind = "offset", x = 900, v = 0.1, h = 0.2 },
]
`, `# TO READ: v and h, into the braces below
reading = [
  # TO READ: v and h, into the braces below
  { kind = "offset", x = 100, }, { kind = "offset", x = 900, },
]
`},
	} {
		t.Run(name, func(t *testing.T) {
			readAll(t, name, head+c.found)
			out, err := WithoutReadings([]byte(head + c.found))
			require.NoError(t, err)
			assert.Contains(t, out, c.want)
			assert.NotContains(t, out, "0.2", "no reading is left")
			assert.Contains(t, out, "# TO READ: soft =  # of both")
			assert.Contains(t, out, "# TO READ: soft of left, into the braces below\nleft = { shim = 3.0 }\n# TO READ: "+
				"soft of right, into the braces below\nright = { shim = 3.0 }\n")
			assert.Contains(t, out, "\n  # TO READ: left = { soft = } # alone\n# TO READ: right.soft = \n")
			assert.Contains(t, out, `# TO READ: soft of "k", into the braces below
foot = [
  # TO READ: soft of left, into the braces below
  # TO READ: soft of right, into the braces below
  { name = "i", x = 4000, spread = 400, right = { shim = 3.0 } },
  # TO READ: soft of "j", into the braces below
  { name = "j", x = 5000, spread = 400 }, { name = "k", x = 6000, y = 0 },
]`)
			assert.Contains(t, out, "# TO READ: found = { v = { offset = , angle = }, h = { offset = , angle = }} # in one")
			if name != "braces of two on a line" {
				readAll(t, name, filledIn(out))
			}
		})
	}
}

func sprint(tr *train.Train) string {
	words := ""
	for i := range tr.Machines {
		for n := range tr.Machines[i].Shafts {
			if g := &tr.Machines[i].Shafts[n].Growth; *g != nil {
				words += fmt.Sprintf("%+v ", **g)
				*g = nil // a place in memory says nothing
			}
		}
	}
	return words + fmt.Sprintf("%+v", *tr)
}
