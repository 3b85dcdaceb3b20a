package trainfile

import (
	"fmt"
	"math"

	"leastmove/train"
	"leastmove/train/trainfile/tree"
)

// A section is one table of the file after its keys have been looked at one by
// one: types, ranges, units, missing and unknown keys.
type section struct {
	node   *tree.Node
	table  *Table      // of keys, which has the defaults
	units  train.Units // of the file, of the defaults
	fields map[string]*field
	meant  map[string]bool // keys that unknown ones probably stand for
}

// A field is the value of one key. Where good is false the value has had its
// fault already and holds NaN or nothing.
type field struct {
	node    *tree.Node
	good    bool
	number  float64      // mm, mrad, 1/min, °C or bare
	thread  thread       // of a number that is given by a thread's name
	numbers []float64    // the same
	angles  []float64    // of clock and sweep: degrees clockwise from 12
	places  []*tree.Node // of numbers, or of the keys of shares
	names   []string     // of shares
	text    string
	on      bool
	sub     *section
	subs    []*section
}

// section looks at the keys of a table.
func (r *reader) section(n *tree.Node, t *Table) *section {
	s := &section{node: n, table: t, units: r.units, fields: map[string]*field{}, meant: map[string]bool{}}
	for _, name := range n.Order {
		c := n.Table[name]
		k := t.key(name)
		if k == nil {
			s.meant[r.unknownKey(c, name, t)] = true
			continue
		}
		f := &field{node: c, number: math.NaN()}
		s.fields[name] = f
		f.good = r.read(f, k)
	}
	for i := range t.Keys {
		if k := &t.Keys[i]; k.Required && s.fields[k.Name] == nil && !s.meant[k.Name] {
			r.fault(n.Key, fmt.Sprintf("%s is missing: %s", k.Name, k.Doc), k.example(r.units))
		}
	}
	return s
}

// has says whether the key is there at all, good or not.
func (s *section) has(key string) bool { return s.fields[key] != nil }

// tried says whether the key is there, or one that was probably meant to be it
// and has its fault.
func (s *section) tried(key string) bool { return s.has(key) || s.meant[key] }

// good says whether the key is there and had no fault.
func (s *section) good(key string) bool { return s.has(key) && s.fields[key].good }

// number is the key's number in the package's units: NaN if it had a fault, its table's default if it is not there.
func (s *section) number(key string) float64 {
	if f := s.fields[key]; f != nil {
		return f.number
	}
	return s.table.need(key).missing(s.units)
}

// numberOr is the same of a key whose default is not a number of its table, but follows from other keys.
func (s *section) numberOr(key string, missing float64) float64 {
	if f := s.fields[key]; f != nil {
		return f.number
	}
	return missing
}

// text is the key's text: "" if it had a fault, its table's default if it is not there.
func (s *section) text(key string) string {
	if f := s.fields[key]; f != nil {
		return f.text
	}
	return s.table.need(key).Default[s.units]
}

func (s *section) on(key string) bool { return s.has(key) && s.fields[key].on }

// list is the key's numbers; nil if it had a fault or is not there.
func (s *section) list(key string) []float64 {
	if !s.good(key) {
		return nil
	}
	return append([]float64{}, s.fields[key].numbers...)
}

// pair is the key's two numbers; two NaN if it had a fault.
func (s *section) pair(key string) [2]float64 {
	f := s.fields[key]
	switch {
	case f == nil:
		return [2]float64{}
	case !f.good:
		return [2]float64{math.NaN(), math.NaN()}
	}
	return [2]float64{f.numbers[0], f.numbers[1]}
}

// sub is the table under the key, an empty one if it is not there.
func (s *section) sub(key string) *section {
	if f := s.fields[key]; f != nil && f.sub != nil {
		return f.sub
	}
	return &section{node: s.node, table: s.table.need(key).Table, units: s.units}
}

func (s *section) subs(key string) []*section {
	if f := s.fields[key]; f != nil {
		return f.subs
	}
	return nil
}

// at is where the key's value stands; the table's header if it is not there.
func (s *section) at(key string) tree.Span {
	if f := s.fields[key]; f != nil {
		return f.node.Val
	}
	return s.node.Key
}

// key is where the key itself stands; the table's header if it is not there.
func (s *section) key(key string) tree.Span {
	if f := s.fields[key]; f != nil {
		return f.node.Key
	}
	return s.node.Key
}
