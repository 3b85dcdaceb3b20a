package trainfile

import (
	"math"
	"strconv"
	"strings"

	"leastmove/train"
	"leastmove/train/spelling"
)

// A Kind says what may stand behind a key.
type Kind int

const (
	Number  Kind = iota // a number, whole or not
	Count               // a whole number
	Pair                // a list of two numbers
	Numbers             // a list of numbers
	Text                // words in quotes
	Word                // one of the key's Words, in quotes
	Switch              // true or false
	Sub                 // a table
	Subs                // an array of tables
	Shares              // a table with the user's own names as keys, and numbers
	Clock               // a table of hours on a clock and numbers
	Sweep               // a list of pairs, each of degrees and a number
	Names               // a list of names in quotes
)

// A Unit is the kind of quantity that a number is, from which its unit in an
// mm file and in an inch file follows.
type Unit int

const (
	Bare   Unit = iota // ratios and shares
	Length             // mm or inch
	Move               // mm or mil
	Angle              // mrad
	Speed              // 1/min
	Warmth             // °C or °F, a difference
)

// In is the unit's name in a file with these units; "" for a bare number.
func (q Unit) In(u train.Units) string {
	names := [...][2]string{{"", ""}, {"mm", "inch"}, {"mm", "mil"}, {"mrad", "mrad"}, {"1/min", "1/min"}, {"°C", "°F"}}
	return names[q][u]
}

// size is what one of the file's units is in the package's: mm, mrad, °C.
func (q Unit) size(u train.Units) float64 {
	switch {
	case q == Length:
		return u.Length()
	case q == Move:
		return u.Move()
	case q == Warmth && u == train.Inches:
		return 5.0 / 9
	}
	return 1
}

// perUnits says whether the unit depends on those of the file.
func (q Unit) perUnits() bool { return q == Length || q == Move || q == Warmth }

// A Range is what a number may be, in mm, mrad, 1/min, °C or bare.
type Range struct {
	Min, Max float64
	Over     bool // the number must be over Min, not equal to it
}

func (r Range) holds(v float64) bool {
	return v <= r.Max && (v > r.Min || v == r.Min && !r.Over)
}

// Usual are the least and the most that a number's size has in practice, in the
// units of Range; a number beyond them, other than 0, gets a warning. Both are 0
// where no size gets a warning.
type Usual struct{ Least, Most float64 }

func (u Usual) holds(v float64) bool {
	v = math.Abs(v)
	return u == Usual{} || v == 0 || v >= u.Least && v <= u.Most
}

// A Key is one key of the train file. The tables of keys are all that Read
// knows about the form of a file, and what a description of it is printed
// from.
type Key struct {
	Name     string
	Kind     Kind
	Unit     Unit
	Range    Range
	Usual    Usual
	Thread   bool     // of Number: the name of a thread, in quotes, may stand for its diameter
	Words    []string // of Word
	Required bool
	Default  [2]string // what holds where the key is missing, as printed for mm and inch files; "" and "": see Doc
	Doc      string    // one line
	Table    *Table    // of Sub and Subs; of a Number: an array of such tables may stand for it
}

// A Table is one table of the train file.
type Table struct {
	Header string // as in a file: "[[machine.foot]]"; of tables in braces "level = { }"
	Doc    string // one line
	Keys   []Key
}

// Allowed is the range of a key's numbers in the units of a file, or the words
// that it may be; "" where nothing is to say.
func (k *Key) Allowed(u train.Units) string {
	switch k.Kind {
	case Word:
		return "one of " + list(k.Words)
	case Number, Count, Pair, Numbers, Shares, Clock, Sweep:
	default:
		return ""
	}
	unit, size := k.Unit.In(u), k.Unit.size(u)
	if unit != "" {
		unit = " " + unit
	}
	low, high := figure(k.Range.Min/size), figure(k.Range.Max/size)
	if k.Range.Over {
		return "over " + low + " and at most " + high + unit
	}
	return "from " + low + " to " + high + unit
}

func (t *Table) key(name string) *Key {
	for i := range t.Keys {
		if t.Keys[i].Name == name {
			return &t.Keys[i]
		}
	}
	return nil
}

// need is a key that the reader asks for by its name; that it is missing is our own mistake.
func (t *Table) need(name string) *Key {
	if k := t.key(name); k != nil {
		return k
	}
	panic("no key " + name + " in " + t.Header)
}

// Defaults in words that stand for a number.
const (
	noLimit   = "no limit"   // +Inf
	notStated = "not stated" // NaN
)

// missing is the default as a number, in mm, mrad, 1/min, °C or bare; NaN where there is none.
func (k *Key) missing(u train.Units) float64 {
	switch text := k.Default[u]; text {
	case noLimit:
		return math.Inf(1)
	case notStated, "":
		return math.NaN()
	default:
		v, err := strconv.ParseFloat(text, 64)
		if err != nil {
			panic("the default of " + k.Name + " is not a number: " + text)
		}
		return v * k.Unit.size(u)
	}
}

func (t *Table) names() []string {
	names := make([]string, len(t.Keys))
	for i := range t.Keys {
		names[i] = t.Keys[i].Name
	}
	return names
}

// figure is a number for a message, to five figures at most.
func figure(v float64) string {
	if v == 0 || math.IsNaN(v) || math.IsInf(v, 0) {
		return strconv.FormatFloat(v, 'g', -1, 64)
	}
	digits := max(0, 4-int(math.Floor(math.Log10(math.Abs(v)))))
	s := strconv.FormatFloat(v, 'f', digits, 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	return s
}

// list is words in quotes with commas.
func list(words []string) string {
	quoted := make([]string, len(words))
	for i, w := range words {
		quoted[i] = spelling.Quote(w)
	}
	return strings.Join(quoted, ", ")
}
