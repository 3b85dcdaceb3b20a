package rewrite

import (
	"fmt"
	"slices"
	"strings"

	"leastmove/train/trainfile/tree"
)

// An editor changes a text in place: what is not cut, replaced or added to stays as it
// is, comments too. Places are those of the text before any change.
type editor struct {
	text string
	cuts tree.Edits
}

// replace puts words in the place of a stretch; nothing: it is cut out.
func (e *editor) replace(at tree.Span, put string) {
	e.cuts = append(e.cuts, tree.Edit{At: at, Words: put})
}

// insert puts words between two bytes, after those that were put there before.
func (e *editor) insert(at int, put string) { e.replace(tree.Span{Start: at, End: at}, put) }

// edited is the text with all changes made, which must be one that can be read; what says which text it is.
func (e *editor) edited(what string) (string, error) {
	slices.SortStableFunc(e.cuts, func(a, b tree.Edit) int { return a.At.Start - b.At.Start })
	out := e.cuts.Apply(e.text)
	if _, err := tree.Decode(out, nil); err != nil {
		return "", fmt.Errorf("the file %s can't be read: %w", what, err)
	}
	return out, nil
}

// before is what stands on the same line before a place.
func (e *editor) before(at int) string {
	return e.text[strings.LastIndexByte(e.text[:at], '\n')+1 : at]
}

// indent are the blanks that the line of a place starts with.
func (e *editor) indent(at int) string {
	line := e.before(at)
	return line[:len(line)-len(strings.TrimLeft(line, " \t"))]
}

// lineEnd is where the line of a place ends, before its end of line, and what that is;
// the last line of a text may have none.
func (e *editor) lineEnd(at int) (int, string) {
	n := strings.IndexByte(e.text[at:], '\n')
	switch {
	case n < 0:
		return len(e.text), "\n"
	case n > 0 && e.text[at+n-1] == '\r':
		return at + n - 1, "\r\n"
	}
	return at + n, "\n"
}

// leads says whether nothing but the first keys of one with dots stands on the line
// before a key.
func (e *editor) leads(at int) bool { return !strings.ContainsAny(e.before(at), "{,=[") }

// above puts a line above that of a place, where nothing else stands on the line before
// it; false: something does.
func (e *editor) above(at int, line string) bool {
	blank := e.before(at)
	if strings.TrimLeft(blank, " \t") != "" {
		return false
	}
	_, end := e.lineEnd(at)
	e.insert(at-len(blank), blank+line+end)
	return true
}

// isHeader says whether a table or list starts with a header of its own.
func (e *editor) isHeader(n *tree.Node) bool { return e.text[n.Key.Start] == '[' }

// isInline says whether a table stands in braces.
func (e *editor) isInline(n *tree.Node) bool {
	return n.IsTable && strings.HasPrefix(e.text[n.Val.Start:], "{")
}

// isLine says whether a value stands on one line.
func (e *editor) isLine(n *tree.Node) bool {
	return !strings.Contains(e.text[n.Val.Start:n.Val.End], "\n")
}

// takeOut takes a statement out: of its own line, where a mark and a blank one stay, or of
// a table in braces with the comma that it then has no use for.
func (e *editor) takeOut(c *tree.Node, mark, blank string) {
	at := tree.Span{Start: c.Key.Start, End: c.Val.End}
	if e.leads(at.Start) && e.trails(at.End) {
		line, indent := e.before(at.Start), e.indent(at.Start)
		at.Start -= len(line) - len(indent)
		e.replace(at, mark+line[len(indent):]+blank) // with the first of keys with dots
		return
	}
	// Back over the first keys of one with dots.
	at.Start = strings.LastIndexAny(e.text[:at.Start], "{,") + 1
	put, rest := " ", e.text[at.End:]
	if after := strings.TrimLeft(rest, " \t\r\n"); strings.HasPrefix(after, ",") {
		at.End += len(rest) - len(after) + 1
	} else if strings.HasSuffix(e.text[:at.Start], ",") && !e.cutBefore(at.Start) {
		at.Start--
	}
	if strings.HasPrefix(e.text[at.End:], " ") {
		put = ""
	}
	e.replace(at, put)
}

// trails says whether nothing but a comma and a comment stands on the line after a value.
func (e *editor) trails(at int) bool {
	end, _ := e.lineEnd(at)
	rest := strings.TrimLeft(e.text[at:end], " \t")
	rest = strings.TrimLeft(strings.TrimPrefix(rest, ","), " \t")
	return rest == "" || rest[0] == '#'
}

// cutBefore says whether the comma that ends there is cut out already.
func (e *editor) cutBefore(end int) bool {
	return slices.ContainsFunc(e.cuts, func(c tree.Edit) bool { return c.At.End == end })
}
