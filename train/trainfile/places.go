package trainfile

import (
	"strings"

	"leastmove/train"
	"leastmove/train/trainfile/tree"
)

// Places say on which line of a train file a key stands. They are for a file
// that was read without errors.
type Places struct {
	source *source
	root   *tree.Node
	train  *train.Train
}

// Locate finds the keys of a train in the text that it was read from.
func Locate(t *train.Train, src []byte) *Places {
	text := strings.TrimPrefix(string(src), "\ufeff")
	root, err := tree.Decode(text, nil)
	if err != nil {
		root = &tree.Node{}
	}
	return &Places{newSource("", text), root, t}
}

// Train is the line of a key of the file as a whole, "shims.step"; of its table
// where the key is not stated, and 0 where neither is.
func (p *Places) Train(key string) int { return p.line(p.root, key) }

// Machine is the line of a key of machine i, or of its table.
func (p *Places) Machine(i int, key string) int { return p.line(p.machine(i), key) }

// Foot is the line of a key of foot f of machine i: of what is stated for that
// foot of a pair, of the pair, or of its table. A hole that only its fit tells
// of stands where that does.
func (p *Places) Foot(i, f int, key string) int {
	foot := &p.train.Machines[i].Feet[f]
	if key == "hole" && foot.Fitted {
		key = "fit"
	}
	name := foot.Name
	if n := named(p.machine(i), "foot", name); n != nil {
		return p.line(n, key)
	}
	for _, side := range [...]string{"left", "right"} {
		n := named(p.machine(i), "foot", strings.TrimSuffix(name, " "+side))
		if n == nil {
			continue
		}
		if own := n.Table[side]; own != nil && own.Table[key] != nil {
			return p.line(own, key)
		}
		return p.line(n, key)
	}
	return 0
}

// Nozzle is the line of a key of nozzle n of machine i, or of its table.
func (p *Places) Nozzle(i, n int, key string) int {
	return p.line(named(p.machine(i), "nozzle", p.train.Machines[i].Nozzles[n].Name), key)
}

// Coupling is the line of a key of coupling i, "limit.angle", or of its table.
func (p *Places) Coupling(i int, key string) int {
	return p.line(named(p.root, "coupling", p.train.Couplings[i].Name), key)
}

func (p *Places) machine(i int) *tree.Node {
	list := "machine"
	if p.train.Machines[i].IsBase() {
		list = "base"
	}
	return named(p.root, list, p.train.Machines[i].Name)
}

// named is the table of a list that has a name.
func named(n *tree.Node, list, name string) *tree.Node {
	if n == nil || n.Table[list] == nil {
		return nil
	}
	for _, e := range n.Table[list].List {
		if v := e.Table["name"]; v != nil && v.Value == name {
			return e
		}
	}
	return nil
}

// line follows a key as far as it is stated.
func (p *Places) line(n *tree.Node, key string) int {
	if n == nil {
		return 0
	}
	at := n
	for _, k := range strings.Split(key, ".") {
		next := at.Table[k]
		if next == nil {
			break
		}
		at = next
	}
	if at == p.root {
		return 0
	}
	return p.source.line(at.Key.Start)
}
