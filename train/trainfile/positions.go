package trainfile

import (
	"fmt"
	"math"
	"strconv"

	"leastmove/train/spelling"
	"leastmove/train/trainfile/tree"
)

// clock reads a table of clock positions and readings.
func (r *reader) clock(f *field, k *Key) bool {
	if !f.node.IsTable {
		r.wrongType(f.node, k, k.Name)
		return false
	}
	good := true
	for _, name := range f.node.Order {
		e := f.node.Table[name]
		hour, err := strconv.Atoi(name)
		if e.IsTable && len(e.Order) > 0 {
			name += "." + e.Order[0] // a place between two hours
		}
		if err != nil || hour < 1 || hour > 12 || e.IsTable {
			r.fault(e.Key, fmt.Sprintf("%s is no position on a clock", spelling.Quote(name)),
				"positions are 1 to 12; sweep takes degrees")
			good = false
			continue
		}
		good = r.position(f, k, float64(hour%12)*30, e, "the reading at "+name) && good
	}
	return good
}

// sweep reads a list of pairs of degrees and readings.
func (r *reader) sweep(f *field, k *Key) bool {
	if !f.node.IsList {
		r.wrongType(f.node, k, k.Name)
		return false
	}
	good := true
	for _, e := range f.node.List {
		if !e.IsList || len(e.List) != 2 {
			r.wrongType(e, k, "an entry of "+k.Name)
			return false
		}
		degrees, ok := r.number(e.List[0], &Key{Name: k.Name, Range: turns}, "an angle of "+k.Name)
		good = r.position(f, k, degrees, e.List[1], "a reading of "+k.Name) && ok && good
	}
	return good
}

// position notes one reading and its angle.
func (r *reader) position(f *field, k *Key, degrees float64, n *tree.Node, what string) bool {
	v, ok := r.number(n, k, what)
	f.angles = append(f.angles, degrees)
	f.numbers = append(f.numbers, v)
	f.places = append(f.places, n)
	return ok && !math.IsNaN(degrees)
}
