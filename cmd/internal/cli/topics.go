package cli

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"github.com/spf13/cobra"

	"leastmove/train"
	"leastmove/train/trainfile"
)

// topics are what `leastmove help` says beside commands: cobra shows a command
// that does nothing as its text.
func topics() []*cobra.Command {
	all := []*cobra.Command{
		{Use: "train-file", Short: "every key of the train file, with unit, range and default", Long: keysText()},
		{Use: "signs", Short: "directions, signs and units", Long: signsText},
		{Use: "model", Short: "what is computed, in equations", Long: modelText},
		{Use: "limits", Short: "the limits that a train can state, and how large a file may be", Long: limitsText()},
	}
	for _, c := range all {
		c.SetHelpTemplate(helpTemplate)
	}
	return all
}

const signsText = `x   runs along the train, from the first machine to the last
y   is to the left when looking that way
z   is up, from the shim plane where the packs are; the shaft is at height

A coupling's misalignment is where its "to" shaft stands against the extended
centreline of its "from" shaft.
  offset   + high or left, at the coupling's x
  angle    + climbs or turns left as x grows
Moves are + up, + left, + toward the last machine. Growth has the same signs.
A pitch is + where it lowers what lies further along; a roll is + where it
raises the left side. Clock positions are seen looking from the first machine
to the last: 3 is right, 9 is left. A dial reads + as its plunger is pushed in.

Pages say words and not signs: raise, remove, high, low, left, right, or the
site's own words for the sides. JSON has signs.

A machine's own x values (feet, growth, nozzles) start from its "at"; those of
a coupling (x, flex) are stations of the train.

                                            mm file      inch file
  stations, heights, holes, gaps            mm           inch
  shims, moves, offsets, growth             mm           mil (0.001 inch)
  angles                                    mrad         mrad
  temperature rise                          °C           °F
  speeds                                    1/min        1/min
  shares                                    bare         bare
An mrad is a mm per m, or a mil per inch.`

const modelText = `A machine is a rigid body on its feet. Moved by t = (axial, left, up) and turned
by r = (roll, pitch, yaw), a point p = (x, y, z) of it goes by d = t + r × p:
  d_axial = axial            + pitch z - yaw y
  d_left  = left   - roll z            + yaw x
  d_up    = up     + roll y  - pitch x
Shafts are straight lines in their machine. The offset and the angle of a
coupling change by what its two shafts do at its x:
  offset  = found + d_to - d_from
  angle   = found + slope_to - slope_from
Growth, the running shift of gear shafts and the condition add to d in the same
way. Vertical and horizontal are combined, sqrt(v² + h²), and held against the
limit times the share that may be used (aim.use, and use of the condition).

The plan is the least sum of what the feet are moved, up and sideways, times
what each machine costs to move (effort), in whole shim steps. A lower bound
that no plan can be below is proven and printed beside it. The moves that are
printed are checked once more by true geometry, without what is linear above.

README.md has all of it: what a foot can do, packs, soft feet, readings,
chances, and what "proven" means.`

// keysText is every key of the train file, from the tables that the reader goes
// by.
func keysText() string {
	var b strings.Builder
	b.WriteString("A train file is TOML. Units are those of a file with units = \"mm\"; what an\n" +
		"inch file has stands in brackets.\n")
	tables := trainfile.Tables()
	for i, t := range tables {
		b.WriteString("\n")
		wrap(&b, "", "", t.Header+": "+t.Doc+".")
		if i > 0 && t.Repeats(tables[i-1]) {
			var names []string
			for _, k := range t.Keys {
				names = append(names, k.Name)
			}
			wrap(&b, "  ", "  ", "Any of "+strings.Join(names, ", ")+", as above.")
			continue
		}
		for _, k := range t.Keys {
			wrap(&b, "  ", "      ", k.Name+"  "+said(&k)+".")
			wrap(&b, "      ", "      ", k.Doc)
		}
	}
	return strings.TrimSuffix(b.String(), "\n")
}

// said is what must stand behind a key, its range and its default.
func said(k *trainfile.Key) string {
	words := k.Form()
	if mm, inch := k.Allowed(train.Millimetres), k.Allowed(train.Inches); mm != "" && k.Kind != trainfile.Word {
		words += ", " + mm
		if inch != mm {
			words += " (" + inch + ")"
		}
	}
	switch d := k.Default; {
	case k.Required:
		words += "; required"
	case d[0] != d[1]:
		words += "; default " + d[0] + " (" + d[1] + ")"
	case d[0] != "":
		words += "; default " + d[0]
	}
	return words
}

// limitsText is what a train can state and how large a file may be.
func limitsText() string {
	var b strings.Builder
	b.WriteString(`Limits that a train can state. One that it does not state is not kept; a plan
lists those.
  of a foot       what may come out of its pack (lower, keep) and go in (raise),
                  its bolt in its hole (bolt, hole, fit), how far to a side
                  (travel), the soft foot that packs may leave (flat)
  of a machine    how far off level (level: pitch along the train, roll
                  across it), how far a nozzle may go (nozzle), how far it
                  is shifted along the train where no hole bounds that
                  (axial_most of [relief]), that it may not move (hold)
  of a coupling   offset and angle at one plane, or the angle at each flex plane
                  of a spacer, and the distance between shaft ends (limit.gap)
  of the crew     whole steps (step), what packs can be made of (stock,
                  max_pieces), the least move of a foot (least_move)

The most that is read:
`)
	for _, m := range trainfile.Bounds() {
		fmt.Fprintf(&b, "  %8d  %s\n", m.Most, m.What)
	}
	fmt.Fprintf(&b, "  %8d  bytes of a file of readings that a train file names\n", largestBeside)
	fmt.Fprintf(&b, "  %8d  bytes of all of them together\n", mostBeside)
	fmt.Fprintf(&b, "  %8d  bytes of the standard input or of any file\n", largestFile)
	return strings.TrimSuffix(b.String(), "\n")
}

// helpWidth is the width of the help, in characters.
const helpWidth = 80

// wrap writes words in lines; the first begins with one indent, the others with
// the other.
func wrap(b *strings.Builder, first, others, text string) {
	line := first
	for i, word := range strings.Split(text, " ") {
		if i > 0 && utf8.RuneCountInString(line)+1+utf8.RuneCountInString(word) > helpWidth {
			b.WriteString(strings.TrimRight(line, " ") + "\n")
			line = others + word
			continue
		}
		if i > 0 {
			line += " "
		}
		line += word
	}
	b.WriteString(strings.TrimRight(line, " ") + "\n")
}
