package trainfile

import (
	"fmt"
	"strings"
)

// ToRead stands before every line that Emptied leaves to be filled in.
const ToRead = "# TO READ: "

// Emptied is the text of a train file without what was read: found misalignments,
// distances between shaft ends, what dials and other instruments showed, points of a
// survey, soft feet. All else stays as it is, comments too, and where a reading stood on a
// line of its own there is one to be filled in (ToRead); where it stood in braces beside
// other keys, a line above them says so. The text must be one that Read takes.
func Emptied(src []byte) (string, error) {
	return takenOut(src, func(e *emptier, root *node) {
		for _, m := range root.elements("machine") {
			for _, point := range m.elements("point") {
				for _, key := range [...]string{"v", "h", "running"} {
					e.drop(point, key)
				}
			}
		}
		e.softFeet(root)
		for _, c := range root.elements("coupling") {
			e.found(c)
			for _, d := range c.elements("reading") {
				for _, key := range [...]string{"clock", "opposite", "sweep", "file", "v", "h"} {
					e.drop(d, key)
				}
			}
		}
	})
}

// Bedded is the same without soft feet alone: their gaps were filled.
func Bedded(src []byte) (string, error) {
	return takenOut(src, (*emptier).softFeet)
}

// takenOut is the text of a train file without what is taken out.
func takenOut(src []byte, take func(*emptier, *node)) (string, error) {
	text := strings.TrimPrefix(string(src), "\ufeff")
	root, err := decode(text)
	if err != nil {
		return "", err
	}
	e := &emptier{editor{text: text}}
	take(e, root)
	out := e.edited()
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
type emptier struct{ editor }

// found takes out how a coupling was found.
func (e *emptier) found(c *node) {
	found := c.table["found"]
	switch {
	case found == nil:
	case e.isInline(found) && e.isLine(found):
		e.drop(c, "found") // all that it may hold was read
	default:
		for _, key := range [...]string{"v", "h", "gap", "taken"} {
			e.drop(found, key)
		}
	}
}

// softFeet takes out all soft feet.
func (e *emptier) softFeet(root *node) {
	for _, m := range root.elements("machine") {
		for _, f := range m.elements("foot") {
			e.soft(m.table["foot"], f)
		}
	}
}

// soft takes out the soft foot of a foot, or of the feet of a pair. Where it stood in
// braces, a line above them says so if they have a line of their own.
func (e *emptier) soft(list, f *node) {
	if f.table["soft"] != nil && e.isInline(f) {
		e.mark("soft of "+quote(f.text("name")), f.val.start, list.key.start)
	}
	e.drop(f, "soft")
	for _, side := range [...]string{"left", "right"} {
		own := f.table[side]
		switch {
		case own == nil || own.table["soft"] == nil:
		case e.isInline(own) && e.isLine(own) && len(own.order) == 1:
			if !e.leads(own.key.start) {
				e.mark("soft of "+side, f.val.start, list.key.start)
			}
			e.drop(f, side)
		case e.isInline(own):
			e.mark("soft of "+side, own.key.start, f.val.start, list.key.start)
			fallthrough
		default:
			e.drop(own, "soft")
		}
	}
}

// mark says above braces what was taken out of them: above the first of some places that
// starts a line.
func (e *emptier) mark(what string, places ...int) {
	for _, at := range places {
		if e.above(at, ToRead+what+", into the braces below") {
			return
		}
	}
}

// drop takes a key out of a table.
func (e *emptier) drop(n *node, key string) {
	c := n.table[key]
	switch {
	case c == nil:
	case !c.isTable || e.isInline(c):
		e.takeOut(c, ToRead, blank(c, key))
	default:
		// A table with a header of its own, or keys with dots.
		if c.headed {
			e.replace(c.key, ToRead+e.text[c.key.start:c.key.end])
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
		keys = append(keys, blank(c.table[k], k))
	}
	return key + " = { " + strings.Join(keys, ", ") + "}"
}

// text is the text that a key has; "" where it has none.
func (n *node) text(key string) string {
	if c := n.table[key]; c != nil {
		if words, is := c.value.(string); is {
			return words
		}
	}
	return ""
}
