package trainfile

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"leastmove/train"
	"leastmove/train/spelling"
	"leastmove/train/trainfile/tree"
)

// read looks at one value; false if it had a fault.
func (r *reader) read(f *field, k *Key) bool {
	switch k.Kind {
	case Number, Count:
		if _, isText := f.node.Value.(string); isText && k.Thread {
			return r.thread(f, k)
		}
		if k.Table != nil && f.node.IsList {
			return r.tables(f, k)
		}
		v, ok := r.number(f.node, k, k.Name)
		f.number = v
		return ok
	case Pair, Numbers:
		return r.list(f, k)
	case Text, Word:
		return r.words(f, k)
	case Switch:
		on, ok := f.node.Value.(bool)
		if !ok {
			r.wrongType(f.node, k, k.Name)
		}
		f.on = on
		return ok
	case Sub:
		if !f.node.IsTable {
			r.wrongType(f.node, k, k.Name)
			return false
		}
		f.sub = r.section(f.node, k.Table)
	case Subs:
		return r.tables(f, k)
	case Shares:
		return r.shares(f, k)
	case Clock:
		return r.clock(f, k)
	case Sweep:
		return r.sweep(f, k)
	case Names:
		return r.nameList(f, k)
	}
	return true
}

// number is a number in the package's units.
func (r *reader) number(n *tree.Node, k *Key, what string) (float64, bool) {
	if k.Kind != Count {
		one := *k
		one.Kind = Number // of a list or of shares, one is looked at
		k = &one
	}
	var v float64
	switch x := n.Value.(type) {
	case int64:
		v = float64(x)
	case float64:
		v = x
		if k.Kind == Count {
			r.wrongType(n, k, what)
			return math.NaN(), false
		}
	default:
		r.wrongType(n, k, what)
		return math.NaN(), false
	}
	unit := k.Unit.In(r.units)
	size := k.Unit.size(r.units)
	if math.IsNaN(v) || math.IsInf(v, 0) {
		hint := ""
		if !k.Required {
			hint = "leave the key out where nothing is known or limited"
		}
		r.fault(n.Val, fmt.Sprintf("%s is %s, it must be a number", what, r.typed(n)), hint)
		return math.NaN(), false
	}
	if r.unknown && k.Unit.perUnits() {
		return math.NaN(), true // not known; nothing is wrong with it either
	}
	if !k.Range.holds(v * size) {
		if unit != "" {
			unit = " " + unit
		}
		r.fault(n.Val, fmt.Sprintf("%s is %s%s, it must be %s", what, r.typed(n), unit, k.Allowed(r.units)), r.slip(k, v))
		return math.NaN(), false
	}
	r.weigh(n, k, what, v)
	return v * size, true
}

// tables reads an array of tables.
func (r *reader) tables(f *field, k *Key) bool {
	if !f.node.IsList {
		r.wrongType(f.node, k, k.Name)
		return false
	}
	for _, e := range f.node.List {
		if !e.IsTable {
			r.wrongType(e, k, "an entry of "+k.Name)
			return false
		}
		f.subs = append(f.subs, r.section(e, k.Table))
	}
	return true
}

func (r *reader) list(f *field, k *Key) bool {
	if !f.node.IsList || k.Kind == Pair && len(f.node.List) != 2 {
		r.wrongType(f.node, k, k.Name)
		return false
	}
	good := true
	for _, e := range f.node.List {
		v, ok := r.number(e, k, k.Name)
		good = good && ok
		f.numbers = append(f.numbers, v)
		f.places = append(f.places, e)
	}
	return good
}

// nameList reads a list of names.
func (r *reader) nameList(f *field, k *Key) bool {
	if !f.node.IsList {
		r.wrongType(f.node, k, k.Name)
		return false
	}
	for _, e := range f.node.List {
		name, ok := e.Value.(string)
		if !ok {
			r.wrongType(e, k, "an entry of "+k.Name)
			return false
		}
		f.names = append(f.names, name)
		f.places = append(f.places, e)
	}
	return true
}

func (r *reader) shares(f *field, k *Key) bool {
	if !f.node.IsTable {
		r.wrongType(f.node, k, k.Name)
		return false
	}
	good := true
	for _, name := range f.node.Order {
		e := f.node.Table[name]
		v, ok := r.number(e, k, "the share of "+spelling.Quote(name))
		good = good && ok
		f.names = append(f.names, name)
		f.numbers = append(f.numbers, v)
		f.places = append(f.places, e)
	}
	return good
}

func (r *reader) words(f *field, k *Key) bool {
	text, ok := f.node.Value.(string)
	if !ok {
		r.wrongType(f.node, k, k.Name)
		return false
	}
	f.text = text
	if k.Kind == Word {
		for _, w := range k.Words {
			if w == text {
				return true
			}
		}
		hint := ""
		near := r.nearest(text, k.Words)
		if k.Name == "units" {
			near = unitsMeant(text, near)
		}
		if near != "" {
			hint = fmt.Sprintf("did you mean %q?", near)
		} else if k.Name != "units" {
			hint = k.Doc
		}
		r.fault(f.node.Val, fmt.Sprintf("%s is %s, it must be %s", k.Name, spelling.Quote(text), k.Allowed(r.units)), hint)
		return false
	}
	switch bad := strings.IndexFunc(text, unprintable); {
	case strings.TrimSpace(text) == "":
		r.fault(f.node.Val, k.Name+" is empty", "")
	case bad >= 0:
		c, _ := utf8.DecodeRuneInString(text[bad:])
		what, hint := "does not print", "use letters, digits, blanks and punctuation"
		if unicode.IsSpace(c) {
			what, hint = "is no plain blank", "type a plain blank in its place"
		}
		r.fault(f.node.Val, fmt.Sprintf("%s holds the character %U, which %s", k.Name, c, what), hint)
	case utf8.RuneCountInString(text) > longestName:
		r.fault(f.node.Val, fmt.Sprintf("%s has %d characters, at most %d are read", k.Name, utf8.RuneCountInString(text),
			longestName), "")
	default:
		return true
	}
	return false
}

