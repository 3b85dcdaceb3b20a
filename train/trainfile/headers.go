package trainfile

import (
	"slices"
	"strings"

	"leastmove/train/spelling"
	"leastmove/train/trainfile/tree"
)

// headers are those of tables below one, for the tree of a file.
func headers(file *Table) *tree.Headers {
	return &tree.Headers{
		Repeated: func(header string) bool {
			return slices.ContainsFunc(Tables(), func(t *Table) bool { return t.Header == header })
		},
		Meant: func(keys []string) ([]string, bool) { return meantHeader(file, keys) },
	}
}

// meantHeader is the known header that an unknown one most likely stands for, and whether tables of it repeat; nil
// where it is known, or nothing is near.
func meantHeader(file *Table, keys []string) (meant []string, repeats bool) {
	unknown := false
	for at, i := file, 0; i < len(keys); i++ {
		var names []string
		for _, k := range at.Keys {
			if k.Table != nil {
				names = append(names, k.Name)
			}
		}
		name := keys[i]
		if at.key(name) == nil {
			unknown = true
			if name = nearest(name, names); name == "" {
				return nil, false
			}
		}
		k := at.key(name)
		if k.Table == nil {
			return nil, false
		}
		meant = append(meant, name)
		at, repeats = k.Table, k.Kind != Sub
	}
	if !unknown {
		return nil, false
	}
	return meant, repeats
}

// unknownTables faults headers that were read as others.
func (r *reader) unknownTables(n *tree.Node) {
	if n.Meant != "" {
		r.fault(n.Key, "unknown table "+spelling.Printable(strings.TrimSpace(r.of(n.Key))), "did you mean "+n.Meant+"?")
	}
	for _, name := range n.Order {
		r.unknownTables(n.Table[name])
	}
	for _, e := range n.List {
		r.unknownTables(e)
	}
}
