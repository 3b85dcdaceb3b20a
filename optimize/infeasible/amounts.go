package infeasible

import (
	"cmp"
	"context"
	"math"
	"slices"

	"leastmove/optimize"
	"leastmove/train"
)

// relaxationOf is the feasibility relaxation over some levers: the train as it stands, with
// every lever as far as it goes in the ranges of the variables, and held back
// by the amounts.
func (m *search) relaxationOf(t *train.Train, levers []lever, use float64) *relaxationProgram {
	var far []optimize.Edit
	for k := range levers {
		if levers[k].edit.Coupling < 0 { // couplings bound no variable's range
			far = append(far, levers[k].apply(levers[k].most))
		}
	}
	stands, _ := optimize.SoftFootCorrected(t)
	reaches, _ := optimize.SoftFootCorrected(optimize.Apply(t, far))
	base, wide := optimize.Build(stands, m.Linearization), optimize.Build(reaches, m.Linearization)
	p := base.Problem
	p.Vars = slices.Clone(wide.Problem.Vars)
	e := &relaxationProgram{ctx: m.ctx, problem: &p, use: use}
	for k, l := range levers {
		g := slack{cost: l.cost, most: l.most, limits: map[int]float64{}}
		switch l.edit.Key {
		case "hole", "bolt":
			for i, label := range base.Labels {
				if label.Kind == train.LimitBolt && label.Machine == l.edit.Machine && label.Foot == l.edit.Foot {
					g.limits[i] = base.Widening / 2
				}
			}
		case "cut", "raise":
			sign := 1.0
			if l.edit.Key == "cut" {
				sign = -1
			}
			v := base.Pack(l.edit.Machine, l.edit.Foot)
			at := stands.Machines[l.edit.Machine].Feet[l.edit.Foot].Raise
			if sign < 0 {
				at = stands.Machines[l.edit.Machine].Feet[l.edit.Foot].Lower
			}
			e.ranges = append(e.ranges, rangeEnd{v, sign, at, k})
		default:
			for i, label := range base.Labels {
				if label.Coupling == l.edit.Coupling {
					g.limits[i] = base.Problem.Limits[i].Radius
				}
			}
		}
		for v := range base.Groups {
			if l.edit.Machine >= 0 && base.Groups[v].Machine == l.edit.Machine || l.edit.Machine < 0 &&
				base.Groups[v].Machine <= t.Couplings[l.edit.Coupling].From.Machine {
				g.block = base.Problem.Vars[v].Block
			}
		}
		e.slacks = append(e.slacks, g)
	}
	m.shifts(e, base)
	return e
}

// shifts adds to a feasibility relaxation what it costs by the mm to shift machines along the train that the file
// holds in place: a slack for each, behind those that are there.
func (m *search) shifts(e *relaxationProgram, k *optimize.Model) {
	price := m.Plan.File.Relief.AxialPerMM
	for v, g := range k.Groups {
		if g.Act != optimize.AxialShift || m.Plan.File.Machines[g.Machine].Axial || price == 0 {
			continue
		}
		x := &k.Problem.Vars[v]
		n := len(e.slacks)
		e.slacks = append(e.slacks, slack{cost: price, most: x.Hi, block: x.Block})
		e.ranges = append(e.ranges, rangeEnd{v, 1, 0, n}, rangeEnd{v, -1, 0, n})
	}
}

// closer are the shares of the coupling limits that amounts are worked out for,
// one after another, until they are enough with whole steps and rounded.
var closer = [...]float64{1, 0.97, 0.9, 0.8, 0.65, 0.5, 0.3}

// doublings is how often what is added to amounts is doubled, from one step on,
// where closer couplings are out of reach.
const doublings = 7

// byAmounts is the least relaxation by amounts of one kind, with some switches
// thrown before; nil where none was found.
func (m *search) byAmounts(ctx context.Context, kind optimize.RelaxationKind,
	before []optimize.Edit) *optimize.Relaxation {
	base := optimize.Apply(m.Plan.File, before)
	w := &relaxationSearch{search: m, kind: kind, before: before, all: levers(base, kind)}
	if len(w.all) == 0 || ctx.Err() != nil {
		return nil
	}
	amounts, bound := m.relaxationOf(base, w.all, 1).least()
	if amounts == nil {
		return nil
	}
	w.least = bound + m.price(before)
	if r := w.enough(ctx, base, amounts); r != nil {
		return w.trim(ctx, r)
	}
	return nil
}

