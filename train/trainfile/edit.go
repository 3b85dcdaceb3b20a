package trainfile

import (
	"slices"
	"strings"
)

// An editor changes a text in place: what is not cut, replaced or added to stays as it
// is, comments too. Places are those of the text before any change.
type editor struct {
	text string
	cuts []cut
}

// A cut is a stretch of the text and what stands there after it.
type cut struct {
	span
	put string
}

// replace puts words in the place of a stretch; nothing: it is cut out.
func (e *editor) replace(at span, put string) { e.cuts = append(e.cuts, cut{at, put}) }

// insert puts words between two bytes, after those that were put there before.
func (e *editor) insert(at int, put string) { e.replace(span{at, at}, put) }

// edited is the text with all changes made.
func (e *editor) edited() string {
	slices.SortStableFunc(e.cuts, func(a, b cut) int { return a.start - b.start })
	var b strings.Builder
	at := 0
	for _, c := range e.cuts {
		b.WriteString(e.text[at:max(at, c.start)])
		b.WriteString(c.put)
		at = max(at, c.end)
	}
	b.WriteString(e.text[at:])
	return b.String()
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
func (e *editor) isHeader(n *node) bool { return e.text[n.key.start] == '[' }

// isInline says whether a table stands in braces.
func (e *editor) isInline(n *node) bool {
	return n.isTable && strings.HasPrefix(e.text[n.val.start:], "{")
}

// isLine says whether a value stands on one line.
func (e *editor) isLine(n *node) bool { return !strings.Contains(e.text[n.val.start:n.val.end], "\n") }

// takeOut takes a statement out: of its own line, where a mark and a blank one stay, or of
// a table in braces with the comma that it then has no use for.
func (e *editor) takeOut(c *node, mark, blank string) {
	at := span{c.key.start, c.val.end}
	if e.leads(at.start) && e.trails(at.end) {
		line, indent := e.before(at.start), e.indent(at.start)
		at.start -= len(line) - len(indent)
		e.replace(at, mark+line[len(indent):]+blank) // with the first of keys with dots
		return
	}
	// Back over the first keys of one with dots.
	at.start = strings.LastIndexAny(e.text[:at.start], "{,") + 1
	put, rest := " ", e.text[at.end:]
	if after := strings.TrimLeft(rest, " \t\r\n"); strings.HasPrefix(after, ",") {
		at.end += len(rest) - len(after) + 1
	} else if strings.HasSuffix(e.text[:at.start], ",") && !e.cutBefore(at.start) {
		at.start--
	}
	if strings.HasPrefix(e.text[at.end:], " ") {
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
	return slices.ContainsFunc(e.cuts, func(c cut) bool { return c.end == end })
}
