package view

import (
	"math"

	"leastmove/optimize"
)

// An EditGroup is one edit of the train file, at all feet of a machine where it is the same.
type EditGroup struct {
	Edit
	Feet []int // of Machine; nil: it is no foot's key
}

// Groups are edits, those of several feet of one machine that are the same once.
func Groups(edits []Edit) []EditGroup {
	var groups []EditGroup
next:
	for _, e := range edits {
		for i := range groups {
			g := &groups[i]
			if e.Foot >= 0 && g.Machine == e.Machine && g.Key == e.Key && alike(g.From, e.From) && alike(g.To, e.To) {
				g.Feet = append(g.Feet, e.Foot)
				continue next
			}
		}
		g := EditGroup{Edit: e}
		if e.Foot >= 0 {
			g.Feet = []int{e.Foot}
		}
		groups = append(groups, g)
	}
	return groups
}

// alike says whether two values of a key are the same but for the rounding of the arithmetic, in mm or mrad.
func alike(a, b float64) bool {
	const rounding = 1e-9
	return a == b || math.Abs(a-b) <= rounding || math.IsNaN(a) && math.IsNaN(b)
}

// Switch says whether the key of an edit is true or false: From and To are 0 or 1 then.
func (g *EditGroup) Switch() bool { return g.Key == "axial" || g.Key == "roll" || g.Key == "hold" }

// PlainOf is the total in mm, without weights, of the plan that a relaxation of a train makes possible.
func PlainOf(t *Train, r *Relaxation) float64 {
	made := optimize.Plan{Result: optimize.Result{Train: t, Moves: r.Moves}}
	made.Measure()
	return made.Plain
}
