package starter

import (
	"context"
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/bolts"
	"leastmove/optimize"
	"leastmove/optimize/ways"
	"leastmove/train"
	"leastmove/train/trainfile"
	"leastmove/train/trainfile/tree"
)

func options() trainfile.Options {
	return trainfile.Options{ClearanceHole: bolts.ClearanceHole, Thread: bolts.Thread, Minor: bolts.Minor}
}

// What is written reads without a fault or a doubt once it is filled in, and can be
// planned: its placeholders are growth that is alike.
func TestWrite(t *testing.T) {
	for _, u := range []train.Units{train.Millimetres, train.Inches} {
		for _, gear := range []bool{false, true} {
			for _, n := range []int{2, 3, 4, 7, Most} {
				if gear && n < 3 {
					continue
				}
				t.Run(fmt.Sprintf("%s %d gear %v", u, n, gear), func(t *testing.T) {
					text := Write(Options{n, u, gear})
					empty, _ := trainfile.Read("new", []byte(text), options())
					assert.Nil(t, empty, "nothing is planned from what nobody read")
					text = strings.NewReplacer(tree.ToRead, "", " = ,", " = 0.0,", " = }", " = 0.0 }").Replace(text)
					tr, report := trainfile.Read("new", []byte(text), options())
					require.Empty(t, report.String())
					require.Len(t, tr.Machines, n)
					assert.Equal(t, u, tr.Units)
					p, err := ways.Make(context.Background(), tr, optimize.Options{Brief: true})
					require.NoError(t, err)
					assert.Equal(t, optimize.Within, p.Status)
					for _, line := range strings.Split(text, "\n") {
						assert.LessOrEqual(t, len(line), 100, line)
					}
				})
			}
		}
	}
}

// What stands behind a # as an example of a key can be used as it is: without the
// #, where it does not stand in place of something else.
func TestCommentsHold(t *testing.T) {
	for _, u := range []train.Units{train.Millimetres, train.Inches} {
		text := Write(Options{3, u, true})
		var lines []string
		for _, line := range strings.Split(text, "\n") {
			key, _, isKey := strings.Cut(strings.TrimPrefix(line, "# "), " ")
			_, more, _ := strings.Cut(line, key)
			if strings.HasPrefix(line, "# ") && (isKey && strings.HasPrefix(strings.TrimLeft(more, " "), "=") ||
				strings.HasPrefix(line, "# [")) {
				line = strings.TrimPrefix(line, "# ")
			}
			// Readings take the place of v and h, a spacer that of the limit on the offset.
			if strings.HasPrefix(line, "v = {") || strings.HasPrefix(line, "h = {") {
				continue
			}
			lines = append(lines, line)
		}
		all := strings.Join(lines, "\n")
		for _, key := range []string{"\n[sides]", "\nhold = true", "\nlower =", "\ntravel =", "\n[[machine.nozzle]]",
			"\n[[coupling.reading]]", "\n[[condition]]", "\nflex =",
			"\nsoft =", "\npieces =", "\nbolt_at =", "\nfit =", "\nrise =", "\nmaterial =", "\nlevel =", "\n[[band]]",
			"\nflex_angle ="} {
			require.Contains(t, all, key)
		}
		_, report := trainfile.Read("new", []byte(all), options())
		for _, f := range report {
			if f.Severity == trainfile.Error {
				assert.Regexp(t, "offset has no place|limit|found misalignment|growth is given twice", f.Message, "%s", f)
			}
		}
	}
}

// A newcomer finds every key of a foot and of a machine in it, but those that few need.
func TestKeysAreThere(t *testing.T) {
	text := Write(Options{3, train.Millimetres, true})
	few := map[string]string{
		"y": "one foot in place of a pair", "right": "as left", "cut": "after machining",
		"height": "of feet, over which growth is worked out",
		"axial":  "few machines are shifted along", "point": "of a survey",
	}
	for _, table := range trainfile.Tables() {
		if table.Header != "[[machine.foot]]" && table.Header != "[[machine]]" {
			continue
		}
		for _, k := range table.Keys {
			if few[k.Name] != "" {
				continue
			}
			stated := fmt.Sprintf(`(?m)^(# )?(%s *=|\[\[machine\.%s\]\])`, k.Name, k.Name)
			assert.Regexp(t, stated, text, "%s %s", table.Header, k.Name)
		}
	}
}
