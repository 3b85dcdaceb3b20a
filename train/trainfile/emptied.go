package trainfile

import (
	"fmt"
	"slices"
	"strings"
)

// ToRead stands before every line that Emptied leaves to be filled in.
const ToRead = "# TO READ: "

// Emptied is the text of a train file without what was read: found misalignments,
// distances between shaft ends, what dials and other instruments showed, points of a
// survey, soft feet. All else stays as it is, comments too, and where a reading stood on a line
// of its own there is one to be filled in (ToRead). The text must be one that Read
// takes.
func Emptied(src []byte) (string, error) {
	text := strings.TrimPrefix(string(src), "\ufeff")
	root, err := decode(text)
	if err != nil {
		return "", err
	}
	e := &emptier{text: text}
	for _, m := range root.elements("machine") {
		for _, point := range m.elements("point") {
			for _, key := range [...]string{"v", "h", "running"} {
				e.drop(point, key)
			}
		}
		for _, f := range m.elements("foot") {
			e.drop(f, "soft")
			for _, side := range [...]string{"left", "right"} {
				if own := f.table[side]; own != nil {
					e.drop(own, "soft")
				}
			}
		}
	}
	for _, c := range root.elements("coupling") {
		if found := c.table["found"]; found != nil {
			for _, key := range [...]string{"v", "h", "gap", "taken"} {
				e.drop(found, key)
			}
		}
		for _, d := range c.elements("reading") {
			for _, key := range [...]string{"clock", "opposite", "sweep", "file", "v", "h"} {
				e.drop(d, key)
			}
		}
	}
	out := e.cut()
	if _, err := decode(out); err != nil {
		return "", fmt.Errorf("the file without its readings can't be read: %w", err)
	}
	return out, nil
}

// elements are the tables of a list; nil where there is none.
func (n *node) elements(key string) []*node {
	if n.table[key] == nil {
		return nil
	}
	return n.table[key].list
}

// An emptier cuts statements out of a text.
type emptier struct {
	text string
	cuts []cut
}

// A cut is a stretch of the text and what stands there after it.
type cut struct {
	span
	put string
}

// drop takes a key out of a table.
func (e *emptier) drop(n *node, key string) {
	c := n.table[key]
	switch {
	case c == nil:
	case !c.isTable || strings.HasPrefix(e.text[c.val.start:], "{"):
		e.statement(c, key, blank(c, key))
	default:
		// A table with a header of its own, or keys with dots.
		if c.headed {
			e.cuts = append(e.cuts, cut{c.key, ToRead + e.text[c.key.start:c.key.end]})
		}
		for _, k := range c.order {
			e.drop(c, k)
		}
	}
}

// blank is a statement without its values.
func blank(c *node, key string) string {
	if !c.isTable {
		return key + " = "
	}
	var keys []string
	for _, k := range c.order {
		keys = append(keys, k+" = ")
	}
	return key + " = { " + strings.Join(keys, ", ") + "}"
}

// statement cuts one out: of its own line, or of an inline table with the comma
// that it then has no use for.
func (e *emptier) statement(c *node, key, blank string) {
	at := span{c.key.start, c.val.end}
	before := e.text[:at.start]
	line := before[strings.LastIndexByte(before, '\n')+1:]
	if !strings.ContainsAny(line, "{,=[") {
		indent := line[:len(line)-len(strings.TrimLeft(line, " \t"))]
		prefix := strings.TrimLeft(line, " \t") // of a key with dots
		at.start -= len(line) - len(indent)
		e.cuts = append(e.cuts, cut{at, ToRead + prefix + blank})
		return
	}
	// Back over the first keys of one with dots.
	at.start = strings.LastIndexAny(before, "{,") + 1
	rest := e.text[at.end:]
	if after := strings.TrimLeft(rest, " \t\r\n"); strings.HasPrefix(after, ",") {
		at.end += len(rest) - len(after) + 1
	} else if strings.HasSuffix(e.text[:at.start], ",") && !e.cutBefore(at.start) {
		at.start--
	}
	e.cuts = append(e.cuts, cut{at, " "})
}

// cutBefore says whether the comma that ends there is cut out already.
func (e *emptier) cutBefore(end int) bool {
	return slices.ContainsFunc(e.cuts, func(c cut) bool { return c.end == end })
}

// cut is the text with all cuts made.
func (e *emptier) cut() string {
	slices.SortFunc(e.cuts, func(a, b cut) int { return a.start - b.start })
	var b strings.Builder
	at := 0
	for _, c := range e.cuts {
		b.WriteString(e.text[at:c.start])
		b.WriteString(c.put)
		at = c.end
	}
	b.WriteString(e.text[at:])
	return b.String()
}