// A wayOut is a relaxation by amounts that is being looked for.
type relaxationSearch struct {
	*search
	kind    optimize.RelaxationKind
	before  []optimize.Edit // switches thrown
	all     []lever         // what there is to set
	amounts []float64
	least   float64 // cost before rounding
}

// enough goes up from the least amounts until a plan is found.
func (w *relaxationSearch) enough(ctx context.Context, base *train.Train, amounts []float64) *optimize.Relaxation {
	for _, use := range closer {
		if ctx.Err() != nil {
			return nil
		}
		if use < 1 {
			if amounts, _ = w.relaxationOf(base, w.all, use).least(); amounts == nil {
				break
			}
		}
		if next := rounded(w.all, amounts); !slices.Equal(next, w.amounts) {
			w.amounts = next
			if r := w.try(ctx, next, proving); r != nil {
				return r
			}
		}
	}
	start := w.amounts
	for n := range doublings {
		next := slices.Clone(start)
		for k := range next {
			if next[k] > 0 || n > doublings/2 { // at last everywhere
				next[k] = math.Min(next[k]+w.all[k].step*float64(int(1)<<n), w.all[k].most)
			}
		}
		w.amounts = next
		if r := w.try(ctx, next, proving); r != nil {
			return r
		}
	}
	return nil
}

// trim takes back what is not needed, the largest cost first: whole amounts, then
// half of them, then less.
func (w *relaxationSearch) trim(ctx context.Context, r *optimize.Relaxation) *optimize.Relaxation {
	order := make([]int, 0, len(w.all))
	for k := range w.all {
		order = append(order, k)
	}
	slices.SortStableFunc(order, func(a, b int) int {
		return cmp.Compare(w.amounts[b]*w.all[b].cost, w.amounts[a]*w.all[a].cost)
	})
	left := trims
	for share := 1.0; share <= 8 && left > 0; share *= 2 {
		for _, k := range order {
			l := &w.all[k]
			back := l.step * math.Ceil(w.amounts[k]/l.step/share-1e-6)
			if back <= 0 || left == 0 {
				continue
			}
			left--
			less := slices.Clone(w.amounts)
			less[k] -= back
			if better := w.try(ctx, less, trimming); better != nil && better.Cost < r.Cost {
				r, w.amounts = better, less
			}
		}
	}
	return r
}

// trims is how often less is tried.
const trims = 32

// try is the relaxation by amounts; nil where it can't be shown to work.
func (w *relaxationSearch) try(ctx context.Context, amounts []float64, share int) *optimize.Relaxation {
	r := &optimize.Relaxation{Kind: w.kind, Edits: slices.Clone(w.before), Cost: w.price(w.before), Least: w.least}
	for k, a := range amounts {
		if a > 1e-9 {
			e := w.all[k].apply(a)
			r.Edits = append(r.Edits, e)
			r.Cost += a * w.all[k].cost
			foot := &w.Plan.File.Machines[e.Machine].Feet[e.Foot]
			drilled := slices.ContainsFunc(r.Edits, func(o optimize.Edit) bool {
				return o.Machine == e.Machine &&
					o.Foot == e.Foot && o.Key == "hole"
			})
			if e.Key == "bolt" && foot.Fitted && !drilled {
				// The hole is no longer a standard's for this bolt: it is what it was.
				r.Edits = append(r.Edits, optimize.Edit{Machine: e.Machine, Foot: e.Foot, Coupling: -1, Key: "hole",
					From: foot.Hole, To: foot.Hole})
			}
		}
	}
	if len(r.Edits) == 0 || !w.hopeful(optimize.Apply(w.Plan.File, r.Edits)) {
		return nil
	}
	return w.works(ctx, r, share)
}

// rounded are amounts of some levers rounded up to what a shop does.
func rounded(all []lever, amounts []float64) []float64 {
	out := make([]float64, len(all))
	for k, a := range amounts[:len(all)] {
		from := all[k].edit.From
		if all[k].edit.Key != "raise" {
			from = 0 // counted from what is there
		}
		steps := math.Ceil((from+a)/all[k].step - 1e-6)
		if a < 1e-9 {
			continue
		}
		out[k] = math.Min(all[k].most, all[k].step*steps-from)
	}
	return out
}
