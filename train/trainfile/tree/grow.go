package tree

import (
	"errors"
	"fmt"
	"strings"
	"unicode/utf8"

	"github.com/pelletier/go-toml/v2/unstable"

	"leastmove/train/spelling"
)

// A grower makes the tree of places.
type grower struct {
	parser  *unstable.Parser
	text    string
	values  int // seen so far
	headers Headers
	mended  Edits    // headers that were read as others
	wrong   []*Error // the same as errors
}

// count counts one value more.
func (g *grower) count(at Span) error {
	if g.values++; g.values > MostValues {
		return &Error{At: at, Message: fmt.Sprintf("the file has more than %d values", MostValues),
			Hint: "a train of a dozen machines has some hundreds"}
	}
	return nil
}

// places is the tree of all keys in the source with their places, without
// values. What was read as another header is told by the edits that would make it so.
func places(text string, headers *Headers) (root *Node, mended Edits, err error) {
	g := grower{parser: &unstable.Parser{}, text: text}
	if headers != nil {
		g.headers = *headers
	}
	g.parser.Reset([]byte(text))
	root = newTable(Span{})
	root.Val = Span{0, len(text)}
	current, depth := root, 0
	for g.parser.NextExpression() {
		e := g.parser.Expression()
		switch e.Kind {
		case unstable.Table, unstable.ArrayTable:
			current, depth, err = g.header(root, e)
		case unstable.KeyValue:
			err = g.keyValue(current, e, depth)
		}
		if err != nil {
			break
		}
	}
	if failed := g.parser.Error(); failed != nil && err == nil {
		err = g.syntax(failed)
	}
	if err != nil {
		err.(*Error).wrong = g.wrong
		return nil, nil, err
	}
	root.Wrong = g.wrong
	return root, g.mended, nil
}

// syntax is the place and the plain words of what the parser stopped at.
func (g *grower) syntax(err error) error {
	out := &Error{Message: "not TOML: " + err.Error()}
	var p *unstable.ParserError
	if errors.As(err, &p) {
		r := g.parser.Range(p.Highlight)
		out.At = Span{int(r.Offset), int(r.Offset + r.Length)}
		out.say(g.text, p.Message)
		if c, n := utf8.DecodeRuneInString(g.text[out.At.Start:]); c >= utf8.RuneSelf && strings.Contains(p.Message, "key") {
			out.At.End = out.At.Start + n
			out.Message, out.Hint = fmt.Sprintf("%q can't stand in a key", c), "keys are plain letters, digits, _ and -"
			out.instead = "_"
		}
	}
	return out
}

// header is the table that a line such as [a.b] or [[a.b]] opens, and how deep
// it is.
func (g *grower) header(root *Node, e *unstable.Node) (*Node, int, error) {
	keys, double := g.keys(e.Key()), e.Kind == unstable.ArrayTable
	at := g.brackets(Span{keys[0].at.Start, keys[len(keys)-1].at.End}, double)
	keys, double = g.meant(root, keys, double, at)
	final := keys[len(keys)-1]
	if len(keys) > Deepest {
		return nil, 0, tooDeep(at)
	}
	if err := g.count(at); err != nil {
		return nil, 0, err
	}
	n := root
	for _, k := range keys[:len(keys)-1] {
		if err := g.count(at); err != nil {
			return nil, 0, err
		}
		n = n.child(k.name, at).last()
	}
	if !double {
		c := n.Table[final.name]
		if c == nil {
			c = newTable(at)
			n.add(final.name, c)
		} else if c.IsList && g.text[c.Key.Start] == '[' {
			header := doubled(keys)
			return nil, 0, &Error{At: at, Message: fmt.Sprintf("%s has single brackets, and %s on line %d has double ones",
				header[1:len(header)-1], header, g.line(c)), Hint: "write " + header + " each time: there may be several"}
		} else if c.Headed {
			hint := fmt.Sprintf("it was given on line %d", g.line(c))
			if len(keys) > 1 {
				hint += fmt.Sprintf("; or is [[%s]] left out between them?", keys[len(keys)-2].name)
			}
			return nil, 0, &Error{At: at, Hint: hint,
				Message: fmt.Sprintf("table %s is given twice", spelling.Quote(final.name))}
		}
		c.Headed = true
		return c.last(), len(keys), nil
	}
	c := n.Table[final.name]
	if c == nil {
		c = &Node{Key: at, Val: at, IsList: true}
		n.add(final.name, c)
	}
	if !c.IsList {
		return nil, 0, g.otherwise(c, keys, at)
	}
	element := newTable(at)
	c.List = append(c.List, element)
	return element, len(keys), nil
}

// meant are the keys and brackets that a header is read with: those of the known one that it most likely stands
// for, where it is wrong and that leads to no other fault.
func (g *grower) meant(root *Node, keys []placedKey, double bool, at Span) ([]placedKey, bool) {
	if g.headers.Meant == nil {
		return keys, double
	}
	var names []string
	for _, k := range keys {
		names = append(names, k.name)
	}
	known, repeated := g.headers.Meant(names, double)
	if known == nil {
		return keys, double
	}
	n := root
	for _, name := range known[:len(known)-1] {
		if n = n.Table[name]; n == nil {
			break
		}
		n = n.last()
	}
	if n != nil {
		if c := n.Table[known[len(known)-1]]; c != nil && (!repeated || !c.IsList) {
			return keys, double
		}
	}
	read := make([]placedKey, len(known))
	for i, name := range known {
		read[i] = placedKey{name, keys[i].at}
	}
	header := doubled(read)
	if !repeated {
		header = header[1 : len(header)-1]
	}
	g.mended = append(g.mended, Edit{at, header})
	typed := spelling.Printable(g.text[at.Start:at.End])
	wrong := &Error{At: at, Message: "unknown table " + typed, Hint: "did you mean " + header + "?"}
	if "["+typed+"]" == header {
		wrong.Message, wrong.Hint = typed+" has single brackets", "write "+header+" each time: there may be several"
	}
	g.wrong = append(g.wrong, wrong)
	return read, repeated
}

