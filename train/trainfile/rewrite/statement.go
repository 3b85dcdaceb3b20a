package rewrite

import (
	"fmt"
	"strings"

	"leastmove/train/trainfile/tree"
)

// This file sets keys in a text: it changes the value that stands there, or adds a
// statement to the table where it belongs, in the form that the table has: between braces,
// on a line under its header, or on a line with dots.

// A statement is a key, with the keys above it, and its value as it is written.
type statement struct {
	path  []string
	value string
}

// add adds statements to a table that has none of them; those for a table in it go there.
func (e *editor) add(n *tree.Node, all ...statement) {
	var own []statement
	inner := map[string][]statement{}
	var order []string
	for _, s := range all {
		first := s.path[0]
		if sub := n.Table[first]; sub == nil || len(s.path) == 1 {
			own = append(own, s)
			continue
		}
		if inner[first] == nil {
			order = append(order, first)
		}
		inner[first] = append(inner[first], statement{s.path[1:], s.value})
	}
	for _, key := range order {
		e.add(n.Table[key], inner[key]...)
	}
	if words := folded(own); len(words) > 0 {
		e.put(n, words)
	}
}

// folded are statements as they are written, those of one table in braces.
func folded(all []statement) [][2]string {
	var out [][2]string
	var order []string
	inner := map[string][]statement{}
	for _, s := range all {
		if len(s.path) > 1 {
			if inner[s.path[0]] == nil {
				order = append(order, s.path[0])
			}
			inner[s.path[0]] = append(inner[s.path[0]], statement{s.path[1:], s.value})
			continue
		}
		out = append(out, [2]string{s.path[0], s.value})
	}
	for _, key := range order {
		out = append(out, [2]string{key, braced(inner[key])})
	}
	return out
}

// braced is a table of statements in braces.
func braced(all []statement) string {
	var words []string
	for _, s := range folded(all) {
		words = append(words, s[0]+" = "+s[1])
	}
	return "{ " + strings.Join(words, ", ") + " }"
}

// put writes keys and values into a table.
func (e *editor) put(n *tree.Node, words [][2]string) {
	last := e.last(n)
	switch {
	case e.isInline(n) && last == nil:
		e.insert(n.Val.Start+1, " "+listed("", words)+" ")
	case e.isInline(n):
		e.insert(last.Val.End, ", "+listed("", words))
	case e.isHeader(n) && !n.Headed && !strings.HasPrefix(e.text[n.Key.Start:], "[["):
		// Only a table in it has a header: this one gets its own before that.
		header := e.text[n.Key.Start+1 : n.Key.End-1]
		_, end := e.lineEnd(n.Key.Start)
		lines := ""
		for _, w := range words {
			lines += w[0] + " = " + w[1] + end
		}
		e.insert(n.Key.Start, "["+header[:strings.LastIndexByte(header, '.')]+"]"+end+lines)
	case last == nil:
		at, end := e.lineEnd(n.Key.End)
		for _, w := range words {
			e.insert(at, end+e.indent(n.Key.Start)+w[0]+" = "+w[1])
		}
	case e.isHeader(n):
		e.lines(last, "", words)
	default: // keys with dots
		before := e.before(n.Key.Start)
		lead := before[strings.LastIndexAny(before, "{,")+1:]
		lead = strings.TrimLeft(lead, " \t") + e.text[n.Key.Start:n.Key.End] + "."
		if e.leads(n.Key.Start) {
			e.lines(last, lead, words)
		} else {
			e.insert(last.Val.End, ", "+listed(lead, words))
		}
	}
}

func listed(lead string, words [][2]string) string {
	var out []string
	for _, w := range words {
		out = append(out, lead+w[0]+" = "+w[1])
	}
	return strings.Join(out, ", ")
}

// lines puts lines below that of another statement, their signs of equality under its own
// where there is room.
func (e *editor) lines(above *tree.Node, lead string, words [][2]string) {
	at, end := e.lineEnd(above.Val.End)
	key := len(e.before(above.Key.Start)) - len(e.indent(above.Key.Start)) + above.Key.End - above.Key.Start
	gap := e.text[above.Key.End:above.Val.Start]
	width := key + max(0, strings.IndexByte(gap, '='))
	for _, w := range words {
		e.insert(at, end+e.indent(above.Key.Start)+fmt.Sprintf("%-*s= %s", width, lead+w[0]+" ", w[1]))
	}
}

// last is the last statement of a table that stands under no other header; nil: there is
// none.
func (e *editor) last(n *tree.Node) *tree.Node {
	var last *tree.Node
	for _, c := range n.Table {
		switch {
		case e.isHeader(c):
			continue
		case c.IsTable && !e.isInline(c):
			c = e.last(c)
		}
		if c != nil && (last == nil || c.Val.End > last.Val.End) {
			last = c
		}
	}
	return last
}
