package rewrite

import (
	"slices"

	"leastmove/train"
	"leastmove/train/trainfile/tree"
)

// A Change says which keys of a machine were given other values.
type Change struct {
	Machine string
	Keys    []string
}

// WithMoves is the text of a train file with what a plan's moves change: packs, the place of
// bolts in their holes, what is left of lower, raise and travel, how level machines stand
// and what is left to nozzles. was is the train that the text reads as, now the same one
// after the moves (train.Train.Made), with the pieces of packs where they are known. All
// else stays as it is, comments too.
func WithMoves(src []byte, was, now *train.Train) (string, []Change, error) {
	file, err := Open(src)
	if err != nil {
		return "", nil, err
	}
	r := &mover{editor: editor{text: file.text}, figures: figuresOf(was)}
	var changes []Change
	for i, m := range slices.Concat(file.root.Elements("machine"), file.root.Elements("base")) {
		r.changed = nil
		r.machine(m, &was.Machines[i], &now.Machines[i])
		if r.changed != nil {
			changes = append(changes, Change{was.Machines[i].Name, r.changed})
		}
	}
	out, err := r.edited("with the moves made")
	return out, changes, err
}

// A mover sets in a text what moves change.
type mover struct {
	editor
	figures
	changed []string // keys of one machine
}

func (r *mover) note(key string) {
	if !slices.Contains(r.changed, key) {
		r.changed = append(r.changed, key)
	}
}

func (r *mover) machine(n *tree.Node, was, now *train.Machine) {
	at := 0
	for _, f := range n.Elements("foot") {
		p := &footMover{mover: r, table: f, was: was.Feet[at:], now: now.Feet[at:], sides: 1}
		if f.Table["spread"] != nil {
			p.sides, p.own = 2, [2]*tree.Node{f.Table["left"], f.Table["right"]}
		}
		p.apply()
		at += p.sides
	}
	if level := n.Table["level"]; level != nil {
		var added []statement
		for _, l := range []struct {
			key      string
			was, now float64
		}{{"pitch", was.Level.FoundPitch, now.Level.FoundPitch}, {"roll", was.Level.FoundRoll, now.Level.FoundRoll}} {
			if is := fixed(l.now, angleDigits); is != fixed(l.was, angleDigits) {
				r.note("level.found")
				added = append(added, statement{[]string{"found", l.key}, is})
			}
		}
		r.setAll(level, added)
	}
	for k, z := range n.Elements("nozzle") {
		if is := now.Nozzles[k].Limit; is != was.Nozzles[k].Limit {
			r.note("limit of nozzle " + was.Nozzles[k].Name)
			r.setAll(z, []statement{{[]string{"limit"}, r.above0(is)}})
		}
	}
}

// setAll sets keys under a table, or adds those that are not there.
func (r *mover) setAll(n *tree.Node, all []statement) {
	var added []statement
	for _, s := range all {
		if at := n.Under(s.path...); at != nil {
			r.replace(at.Val, s.value)
		} else {
			added = append(added, s)
		}
	}
	r.add(n, added...)
}
