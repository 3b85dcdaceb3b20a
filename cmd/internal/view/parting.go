package view

import (
	"math"
	"slices"

	"leastmove/optimize"
	"leastmove/train"
)

// A Parting is how far apart growth and journal shift alone take one coupling in two conditions, where no move
// can bring both within their limits.
type Parting struct {
	Coupling   int
	Kind       LimitKind
	Conditions [2]int
	By         float64 // mm, mrad or, of limits added up, a share of them; between the two conditions
	Allow      float64 // in the same unit, the limits of both added up
	Others     []int   // couplings of which the same holds
}

// partingOf is that of a plan that does not exist: of its conflict where that is one between one coupling's limits in
// two conditions, else the one that is furthest beyond what its limits allow; nil: growth alone parts none.
func partingOf(p *Plan) *Parting {
	if !p.Explained {
		return nil
	}
	var most *Parting
	var parted []int
	for i := range p.Train.Couplings {
		for a := range p.Train.Conditions {
			for b := a + 1; b < len(p.Train.Conditions); b++ {
				for _, q := range partingsOf(p, i, a, b) {
					if !(q.By > q.Allow*(1+optimize.CheckTolerance)) {
						continue
					}
					if !slices.Contains(parted, i) {
						parted = append(parted, i)
					}
					if most == nil || !q.conflict(p) && !most.conflict(p) && q.By/q.Allow > most.By/most.Allow || q.conflict(p) {
						most = &q
					}
				}
			}
		}
	}
	if most != nil {
		most.Others = slices.DeleteFunc(parted, func(i int) bool { return i == most.Coupling })
	}
	return most
}

// conflict says whether the conflict is the parting and nothing else.
func (q *Parting) conflict(p *Plan) bool {
	set := p.Conflict
	of := func(m Member, k int) bool {
		return m.Coupling == q.Coupling && m.Kind == q.Kind && m.Condition == q.Conditions[k]
	}
	return len(set) == 2 && of(set[0], 0) && of(set[1], 1)
}

// partingsOf are how far every measure of a coupling is apart in two conditions, and what they come to added up where
// they are limited so. Measures and their sum are norms: what both conditions use together is at least what the
// difference between them does.
func partingsOf(p *Plan, i, a, b int) []Parting {
	c, states := &p.Train.Couplings[i], p.Found.Couplings[i]
	at := Parting{Coupling: i, Conditions: [2]int{a, b}}
	var out []Parting
	var apart train.Reading
	for n, u := range states[a].Uses {
		w := states[b].Uses[n]
		q := at
		q.Kind, q.By, q.Allow = u.Kind.LimitKind(), math.Hypot(u.V-w.V, u.H-w.H), u.Limit+w.Limit
		if c.Limit.EachPlane {
			q.By = math.Max(math.Abs(u.V-w.V), math.Abs(u.H-w.H))
		}
		out = append(out, q)
		apart.Uses = append(apart.Uses, train.Use{Kind: u.Kind, Share: q.By / c.Bound(u.Kind)})
	}
	if c.Limit.Combined {
		q := at
		q.Kind, q.By, q.Allow = train.LimitSum, apart.Added(), p.Train.Conditions[a].Use+p.Train.Conditions[b].Use
		out = append(out, q)
	}
	return out
}
