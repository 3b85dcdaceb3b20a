package trainfile

import (
	"slices"

	"leastmove/train/trainfile/tree"
)

// headers are those of tables below one, for the tree of a file.
func headers(file *Table) *tree.Headers {
	return &tree.Headers{
		Repeated: func(header string) bool {
			return slices.ContainsFunc(Tables(), func(t *Table) bool { return t.Header == header })
		},
		Meant: func(keys []string, double bool) ([]string, bool) { return meantHeader(file, keys, double) },
	}
}

// meantHeader is the known header that a wrong one most likely stands for, and whether tables of it repeat; nil where
// it is right, or nothing is near.
func meantHeader(file *Table, keys []string, double bool) (meant []string, repeats bool) {
	meant, repeats = known(file, keys)
	if meant == nil && len(keys) > 1 { // a machine's name or a coupling's in place of the word
		for _, word := range []string{"machine", "coupling"} {
			if meant, repeats = known(file, append([]string{word}, keys[1:]...)); meant != nil {
				return meant, repeats
			}
		}
		return nil, false
	}
	if slices.Equal(meant, keys) && (double || !repeats) {
		return nil, false
	}
	return meant, repeats
}

// known is the header of tables below one whose keys are nearest to some, and whether tables of it repeat; nil where
// one of them is near to nothing.
func known(file *Table, keys []string) (header []string, repeats bool) {
	header = make([]string, 0, len(keys))
	for at, i := file, 0; i < len(keys); i++ {
		name := keys[i]
		if name == "feet" {
			name = "foot"
		}
		k := at.key(name)
		if k == nil || k.Table == nil {
			if name = nearest(name, at.tables()); name == "" || at.key(keys[i]) != nil {
				return nil, false
			}
			k = at.key(name)
		}
		header = append(header, name)
		at, repeats = k.Table, k.Kind != Sub
	}
	return header, repeats
}

// tables are the keys of a table that are tables.
func (t *Table) tables() []string {
	var names []string
	for _, k := range t.Keys {
		if k.Table != nil {
			names = append(names, k.Name)
		}
	}
	return names
}
