package trainfile

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"github.com/pelletier/go-toml/v2/unstable"
)

// A node is one value of the file: where it stands, and what it is. Places
// come from one parser and values from another; see decode.go.
type node struct {
	key     span             // its key or table header
	val     span             // its value; of a table with a header, the header
	value   any              // a bool, int64, float64, string or time; nil for tables and lists
	isTable bool             // table and order hold its keys
	isList  bool             // list holds its elements
	headed  bool             // a table that had its header
	table   map[string]*node // by key
	order   []string         // keys in file order
	list    []*node
}

func newTable(at span) *node {
	return &node{key: at, val: at, isTable: true, table: map[string]*node{}}
}

// child is the node under a key, made if it is not there.
func (n *node) child(key string, at span) *node {
	c := n.table[key]
	if c == nil {
		c = newTable(at)
		n.add(key, c)
	}
	return c
}

func (n *node) add(key string, c *node) {
	if n.table == nil {
		n.table = map[string]*node{}
	}
	n.table[key] = c
	n.order = append(n.order, key)
}

// last is the table that keys under a header go to: of an array of tables,
// its last element.
func (n *node) last() *node {
	if n.isList && len(n.list) > 0 {
		return n.list[len(n.list)-1]
	}
	return n
}

// deepest is how many levels tables and arrays may be nested. The file needs
// five.
const deepest = 50

// A placedError is one with its place in the source.
type placedError struct {
	at            span
	message, hint string
}

func (e *placedError) Error() string { return e.message }

// A grower makes the tree of places.
type grower struct {
	parser *unstable.Parser
	text   string
	values int // seen so far
}

// count counts one value more.
func (g *grower) count(at span) error {
	if g.values++; g.values > mostValues {
		return &placedError{at, fmt.Sprintf("the file has more than %d values", mostValues), "a train of a dozen machines has some hundreds"}
	}
	return nil
}

// places is the tree of all keys in the source with their places, without
// values.
func places(text string) (root *node, err error) {
	g := grower{parser: &unstable.Parser{}, text: text}
	g.parser.Reset([]byte(text))
	root = newTable(span{})
	root.val = span{0, len(text)}
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
			return nil, err
		}
	}
	if err := g.parser.Error(); err != nil {
		return nil, g.syntax(err)
	}
	return root, nil
}

// syntax is the place and the plain words of what the parser stopped at.
func (g *grower) syntax(err error) error {
	out := &placedError{message: "not TOML: " + err.Error()}
	var p *unstable.ParserError
	if errors.As(err, &p) {
		r := g.parser.Range(p.Highlight)
		out.at = span{int(r.Offset), int(r.Offset + r.Length)}
		out.message, out.hint = plain(p.Message)
		if c, n := utf8.DecodeRuneInString(g.text[out.at.start:]); c >= utf8.RuneSelf && strings.Contains(p.Message, "key") {
			out.at.end = out.at.start + n
			out.message, out.hint = fmt.Sprintf("%q can't stand in a key", c), "keys are plain letters, digits, _ and -"
		}
		if place, message, hint, ok := spelt(g.text, out.at); ok {
			out.at, out.message, out.hint = place, message, hint
		}
	}
	return out
}

