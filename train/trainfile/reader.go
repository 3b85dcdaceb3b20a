package trainfile

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"leastmove/train"
	"leastmove/train/spelling"
	"leastmove/train/trainfile/tree"
)

// A reader gathers what is wrong in one file.
type reader struct {
	*source
	options  Options
	units    train.Units
	unknown  bool // the units could not be read: sizes can't be judged
	report   Report
	noted    [Note + 1]int    // faults found, by severity
	unusual  []unusual        // numbers in range that are doubtful
	guesses  int              // nearest words looked for
	nameless bool             // a machine has no name that can be used
	byName   map[string][]int // machines
	ends     []string         // all that a coupling may name
	plant    []band           // of the file that options name
	unbanded bool             // that file has faults
	bandsOf  string           // words for where the bands are from; "": this file
}

// mostGuesses bounds the search for nearest words in a file that is wrong
// throughout.
const mostGuesses = 200

// mostFaults bounds the faults of each severity, so that a file of another kind
// altogether is refused in short time.
const mostFaults = 1000

// fault notes an error.
func (r *reader) fault(at tree.Span, message, hint string) { r.note(at, Error, message, hint) }

// warn notes a warning.
func (r *reader) warn(at tree.Span, message, hint string) { r.note(at, Warning, message, hint) }

func (r *reader) note(at tree.Span, severity Severity, message, hint string) {
	r.noted[severity]++
	switch n := r.noted[severity]; {
	case n == mostFaults+1:
		at = tree.Span{Start: len(r.text), End: len(r.text)}
		message, hint = fmt.Sprintf("more than %d faults like this, the others are not shown", mostFaults), ""
		fallthrough
	case n <= mostFaults:
		r.report = append(r.report, r.source.fault(at, severity, message, hint))
	}
}

// example is a line that gives the key.
func (k *Key) example(u train.Units) string {
	switch k.Kind {
	case Text:
		return fmt.Sprintf("write %s = \"...\"", k.Name)
	case Word:
		return fmt.Sprintf("write %s = %q", k.Name, k.Words[0])
	case Subs:
		return "write " + k.Table.Header
	case Number:
		if unit := k.Unit.In(u); unit != "" {
			return fmt.Sprintf("give it in %s", unit)
		}
	}
	return ""
}

// unknownKey faults a key that the table does not have, and is the key that
// was probably meant.
func (r *reader) unknownKey(c *tree.Node, name string, t *Table) string {
	if r.noted[Error] > mostFaults {
		return ""
	}
	hint, near := "", r.nearest(name, t.names())
	if near != "" {
		hint = fmt.Sprintf("did you mean %q?", near)
	} else if said := otherwise(name, t); said != "" {
		hint = said
	} else if home := r.home(name); home != "" {
		hint = fmt.Sprintf("%s belongs to %s", name, home)
	} else if len(t.Keys) > 0 {
		hint = "known here: " + strings.Join(t.names(), ", ")
	}
	r.fault(c.Key, "unknown key "+spelling.Quote(name), hint)
	return near
}

// otherwise says how a table states what people look for under another key; "" where nothing is known of that.
func otherwise(name string, t *Table) string {
	for _, o := range [...]struct{ names, key, says string }{
		{"bolt_bound bolt-bound boltbound bound", "travel",
			"a bolt that has no way left to one side: travel = { right = 0 }, or left = 0"},
		{"base_bound base-bound no_shims", "lower", "where nothing can come out: lower = 0"},
		{"soft_foot softfoot", "soft", "the gap under a foot: soft = ..."},
		{"thickness pack shim_pack shims", "shim", "the pack that lies there now: shim = ..."},
		{"speed n", "rpm", "speed in 1/min: rpm = ..."},
		{"tolerance tolerances limits", "limit", "limits: limit = { offset = ..., angle = ... }"},
		{"thermal thermal_growth expansion", "growth", "from cold to running, at a station or more: growth = [{ v = ... }]"},
		{"bar_sag", "sag", "what the bar reads at 6 on a stiff pipe: sag = ..."},
	} {
		if t.key(o.key) != nil && slices.Contains(strings.Fields(o.names), strings.ToLower(name)) {
			return o.says
		}
	}
	return ""
}

// home is the first table that knows a key.
func (r *reader) home(name string) string {
	for _, t := range Tables() {
		if t.key(name) != nil {
			return t.Header
		}
	}
	return ""
}

// typed is a value as the user typed it, on one line.
func (r *reader) typed(n *tree.Node) string {
	s := r.of(n.Val)
	if i := strings.IndexAny(s, "\r\n"); i >= 0 {
		s = s[:i] + "..."
	}
	const most = 40 // characters
	for n, i := 0, 0; i < len(s); n++ {
		if n == most {
			s = s[:i] + "..."
			break
		}
		_, size := utf8.DecodeRuneInString(s[i:])
		i += size
	}
	return spelling.Printable(s)
}

// value is the key's value as the user typed it, with its unit.
func (r *reader) value(s *section, key string, q Unit) string {
	f := s.fields[key]
	v := r.typed(f.node)
	if f.thread.named {
		return v + " (" + r.show(f.number, q) + ")"
	}
	if unit := q.In(r.units); unit != "" {
		v += " " + unit
	}
	return v
}

// show is a value of the package in the file's units, with its unit: what was
// typed to five decimals, and sums of it, to the last one, all else to five
// figures.
func (r *reader) show(v float64, q Unit) string {
	v /= q.size(r.units)
	s := figure(v)
	if exact := math.Round(v*1e5) / 1e5; math.Abs(v-exact) < 1e-10*math.Max(1, math.Abs(v)) {
		s = strconv.FormatFloat(exact, 'f', -1, 64)
	}
	if unit := q.In(r.units); unit != "" {
		s += " " + unit
	}
	return s
}
