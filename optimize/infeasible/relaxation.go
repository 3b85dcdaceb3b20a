package infeasible

import (
	"cmp"
	"context"
	"math"
	"slices"

	"leastmove/optimize"
	"leastmove/optimize/bnb"
	"leastmove/optimize/mip"
	"leastmove/train"
)

// relaxations looks for the least relaxations of a conflict: of every kind alone, and
// mixed. Each one found is proven to work by a plan of the edited train. A
// machine that is held stays so wherever that is enough.
func (m *search) relaxations(ctx context.Context) []optimize.Relaxation {
	m.left = m.Work() / relaxationShare
	var out []optimize.Relaxation
	add := func(r *optimize.Relaxation) {
		if r != nil {
			out = append(out, *r)
		}
	}
	t := m.Plan.File
	for _, kind := range amountKinds() {
		add(m.byAmounts(ctx, kind, nil))
	}
	for _, kind := range switchKinds() {
		add(m.bySwitches(ctx, kind))
	}
	if ctx.Err() == nil {
		add(m.mixed(ctx, out))
	}
	if m.Options.Widen {
		m.left = m.Work() / relaxationShare // what was asked for is looked at whatever the others took
		for i := range t.Couplings {
			add(m.widen(ctx, i))
		}
	}
	slices.SortStableFunc(out, func(a, b optimize.Relaxation) int {
		return cmp.Or(cmp.Compare(rank(&a), rank(&b)), cmp.Compare(a.Cost, b.Cost))
	})
	return out
}

// rank puts what keeps held machines held first, and wider limits last.
func rank(r *optimize.Relaxation) int {
	switch {
	case r.Kind == optimize.Widen:
		return 2
	case slices.ContainsFunc(r.Edits, func(e optimize.Edit) bool { return e.Key == "hold" }):
		return 1
	}
	return 0
}

// The shares, one in so many, of the work that a plan is worth that go into
// showing that a relaxation works, that a smaller one does too, and into all of them; as much into wider limits.
const (
	proving         = 30
	trimming        = 150
	relaxationShare = 4
)

// room is the share of every coupling limit that a plan must leave for its relaxation to be listed: one whose plans
// all stand at the edge of a limit may have none once its figures are written into a file.
const room = 0.005

// works plans the train with the relaxation: first with room, any plan, and from that at all of the limits. It is nil
// where no plan was found with a share of the work. What a plan shifts machines by that the file holds in place is
// added to the cost.
func (m *search) works(ctx context.Context, r *optimize.Relaxation, share int) *optimize.Relaxation {
	file, work := optimize.Apply(m.Plan.File, r.Edits), max(1, m.Work()/share)
	try := func(opt optimize.Options) (moves train.Moves, total, bound float64) {
		if m.left <= 0 || ctx.Err() != nil {
			return nil, 0, 0
		}
		sub := optimize.NewSolver(file, opt)
		sub.Seeking = true
		sub.Linearize(ctx)
		sub.Options.Solves = min(work, m.left)
		found := sub.LeastTotal(ctx, opt.Use)
		m.Plan.Solves += sub.Plan.Solves
		m.left -= sub.Plan.Solves
		if found.Steps == nil {
			return nil, 0, 0
		}
		return sub.Model.Moves(found.Steps), found.Value, sub.Proven(ctx, found)
	}
	moves, total, _ := try(optimize.Options{Use: 1 - room, Gap: math.Inf(1)})
	if moves == nil {
		return nil
	}
	r.Moves, r.Total, r.Bound = moves, total, math.NaN()
	if moves, total, bound := try(optimize.Options{Use: 1, Gap: 4 * optimize.Spare, Start: moves}); moves != nil {
		r.Moves, r.Total, r.Bound = moves, total, bound
	}
	for n := range r.Edits {
		if e := &r.Edits[n]; e.Key == "axial" { // from the plan, not from what was looked for
			e.Shift = r.Moves[e.Machine][0].Axial
			r.Cost += math.Abs(e.Shift) * m.Plan.File.Relief.AxialPerMM
		}
	}
	return r
}

// price is what switches cost, shifts by nothing among them.
func (m *search) price(edits []optimize.Edit) float64 {
	var sum float64
	for _, e := range edits {
		switch e.Key {
		case "axial":
			sum += m.Plan.File.Relief.Axial
		case "roll":
			sum += m.Plan.File.Relief.Roll
		case "hold":
			sum += m.Plan.File.Relief.Release
		}
	}
	return sum
}

// hopeful says whether the limits could hold together without steps.
func (m *search) hopeful(t *train.Train) bool {
	if m.ctx.Err() != nil {
		return false
	}
	t, _ = optimize.SoftFootCorrected(t)
	return !bnb.Relax(m.ctx, &optimize.Build(t, m.Linearization).Problem, mip.Goal{Use: 1}).Impossible()
}