// header is the table that a line such as [a.b] or [[a.b]] opens, and how deep
// it is.
func (g *grower) header(root *node, e *unstable.Node) (*node, int, error) {
	keys := g.keys(e.Key())
	first, final := keys[0].at, keys[len(keys)-1]
	at := g.brackets(span{first.start, final.at.end}, e.Kind == unstable.ArrayTable)
	if len(keys) > deepest {
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
	if e.Kind == unstable.Table {
		c := n.table[final.name]
		if c == nil {
			c = newTable(at)
			n.add(final.name, c)
		} else if c.headed {
			hint := fmt.Sprintf("it was given on line %d", g.line(c))
			if header := doubled(keys); repeated(header) {
				hint += "; of several, each has double brackets: " + header
			}
			return nil, 0, &placedError{at, fmt.Sprintf("table %s is given twice", quote(final.name)), hint}
		}
		c.headed = true
		return c.last(), len(keys), nil
	}
	c := n.table[final.name]
	if c == nil {
		c = &node{key: at, val: at, isList: true}
		n.add(final.name, c)
	}
	if !c.isList {
		return nil, 0, g.otherwise(c, keys, at)
	}
	element := newTable(at)
	c.list = append(c.list, element)
	return element, len(keys), nil
}

// otherwise says what is wrong where a header with double brackets comes after
// what gave its name as one table, or as a value. The first of the two is the one
// to mend, but for a value.
func (g *grower) otherwise(c *node, keys []placedKey, at span) error {
	header := doubled(keys)
	here := strings.Count(g.text[:at.start], "\n") + 1
	switch known := repeated(header); {
	case known && c.headed:
		return &placedError{c.key, fmt.Sprintf("%s has single brackets, and %s on line %d has double ones", header[1:len(header)-1], header, here),
			"write " + header + " each time: there may be several"}
	case known && strings.HasPrefix(g.text[c.key.start:], "["):
		return &placedError{c.key, fmt.Sprintf("this table belongs under %s, the first of which is on line %d", header, here),
			"write " + header + " on a line above it: what belongs to a table comes after its header"}
	}
	return &placedError{at, fmt.Sprintf("%s was already given as something else", quote(keys[len(keys)-1].name)),
		fmt.Sprintf("it was given on line %d", g.line(c))}
}

// line is the line of a node's key.
func (g *grower) line(n *node) int { return strings.Count(g.text[:n.key.start], "\n") + 1 }

// doubled is a header of keys in double brackets.
func doubled(keys []placedKey) string {
	var names []string
	for _, k := range keys {
		names = append(names, k.name)
	}
	return "[[" + strings.Join(names, ".") + "]]"
}

// repeated says whether a header is that of tables of which there may be several.
func repeated(header string) bool {
	return slices.ContainsFunc(Tables(), func(t *Table) bool { return t.Header == header })
}

// brackets widens the place of a header's keys to its brackets.
func (g *grower) brackets(p span, double bool) span {
	n := 1
	if double {
		n = 2
	}
	start := strings.LastIndexByte(g.text[:p.start], '[') + 1 - n
	end := strings.IndexByte(g.text[p.end:], ']') + p.end + n
	if start < 0 || end > len(g.text) {
		return p
	}
	return span{start, end}
}

type placedKey struct {
	name string
	at   span
}

func (g *grower) keys(it unstable.Iterator) []placedKey {
	var keys []placedKey
	for it.Next() && len(keys) <= deepest { // one more than is read, to be refused
		k := it.Node()
		keys = append(keys, placedKey{string(k.Data), rangeOf(k)})
	}
	return keys
}

func rangeOf(n *unstable.Node) span {
	return span{int(n.Raw.Offset), int(n.Raw.Offset + n.Raw.Length)}
}

func tooDeep(at span) error {
	return &placedError{at, fmt.Sprintf("tables and arrays nested more than %d deep", deepest), ""}
}

// keyValue puts one line (or one entry of an inline table) into its table.
func (g *grower) keyValue(n *node, e *unstable.Node, depth int) error {
	keys := g.keys(e.Key())
	if depth+len(keys) > deepest {
		return tooDeep(span{keys[0].at.start, keys[len(keys)-1].at.end})
	}
	for _, k := range keys[:len(keys)-1] {
		if err := g.count(k.at); err != nil {
			return err
		}
		n = n.child(k.name, k.at).last()
	}
	final := keys[len(keys)-1]
	if before := n.table[final.name]; before != nil {
		return &placedError{final.at, fmt.Sprintf("key %s is given twice", quote(final.name)),
			fmt.Sprintf("it was given on line %d; or is a header left out between them?", g.line(before))}
	}
	// The value is what follows the keys and the equals sign.
	whole := rangeOf(e)
	at := span{final.at.end, whole.end}
	for at.start < at.end && strings.IndexByte(" \t=", g.text[at.start]) >= 0 {
		at.start++
	}
	c, err := g.valueNode(e.Value(), at, depth+len(keys))
	if err != nil {
		return err
	}
	c.key = final.at
	n.add(final.name, c)
	return nil
}

// valueNode is the node of a value that stands at a place.
func (g *grower) valueNode(v *unstable.Node, at span, depth int) (*node, error) {
	if depth > deepest {
		return nil, tooDeep(at)
	}
	if err := g.count(at); err != nil {
		return nil, err
	}
	n := &node{key: at, val: at}
	switch v.Kind {
	case unstable.InlineTable:
		n.isTable = true
		n.table = map[string]*node{}
		for it := v.Children(); it.Next(); {
			if err := g.keyValue(n, it.Node(), depth); err != nil {
				return nil, err
			}
		}
	case unstable.Array:
		n.isList = true
		for it := v.Children(); it.Next(); {
			e := it.Node()
			// The parser gives arrays in arrays no place of their own.
			place := rangeOf(e)
			if place.start == place.end {
				place = at
			}
			c, err := g.valueNode(e, place, depth+1)
			if err != nil {
				return nil, err
			}
			n.list = append(n.list, c)
		}
	}
	return n, nil
}
