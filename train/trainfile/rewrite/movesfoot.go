package rewrite

import (
	"math"

	"leastmove/train"
	"leastmove/train/trainfile/tree"
)

// A footMover is the table of a foot, or of a pair, and what its feet are to state. What is
// alike at both feet of a pair stands at its own key, what differs under left and right.
type footMover struct {
	*mover
	table *tree.Node
	own   [2]*tree.Node // what differs at the left and the right foot; nil: no such table
	sides int           // 1: a foot by itself
	was   []train.Foot
	now   []train.Foot
	pair  []statement    // to be set at the foot, or the pair
	over  [2][]statement // to be set at one foot of the pair
}

// A wanted is what one key is to be, at each side.
type wanted struct {
	path    []string
	value   [2]string
	changed [2]bool
}

func (f *footMover) apply() {
	f.packs()
	for _, key := range []struct {
		path []string
		of   func(*train.Foot) string
	}{
		{[]string{"cut"}, func(t *train.Foot) string { return f.exact(t.Cut) }},
		{[]string{"lower"}, func(t *train.Foot) string { return f.exact(math.Max(0, t.Lower-t.Cut)) }},
		{[]string{"raise"}, func(t *train.Foot) string { return f.exact(t.Raise) }},
		{[]string{"travel", "left"}, func(t *train.Foot) string { return f.left(t.TravelLeft, f.move) }},
		{[]string{"travel", "right"}, func(t *train.Foot) string { return f.left(t.TravelRight, f.move) }},
		{[]string{"bolt_at"}, func(t *train.Foot) string { return f.place(t.BoltAt, (t.Hole-t.Bolt)/2) }},
	} {
		w := wanted{path: key.path}
		for s := range f.sides {
			if key.path[0] == "bolt_at" && !(f.now[s].Hole >= f.now[s].Bolt) || key.path[0] != "bolt_at" && f.states(s,
				key.path) == nil {
				continue // nothing is known of a hole; or not stated: a default, or no limit
			}
			w.value[s] = key.of(&f.now[s])
			w.changed[s] = w.value[s] != key.of(&f.was[s])
		}
		f.want(w)
	}
	f.flush()
}

// states is where a key is stated for one side; nil: nowhere.
func (f *footMover) states(s int, path []string) *tree.Node {
	if f.own[s] != nil {
		if n := f.own[s].Under(path...); n != nil {
			return n
		}
	}
	return f.table.Under(path...)
}

// want puts what a key is to be where it belongs.
func (f *footMover) want(w wanted) {
	if !w.changed[0] && !w.changed[1] {
		return
	}
	f.note(w.path[0])
	ownKey := func(s int) bool { return f.own[s] != nil && f.own[s].Under(w.path...) != nil }
	pairKey := f.table.Under(w.path...) != nil
	say := func(s int) statement { return statement{w.path, w.value[s]} }
	switch {
	case f.sides == 1 || !ownKey(0) && !ownKey(1) && w.value[0] == w.value[1]:
		f.pair = append(f.pair, say(0))
	case !ownKey(0) && !ownKey(1) && pairKey && w.changed[0] && w.changed[1]:
		f.pair = append(f.pair, say(0))
		f.over[1] = append(f.over[1], say(1))
	default:
		for s := range w.changed {
			switch {
			case !w.changed[s]:
			case !ownKey(s) && pairKey && ownKey(1-s): // the pair's key holds for this side alone
				f.pair = append(f.pair, say(s))
			default:
				f.over[s] = append(f.over[s], say(s))
			}
		}
	}
}

// packs puts what the packs are where it belongs: shim, pieces or both, as the file has it.
// What one foot of a pair states of its pack stands for itself.
func (f *footMover) packs() {
	var from [2]*tree.Node
	var changed [2]bool
	for s := range f.sides {
		for _, n := range []*tree.Node{f.own[s], f.table} {
			if from[s] == nil && n != nil && (n.Table["shim"] != nil || n.Table["pieces"] != nil) {
				from[s] = n
			}
		}
		changed[s] = from[s] != nil && math.Abs(f.now[s].Pack-f.was[s].Pack) > 1e-9
	}
	if !changed[0] && !changed[1] {
		return
	}
	shared := f.sides == 2 && from[0] == f.table && from[1] == f.table
	alike := shared && f.exact(f.now[0].Pack) == f.exact(f.now[1].Pack) &&
		f.pieces(f.now[0].Pieces) == f.pieces(f.now[1].Pieces)
	switch {
	case alike || shared && changed[0] && changed[1]:
		f.repack(f.table, 0)
		if !alike {
			f.over[1] = append(f.over[1], f.packed(f.table, 1)...)
		}
	default:
		for s := range changed {
			switch {
			case !changed[s]:
			case shared:
				f.over[s] = append(f.over[s], f.packed(f.table, s)...)
			default:
				f.repack(from[s], s)
			}
		}
	}
}

// packed is what a table that states a pack is to say of that of one side.
func (f *footMover) packed(n *tree.Node, s int) []statement {
	var out []statement
	foot := &f.now[s]
	if n.Table["shim"] != nil || foot.Pieces == nil {
		f.note("shim")
		out = append(out, statement{[]string{"shim"}, f.exact(foot.Pack)})
	}
	if n.Table["pieces"] != nil && foot.Pieces != nil {
		f.note("pieces")
		out = append(out, statement{[]string{"pieces"}, f.pieces(foot.Pieces)})
	}
	return out
}

// repack sets the pack of one side in the table that states it. Pieces that are not known
// any more give way to the thickness of the pack.
func (f *footMover) repack(n *tree.Node, s int) {
	shim, pieces := n.Table["shim"], n.Table["pieces"]
	for _, p := range f.packed(n, s) {
		switch {
		case p.path[0] == "pieces":
			f.replace(pieces.Val, p.value)
		case shim != nil:
			f.replace(shim.Val, p.value)
		default:
			key := "shim"
			if f.leads(pieces.Key.Start) {
				key += "  " // as long as that of pieces
			}
			f.replace(pieces.Key, key)
			f.replace(pieces.Val, p.value)
		}
	}
	if pieces != nil && shim != nil && f.now[s].Pieces == nil {
		f.takeOut(pieces, tree.ToRead, "pieces = ")
	}
}

// flush writes what was put off: a table is added to once.
func (f *footMover) flush() {
	for s, side := range [...]string{"left", "right"} {
		switch {
		case f.over[s] == nil:
		case f.own[s] != nil:
			f.setAll(f.own[s], f.over[s])
		default:
			f.pair = append(f.pair, statement{[]string{side}, braced(f.over[s])})
		}
	}
	f.setAll(f.table, f.pair)
}