// otherwise says what is wrong where a header with double brackets comes after
// what gave its name as one table, or as a value. The first of the two is the one
// to mend, but for a value.
func (g *grower) otherwise(c *Node, keys []placedKey, at Span) error {
	header := doubled(keys)
	here := strings.Count(g.text[:at.Start], "\n") + 1
	switch known := g.headers.Repeated != nil && g.headers.Repeated(header); {
	case known && strings.HasPrefix(g.text[c.Key.Start:], "["):
		return &Error{At: c.Key,
			Message: fmt.Sprintf("this table belongs under %s, the first of which is on line %d", header, here),
			Hint:    "write " + header + " on a line above it: what belongs to a table comes after its header"}
	}
	return &Error{At: at,
		Message: fmt.Sprintf("%s was already given as something else", spelling.Quote(keys[len(keys)-1].name)),
		Hint:    fmt.Sprintf("it was given on line %d", g.line(c))}
}

// line is the line of a node's key.
func (g *grower) line(n *Node) int { return strings.Count(g.text[:n.Key.Start], "\n") + 1 }

// doubled is a header of keys in double brackets.
func doubled(keys []placedKey) string {
	var names []string
	for _, k := range keys {
		names = append(names, k.name)
	}
	return "[[" + strings.Join(names, ".") + "]]"
}

// brackets widens the place of a header's keys to its brackets.
func (g *grower) brackets(p Span, double bool) Span {
	n := 1
	if double {
		n = 2
	}
	start := strings.LastIndexByte(g.text[:p.Start], '[') + 1 - n
	end := strings.IndexByte(g.text[p.End:], ']') + p.End + n
	if start < 0 || end > len(g.text) {
		return p
	}
	return Span{start, end}
}

type placedKey struct {
	name string
	at   Span
}

func (g *grower) keys(it unstable.Iterator) []placedKey {
	var keys []placedKey
	for it.Next() && len(keys) <= Deepest { // one more than is read, to be refused
		k := it.Node()
		keys = append(keys, placedKey{string(k.Data), rangeOf(k)})
	}
	return keys
}

func rangeOf(n *unstable.Node) Span {
	return Span{int(n.Raw.Offset), int(n.Raw.Offset + n.Raw.Length)}
}

func tooDeep(at Span) error {
	return &Error{At: at, Message: fmt.Sprintf("tables and arrays nested more than %d deep", Deepest)}
}

// keyValue puts one line (or one entry of an inline table) into its table.
func (g *grower) keyValue(n *Node, e *unstable.Node, depth int) error {
	keys := g.keys(e.Key())
	if depth+len(keys) > Deepest {
		return tooDeep(Span{keys[0].at.Start, keys[len(keys)-1].at.End})
	}
	for _, k := range keys[:len(keys)-1] {
		if err := g.count(k.at); err != nil {
			return err
		}
		if c := n.Table[k.name]; c != nil && !c.IsTable && !c.IsList {
			return &Error{At: k.at, Message: fmt.Sprintf("key %s has a value on line %d, and here keys below it",
				spelling.Quote(k.name), g.line(c)), Hint: "a point in a key leads to one below it; between " +
				"the hours of a clock use sweep, in degrees"}
		}
		n = n.child(k.name, k.at).last()
	}
	final := keys[len(keys)-1]
	if before := n.Table[final.name]; before != nil {
		return &Error{At: final.at, Message: fmt.Sprintf("key %s is given twice", spelling.Quote(final.name)),
			Hint: fmt.Sprintf("it was given on line %d; or is a header left out between them?", g.line(before))}
	}
	// The value is what follows the keys and the equals sign.
	whole := rangeOf(e)
	at := Span{final.at.End, whole.End}
	for at.Start < at.End && strings.IndexByte(" \t=", g.text[at.Start]) >= 0 {
		at.Start++
	}
	c, err := g.valueNode(e.Value(), at, depth+len(keys))
	if err != nil {
		return err
	}
	c.Key = final.at
	n.add(final.name, c)
	return nil
}

// valueNode is the node of a value that stands at a place.
func (g *grower) valueNode(v *unstable.Node, at Span, depth int) (*Node, error) {
	if depth > Deepest {
		return nil, tooDeep(at)
	}
	if err := g.count(at); err != nil {
		return nil, err
	}
	n := &Node{Key: at, Val: at}
	switch v.Kind {
	case unstable.InlineTable:
		n.IsTable = true
		n.Table = map[string]*Node{}
		for it := v.Children(); it.Next(); {
			if err := g.keyValue(n, it.Node(), depth); err != nil {
				return nil, err
			}
		}
	case unstable.Array:
		n.IsList = true
		for it := v.Children(); it.Next(); {
			e := it.Node()
			// The parser gives arrays in arrays no place of their own.
			place := rangeOf(e)
			if place.Start == place.End {
				place = at
			}
			c, err := g.valueNode(e, place, depth+1)
			if err != nil {
				return nil, err
			}
			n.List = append(n.List, c)
		}
	}
	return n, nil
}
