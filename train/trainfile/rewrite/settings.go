package rewrite

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"leastmove/train/trainfile/tree"
)

// A Setting is a value that a train file is to have.
type Setting struct {
	Path  []string // keys from the top, elements of lists by their number from 0
	Value string   // as the file has it: a number, true, a text in quotes
}

// A Text is a train file whose values are looked at and set by their paths.
type Text struct {
	text string
	root *tree.Node
}

// Open takes a text apart. It is one that trainfile.Read takes.
func Open(src []byte) (*Text, error) {
	text := strings.TrimPrefix(string(src), "\ufeff")
	root, err := tree.Decode(text, nil)
	if err != nil {
		return nil, err
	}
	return &Text{text, root}, nil
}

// Value is what stands at a path, as the file has it; "" where nothing does, or a table or list.
func (t *Text) Value(path ...string) string {
	n := t.at(path)
	if n == nil || n.IsTable || n.IsList || n.Val.End > len(t.text) {
		return ""
	}
	return t.text[n.Val.Start:n.Val.End]
}

// Len is how many elements the list at a path has.
func (t *Text) Len(path ...string) int {
	if n := t.at(path); n != nil {
		return len(n.List)
	}
	return 0
}

// Keys are those of the table at a path, in their order.
func (t *Text) Keys(path ...string) []string {
	if n := t.at(path); n != nil {
		return n.Order
	}
	return nil
}

// at is what stands at a path; nil: nothing.
func (t *Text) at(path []string) *tree.Node {
	n := t.root
	for _, key := range path {
		if n = below(n, key); n == nil {
			return nil
		}
	}
	return n
}

// below is what a key or the number of an element leads to; nil: nothing.
func below(n *tree.Node, key string) *tree.Node {
	if !n.IsList {
		return n.Table[key]
	}
	if i, err := strconv.Atoi(key); err == nil && i >= 0 && i < len(n.List) {
		return n.List[i]
	}
	return nil
}

// With is the text with values set: in their places, or added to the tables that are there. All
// else stays as it is, comments too.
func (t *Text) With(all []Setting) (string, error) {
	e := &editor{text: t.text}
	type owned struct {
		table *tree.Node
		all   []statement
	}
	var added []owned
	for _, s := range all {
		n, rest := t.root, s.Path
		for len(rest) > 0 {
			next := below(n, rest[0])
			if next == nil {
				break
			}
			n, rest = next, rest[1:]
		}
		switch {
		case len(rest) == 0 && (n.IsTable || n.IsList), len(rest) > 0 && (!n.IsTable || n == t.root), len(s.Path) == 0:
			return "", fmt.Errorf("the file has no place for %s", strings.Join(s.Path, "."))
		case len(rest) == 0:
			e.replace(n.Val, s.Value)
			continue
		}
		at := slices.IndexFunc(added, func(o owned) bool { return o.table == n })
		if at < 0 {
			at, added = len(added), append(added, owned{table: n})
		}
		added[at].all = append(added[at].all, statement{rest, s.Value})
	}
	for _, o := range added {
		e.add(o.table, listed0(o.all)...)
	}
	return e.edited("with the changes")
}

// listed0 are statements for a table, those for the first element of a list that is not there
// as a list of one table: growth.0.v and growth.0.h are growth = [{ v = 1, h = 2 }].
func listed0(all []statement) []statement {
	var out []statement
	lists := map[string]int{}
	for _, s := range all {
		if len(s.path) != 3 || s.path[1] != "0" {
			out = append(out, s)
			continue
		}
		word := s.path[2] + " = " + s.value
		if at, there := lists[s.path[0]]; there {
			out[at].value = strings.TrimSuffix(out[at].value, " }]") + ", " + word + " }]"
			continue
		}
		lists[s.path[0]] = len(out)
		out = append(out, statement{s.path[:1], "[{ " + word + " }]"})
	}
	return out
}
