// Package tree is a train file as a tree of values, each with its place in the text.
//
// Two parsers read the text. github.com/BurntSushi/toml gives the values;
// github.com/pelletier/go-toml/v2/unstable gives their places, which the first does not tell.
// A test holds that both see the same keys.
package tree

// A Span is a stretch of the source, in bytes.
type Span struct{ Start, End int }

// A Node is one value of the file: its place, and the value itself.
type Node struct {
	Key     Span             // its key or table header
	Val     Span             // its value; of a table with a header, the header
	Value   any              // a bool, int64, float64, string or time; nil for tables and lists
	IsTable bool             // Table and Order hold its keys
	IsList  bool             // List holds its elements
	Headed  bool             // a table that had its header
	Table   map[string]*Node // by key
	Order   []string         // keys in file order
	List    []*Node
	Wrong   []*Error // of the whole file: headers that were read as those which they most likely stand for
}

func newTable(at Span) *Node {
	return &Node{Key: at, Val: at, IsTable: true, Table: map[string]*Node{}}
}

// child is the node under a key, made if it is not there.
func (n *Node) child(key string, at Span) *Node {
	c := n.Table[key]
	if c == nil {
		c = newTable(at)
		n.add(key, c)
	}
	return c
}

func (n *Node) add(key string, c *Node) {
	if n.Table == nil {
		n.Table = map[string]*Node{}
	}
	n.Table[key] = c
	n.Order = append(n.Order, key)
}

// last is the table that keys under a header go to: of an array of tables,
// its last element.
func (n *Node) last() *Node {
	if n.IsList && len(n.List) > 0 {
		return n.List[len(n.List)-1]
	}
	return n
}

// An Error is a fault in the source, with its place. The hint says what to do, and may be empty.
type Error struct {
	At            Span
	Message, Hint string
	// How Faults goes on behind it. Errors of another sort end what can be told.
	syntax  bool
	instead string   // what may stand in its place; "": not known
	wrong   []*Error // headers before it that were read as others
	late    bool     // found when all places were known: whatever comes before it in the file is sound
}

func (e *Error) Error() string { return e.Message }

// fill gives the nodes their values. A value that the parser of places did
// not see gets the place of what it stands in.
func (n *Node) fill(v any) {
	switch v := v.(type) {
	case map[string]any:
		n.IsTable, n.IsList = true, false
		for key, value := range v {
			n.child(key, n.Val).fill(value)
		}
	case []map[string]any:
		n.IsTable, n.IsList = false, true
		for i, value := range v {
			n.element(i).fill(value)
		}
	case []any:
		n.IsTable, n.IsList = false, true
		for i, value := range v {
			n.element(i).fill(value)
		}
	default:
		n.IsTable, n.IsList = false, false
		n.Value = v
	}
}

func (n *Node) element(i int) *Node {
	for len(n.List) <= i {
		n.List = append(n.List, newTable(n.Val))
	}
	return n.List[i]
}

// Elements are the tables of a list; nil where there is none.
func (n *Node) Elements(key string) []*Node {
	if n.Table[key] == nil {
		return nil
	}
	return n.Table[key].List
}

// Under is what stands at a path of keys under a table; nil: nothing.
func (n *Node) Under(path ...string) *Node {
	for _, key := range path {
		if n = n.Table[key]; n == nil {
			return nil
		}
	}
	return n
}

// Text is the text that a key has; "" where it has none.
func (n *Node) Text(key string) string {
	if c := n.Table[key]; c != nil {
		if words, is := c.Value.(string); is {
			return words
		}
	}
	return ""
}
