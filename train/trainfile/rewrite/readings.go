// Package rewrite carries a train file over to the next job on the same train: it changes the text of
// the file and leaves all else in it as it is, comments too.
//
// readings.go takes out what was read, moves.go writes what a plan's moves change; statement.go and
// edit.go change the text for both, by the places that package tree gives.
package rewrite

import (
	"strings"

	"leastmove/train/spelling"
	"leastmove/train/trainfile/tree"
)

// WithoutReadings is the text of a train file without what was read: found misalignments,
// distances between shaft ends, what dials and other instruments showed, points of a
// survey, soft feet. All else stays as it is, comments too, and where a reading stood on a
// line of its own, or in braces on one, there is one to be filled in (tree.ToRead); where it
// stood in other braces, a line above them says so. The text must be one that trainfile.Read takes.
func WithoutReadings(src []byte) (string, error) {
	return taken(src, func(e *remover, root *tree.Node) {
		for _, m := range root.Elements("machine") {
			e.read(m.Table["point"], "v", "h", "running")
		}
		e.softFeet(root)
		for _, c := range root.Elements("coupling") {
			e.found(c)
			e.read(c.Table["reading"], "clock", "opposite", "sweep", "file", "v", "h")
		}
	})
}

// SoftFootCorrected is the same without soft feet alone: their gaps were filled.
func SoftFootCorrected(src []byte) (string, error) {
	return taken(src, (*remover).softFeet)
}

// taken is the text of a train file without what is taken out.
func taken(src []byte, take func(*remover, *tree.Node)) (string, error) {
	file, err := Open(src)
	if err != nil {
		return "", err
	}
	e := &remover{editor{text: file.text}}
	take(e, file.root)
	return e.edited("without its readings")
}

// A remover cuts statements out of a text.
type remover struct{ editor }

// found takes out how a coupling was found.
func (e *remover) found(c *tree.Node) {
	found := c.Table["found"]
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

// read takes what was read out of the elements of a list. A list or braces on a line of their
// own stay as a line to be filled in, with blanks where values stood.
func (e *remover) read(list *tree.Node, keys ...string) {
	if list == nil {
		return
	}
	whole := e.leads(list.Key.Start) && e.trails(list.Val.End) && e.isLine(list) && !e.isHeader(list)
	if whole {
		start := list.Key.Start - len(strings.TrimLeft(e.before(list.Key.Start), " \t"))
		e.insert(start, tree.ToRead)
	}
	for _, d := range list.List {
		var there []string
		for _, key := range keys {
			if d.Table[key] != nil {
				there = append(there, key)
			}
		}
		switch {
		case len(there) == 0:
		case whole:
			e.empty(d, there)
		case e.isInline(d) && e.alone(d):
			e.insert(d.Val.Start, tree.ToRead)
			e.empty(d, there)
		default:
			if e.isInline(d) {
				e.mark(strings.Join(there, " and "), d.Val.Start, list.Key.Start)
			}
			for _, key := range there {
				e.drop(d, key)
			}
		}
	}
}

// alone says whether braces stand on a line of their own; the end of the list behind them goes
// to the next one.
func (e *remover) alone(d *tree.Node) bool {
	end := e.last(d).Val.End // the tree has no place for the end of braces in a list
	end += strings.IndexByte(e.text[end:], '}') + 1
	if strings.TrimLeft(e.before(d.Val.Start), " \t") != "" || strings.Contains(e.text[d.Val.Start:end], "\n") {
		return false
	}
	rest := e.text[end:]
	if after := strings.TrimLeft(rest, " \t"); strings.HasPrefix(after, "]") {
		_, line := e.lineEnd(end)
		e.replace(tree.Span{Start: end, End: end + len(rest) - len(after)}, line)
		return true
	}
	return e.trails(end)
}

// empty leaves keys in braces, with blanks in place of their values. A dial keeps the nought at
// its first place, where it was zeroed.
func (e *remover) empty(d *tree.Node, keys []string) {
	for _, key := range keys {
		c := d.Table[key]
		switch {
		case !c.IsTable:
			e.blank(c.Val)
		case !e.isInline(c):
			e.drop(d, key)
		default:
			for n, k := range c.Order {
				v := c.Table[k].Val
				if n > 0 || strings.Trim(e.text[v.Start:v.End], "0.") != "" {
					e.blank(v)
				}
			}
		}
	}
}

// blank cuts a value out, with the blank after it.
func (e *remover) blank(at tree.Span) {
	if strings.HasPrefix(e.text[at.End:], " ") {
		at.End++
	}
	e.replace(at, "")
}

// softFeet takes out all soft feet.
func (e *remover) softFeet(root *tree.Node) {
	for _, m := range root.Elements("machine") {
		for _, f := range m.Elements("foot") {
			e.soft(m.Table["foot"], f)
		}
	}
}

// soft takes out the soft foot of a foot, or of the feet of a pair. Where it stood in
// braces, a line above them says so if they have a line of their own.
func (e *remover) soft(list, f *tree.Node) {
	if f.Table["soft"] != nil && e.isInline(f) {
		e.mark("soft of "+spelling.Quote(f.Text("name")), f.Val.Start, list.Key.Start)
	}
	e.drop(f, "soft")
	for _, side := range [...]string{"left", "right"} {
		own := f.Table[side]
		switch {
		case own == nil || own.Table["soft"] == nil:
		case e.isInline(own) && e.isLine(own) && len(own.Order) == 1:
			if !e.leads(own.Key.Start) {
				e.mark("soft of "+side, f.Val.Start, list.Key.Start)
			}
			e.drop(f, side)
		case e.isInline(own):
			e.mark("soft of "+side, own.Key.Start, f.Val.Start, list.Key.Start)
			fallthrough
		default:
			e.drop(own, "soft")
		}
	}
}

// mark says above braces what was taken out of them: above the first of some places that
// starts a line.
func (e *remover) mark(what string, places ...int) {
	for _, at := range places {
		if e.above(at, tree.ToRead+what+", into the braces below") {
			return
		}
	}
}

// drop takes a key out of a table.
func (e *remover) drop(n *tree.Node, key string) {
	c := n.Table[key]
	switch {
	case c == nil:
	case !c.IsTable || e.isInline(c):
		e.takeOut(c, tree.ToRead, blank(c, key))
	default:
		// A table with a header of its own, or keys with dots.
		if c.Headed {
			e.replace(c.Key, tree.ToRead+e.text[c.Key.Start:c.Key.End])
		}
		for _, k := range c.Order {
			e.drop(c, k)
		}
	}
}

// blank is a statement without its values.
func blank(c *tree.Node, key string) string {
	if !c.IsTable {
		return key + " = "
	}
	var keys []string
	for _, k := range c.Order {
		keys = append(keys, blank(c.Table[k], k))
	}
	return key + " = { " + strings.Join(keys, ", ") + "}"
}