// bySwitches is a relaxation by as few switches of a kind as are enough: one
// machine, or all of them less whatever is not needed.
func (m *search) bySwitches(ctx context.Context, kind optimize.RelaxationKind) *optimize.Relaxation {
	t := m.Plan.File
	all := switches(t, kind)
	try := func(edits []optimize.Edit) *optimize.Relaxation {
		switched := optimize.Apply(t, edits)
		if ctx.Err() != nil || !m.hopeful(switched) {
			return nil
		}
		cost, shifted := m.price(edits), 0.0
		if kind == optimize.ShiftAxially {
			_, shifted = m.relaxationOf(switched, nil, 1).least()
		}
		return m.works(ctx, &optimize.Relaxation{Kind: kind, Edits: slices.Clone(edits), Cost: cost,
			Least: cost + math.Max(0, shifted)}, proving)
	}
	var best *optimize.Relaxation
	for _, e := range all {
		if r := try([]optimize.Edit{e}); r != nil && (best == nil || r.Cost < best.Cost) {
			best = r
		}
		if best != nil && kind != optimize.ShiftAxially { // the others of its kind cost the same
			break
		}
	}
	if best != nil || len(all) < 2 {
		return best
	}
	best = try(all)
	for k := len(all) - 1; k >= 0 && best != nil && len(best.Edits) > 2; k-- {
		at := slices.IndexFunc(best.Edits, func(e optimize.Edit) bool { return e.Machine == all[k].Machine })
		if r := try(slices.Delete(slices.Clone(best.Edits), at, at+1)); r != nil {
			best = r
		}
	}
	return best
}

// mixed is the cheapest relaxation by amounts of every kind together with at most
// one switch, or with as many as it takes where one is not enough; nil where a
// single kind does as well. Held machines stay held unless nothing else was
// found.
func (m *search) mixed(ctx context.Context, single []optimize.Relaxation) *optimize.Relaxation {
	t := m.Plan.File
	below := math.Inf(1) // what a mix must be cheaper than
	for _, r := range single {
		if rank(&r) == 0 {
			below = math.Min(below, r.Cost*(1-1e-6))
		}
	}
	stay := append(switches(t, optimize.ShiftAxially), switches(t, optimize.LetRoll)...)
	best, cost := m.cheapest(append([][]optimize.Edit{nil}, singles(stay)...), below)
	if math.IsInf(cost, 1) {
		best, cost = m.fewestSwitches(stay)
	}
	if math.IsInf(cost, 1) {
		for _, r := range single {
			below = math.Min(below, r.Cost*(1-1e-6)) // it must do better than one released machine alone, too
		}
		released := switches(t, optimize.Release)
		if best, cost = m.cheapest(singles(released), below); math.IsInf(cost, 1) {
			best, cost = m.fewestSwitches(append(stay, released...))
		}
	}
	if !(cost < below) {
		return nil
	}
	if r := m.byAmounts(ctx, optimize.Mix, best); r != nil && r.Cost < below {
		return r
	}
	return nil
}

// singles are choices of one switch each.
func singles(edits []optimize.Edit) [][]optimize.Edit {
	var out [][]optimize.Edit
	for _, e := range edits {
		out = append(out, []optimize.Edit{e})
	}
	return out
}

// needs is what the limits cost with some switches thrown and amounts of every
// kind; +Inf where no amounts are enough.
func (m *search) needs(switches []optimize.Edit) float64 {
	if m.ctx.Err() != nil {
		return math.Inf(1)
	}
	base := optimize.Apply(m.Plan.File, switches)
	amounts, bound := m.relaxationOf(base, levers(base, optimize.Mix), 1).least()
	if amounts == nil {
		return math.Inf(1)
	}
	return bound + m.price(switches)
}

// cheapest is the choice of switches that needs least, if that is below a cost.
func (m *search) cheapest(choices [][]optimize.Edit, below float64) (best []optimize.Edit, cost float64) {
	cost = math.Inf(1)
	for _, c := range choices {
		if need := m.needs(c); need < below && need < cost {
			best, cost = c, need
		}
	}
	return best, cost
}

// fewestSwitches leaves out of a set of switches, last one first, what is not needed.
func (m *search) fewestSwitches(all []optimize.Edit) (best []optimize.Edit, cost float64) {
	best, cost = all, m.needs(all)
	for k := len(all) - 1; k >= 0 && !math.IsInf(cost, 1); k-- {
		less := slices.DeleteFunc(slices.Clone(best), func(e optimize.Edit) bool { return e == all[k] })
		if need := m.needs(less); need < cost {
			best, cost = less, need
		}
	}
	return best, cost
}

// hopeless says whether it is proven that nothing but wider coupling limits is
// enough: no relaxation of the other kinds, nor all of them together, as far as
// they go.
func (m *search) hopeless(ctx context.Context) bool {
	t := m.Plan.File
	var edits []optimize.Edit
	for _, kind := range switchKinds() {
		edits = append(edits, switches(t, kind)...)
	}
	all := optimize.Apply(t, edits)
	edits = nil
	for _, l := range levers(all, optimize.Mix) {
		edits = append(edits, l.apply(l.most))
	}
	all, _ = optimize.SoftFootCorrected(optimize.Apply(all, edits))
	return m.Never(ctx, optimize.Build(all, m.Linearization), 1)
}
