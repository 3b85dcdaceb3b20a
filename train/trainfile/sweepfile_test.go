package trainfile

import (
	"errors"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A sweep from a file is the same as one in the train file; what is wrong with
// it is said at the key, with line and column.
func TestSweepFile(t *testing.T) {
	src, err := os.ReadFile("testdata/whole.toml")
	require.NoError(t, err)
	const sweep = "sweep = [[0, 0.0], [90, -0.03], [180, -0.28], [270, -0.25], [360, 0.0]]"
	require.Contains(t, string(src), sweep)
	text := []byte(strings.Replace(string(src), sweep, `file = "rim.csv"`, 1))
	want := file(t, "testdata/whole.toml")
	for _, c := range []struct{ why, content, says string }{
		{"plain", "0,0\n90,-0.03\n180,-0.28\n270,-0.25\n360,0\n", ""},
		{"with heads, blanks, empty lines and a mark at the start",
			"\ufeffangle, reading\r\n0, 0\r\n\r\n 90, -0.03\r\n180,-0.28\n270 ,-0.25\n360,0.0", ""},
		{"semicolons and decimal commas", "Winkel;Anzeige\n0;0\n90;-0,03\n180;-0,28\n270;-0,25\n360;0\n", ""},
		{"remarks, and blanks on a line", "# coupling side\nangle,reading\n0,0\n  # stopped for lunch, here; and " +
			"there\n90,-0.03\n \t\n180,-0.28\n270,-0.25\n360,0\n", ""},
		{"tabs", "angle\treading\n0\t0\n90\t-0.03\n180\t-0.28\n270\t-0.25\n360\t0\n", ""},
		{"tabs and decimal commas", "0\t0\n90\t-0,03\n180\t-0,28\n270\t-0,25\n360\t0\n", ""},
		{"remarks keep the count of lines", "# one\n# two\n0,0\n90,up\n", `line 4, column 2: "up" is no number`},
		{"tabs, a word", "0\t0\n90\tup\n", `line 2, column 2: "up" is no number`},
		{"nothing but remarks", "# one\n", "was read at 0 of the 3 positions"},
		{"a word", "0,0\n90,up\n", `"rim.csv", line 2, column 2: "up" is no number`},
		{"a number that is none", "0,0\n90,NaN\n", `line 2, column 2: "NaN" is no number`},
		{"half a head", "0,reading\n", `line 1, column 2: "reading" is no number`},
		{"three columns", "0,0\n\n90,1,2\n", `line 3: 3 columns, it must have 2`},
		{"out of range", "0,0\n90,200\n", `line 2, column 2: the reading is "200", it must be from -100 to 100 mm`},
		{"no angle", "0,0\n9000,0.1\n", `line 2, column 1: the angle is "9000", it must be from -720 to 720`},
		{"a quote that is not closed", "0,0\n90,\"0.1\n", `"rim.csv", line 2, column`},
		{"lines without end", strings.Repeat("\n", 4001), `"rim.csv", more than 4000 lines`},
		{"an endless line", "0,0\n" + strings.Repeat("9", 1000) + "\n", `line 2 has 1001 bytes, at most 1000 are read`},
		{"too many", strings.Repeat("1,0\n", 401), `line 401: more than 400 positions`},
		{"empty", "", "was read at 0 of the 3 positions"},
		{"not there", "-", `file "rim.csv" can't be read: no luck`},
	} {
		with := options
		with.File = func(name string) ([]byte, error) {
			assert.Equal(t, "rim.csv", name)
			if c.content == "-" {
				return nil, errors.New("no luck")
			}
			return []byte(c.content), nil
		}
		got, report := Read("whole.toml", text, with)
		if c.says == "" {
			require.NotNil(t, got, "%s: %s", c.why, report)
			assert.Equal(t, want.Couplings[1].Dials[1].Angles, got.Couplings[1].Dials[1].Angles, c.why)
			assert.Equal(t, want.Couplings[1].Dials[1].Values, got.Couplings[1].Dials[1].Values, c.why)
			assert.Equal(t, want.Couplings[1].Found, got.Couplings[1].Found, c.why)
			continue
		}
		assert.Nil(t, got, c.why)
		assert.Contains(t, report.String(), c.says, c.why)
		assert.Equal(t, 1, report.Count(Error), c.why)
	}
	_, report := Read("whole.toml", text, options)
	assert.Contains(t, report.String(), "no other file is read here")
}