// unitsMeant is the word for a file's units that another word for them stands
// for; else the nearest one.
func unitsMeant(text, near string) string {
	inch := []string{"in", "in.", "inches", "mil", "mils", "thou", "imperial", "us", "english"}
	mm := []string{"metric", "si", "millimetre", "millimetres", "millimeter", "millimeters"}
	text = strings.ToLower(strings.TrimSpace(text))
	if !slices.Contains(inch, text) && !slices.Contains(mm, text) && near == "" && len(text) > len("inch") {
		text = nearest(text, append(inch[2:], mm...)) // misspelt; short ones are too near to anything
	}
	switch {
	case slices.Contains(inch, text):
		return "inch"
	case slices.Contains(mm, text):
		return "mm"
	}
	return near
}

// unprintable says whether a text can't have a character, which a page would show as another.
func unprintable(c rune) bool { return !spelling.Prints(c) || c == utf8.RuneError }

// slip is the hint for a number out of range.
func (r *reader) slip(k *Key, v float64) string {
	switch {
	case k.Name == "limit" && v == 0:
		return "a machine that must not move at all is held: hold = true"
	case k.Unit == Length && r.units == train.Inches:
		return "lengths are in inches in this file"
	case k.Unit == Length || k.Unit == Move && r.units == train.Millimetres:
		return "lengths and moves are in mm in this file"
	case k.Unit == Move:
		return "moves, shims and offsets are in mils (0.001 inch) in this file"
	case k.Unit == Angle:
		return "angles are in mrad: mm per m, or mils per inch"
	case k.isShare() && v > 5 && k.Range.holds(v/100):
		return fmt.Sprintf("give a share, not per cent: %s %% is %s", figure(v), figure(v/100))
	}
	return ""
}

// isShare says whether a key's number is a share that people know in per cent.
func (k *Key) isShare() bool {
	return k.Unit == Bare && slices.Contains([]string{"use", "growth", "run", "machine"}, k.Name)
}

func (r *reader) wrongType(n *tree.Node, k *Key, what string) {
	unit := k.Unit.In(r.units)
	if unit != "" {
		unit = " (" + unit + ")"
	}
	want := k.form(r.units, unit)
	hint := ""
	text, isText := n.Value.(string)
	trimmed := strings.TrimSpace(text)
	_, notNumber := strconv.ParseFloat(trimmed, 64)
	switch {
	case isText && (k.Kind == Number || k.Kind == Count) && notNumber == nil:
		hint = "write " + trimmed + " without quotes"
	case isText && k.Kind == Number && tree.Decimal(trimmed) != "":
		hint = "write " + tree.Decimal(trimmed) + " without quotes"
	case isText && k.Kind == Number && tree.Bare(trimmed) != "":
		hint = fmt.Sprintf("write %s alone, without quotes: the units of the file go for all of it", tree.Bare(trimmed))
	case isText && k.Kind == Switch && (trimmed == "true" || trimmed == "false"):
		hint = "write " + trimmed + " without quotes"
	case (k.Kind == Text || k.Kind == Word) && !n.IsTable && !n.IsList:
		hint = fmt.Sprintf("write \"%s\"", r.typed(n))
	case k.Kind == Subs && n.IsTable:
		hint = "its header has double brackets: " + k.Table.Header
		if typed := r.of(n.Val); strings.HasPrefix(typed, "{") {
			if typed = r.typed(n); !strings.HasSuffix(typed, "}") {
				typed = "{ ... }"
			}
			hint = fmt.Sprintf("there may be several: write %s = [%s]", k.Name, typed)
		}
	case k.Kind == Sub && n.IsList:
		hint = "its header has single brackets"
	case k.Kind == Clock:
		hint = fmt.Sprintf("write %s = { 12 = 0, 3 = 0.1, 6 = 0.2, 9 = 0.1 }", k.Name)
	case k.Kind == Sweep:
		hint = fmt.Sprintf("write %s = [[0, 0.0], [45, 0.02], [120, 0.11]]", k.Name)
	case k.Kind == Names && isText:
		hint = fmt.Sprintf("write %s = [%s]", k.Name, spelling.Quote(text))
	case k.Kind == Pair:
		hint = fmt.Sprintf("write %s = [1.0, 2.0]", k.Name)
	}
	if n.IsList && len(n.List) > 2 && (k.Kind == Pair || k.Kind == Sweep) {
		if comma := tree.FirstComma(r.of(n.Val)); comma != "" {
			hint += fmt.Sprintf("; is %s a decimal comma? write %s", comma, tree.Decimal(comma))
		}
	}
	r.fault(n.Val, fmt.Sprintf("%s is %s, it must be %s", what, r.shape(n), want), hint)
}

// shape is what a value is, for a message.
func (r *reader) shape(n *tree.Node) string {
	switch {
	case n.IsTable:
		return "a table"
	case n.IsList:
		return fmt.Sprintf("a list of %d", len(n.List))
	}
	switch v := n.Value.(type) {
	case string:
		return spelling.Quote(v)
	case time.Time:
		return "a date or time"
	}
	return r.typed(n)
}
