package trainfile

import (
	"slices"

	"leastmove/train"
	"leastmove/train/trainfile/tree"
)

// Form is what must stand behind a key, in words: "a list of numbers".
func (k *Key) Form() string { return k.form(train.Millimetres, "") }

// form is the same with the unit " (mm)" where it has one. Words are those of a
// file with these units.
func (k *Key) form(u train.Units, unit string) string {
	if k.Kind == Word {
		return k.Allowed(u)
	}
	want := [...]string{"a number" + unit, "a whole number", "two numbers in brackets" + unit,
		"numbers in brackets" + unit,
		"words in quotes", "", "true or false", "a table", "an array of tables", "a table of machines and shares",
		"a table of clock positions and readings" + unit, "a list of [degrees, reading" + unit + "]",
		"names in quotes, in brackets"}[k.Kind]
	if k.Thread {
		want += " or the name of a thread in quotes"
	}
	if k.Kind == Number && k.Table != nil {
		want += " or an array of tables"
	}
	return want
}

// Repeats says whether the table's keys are the last ones of a longer table.
func (t *Table) Repeats(longer *Table) bool {
	n := len(longer.Keys) - len(t.Keys)
	return n > 0 && slices.EqualFunc(longer.Keys[n:], t.Keys, func(a, b Key) bool {
		return a.Name == b.Name && a.Kind == b.Kind && a.Unit == b.Unit && a.Range == b.Range && a.Default == b.Default &&
			a.Doc == b.Doc
	})
}

// A Bound is the most of something that Read takes.
type Bound struct {
	What string // "machines", with a unit where it has one
	Most int
}

// Bounds are the sizes beyond which a file is refused.
func Bounds() []Bound {
	return []Bound{
		{"bytes of a train file", tree.MostBytes},
		{"values in it: tables, lists and what is in them", tree.MostValues},
		{"levels of tables and lists in each other", tree.Deepest},
		{"machines", tree.MostMachines},
		{"feet of one machine, a pair counted as two", mostFeet},
		{"nozzles of one machine", mostNozzles},
		{"bases", mostBases},
		{"conditions", mostConditions},
		{"readings of one coupling", mostReadings},
		{"positions of one reading", mostPositions},
		{"bytes of a line in a file of readings", longestRow},
		{"lines of such a file", mostRows},
		{"characters of a name or another text", longestName},
		{"mm between a machine's first and last foot", longestMachine},
		{"mm between the flex planes of a spacer coupling", longestSpacer},
		{"faults of each kind that are shown", mostFaults},
	}
}
