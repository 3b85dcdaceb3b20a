package optimize

import (
	"cmp"
	"context"
	"math"
	"slices"

	"leastmove/optimize/certify"
	"leastmove/optimize/lattice"
	"leastmove/optimize/search"
	"leastmove/train"
)

// reliefs looks for the least ways out of a clash: of every kind alone, and
// mixed. Each one found is proven to work by a plan of the edited train. A
// machine that is held stays so wherever that is enough.
func (m *maker) reliefs(ctx context.Context) []Relief {
	var out []Relief
	add := func(r *Relief) {
		if r != nil {
			out = append(out, *r)
		}
	}
	t := m.plan.file
	for _, kind := range []ReliefKind{OpenHoles, TurnBolts, MakePack, RaiseMore} {
		add(m.byAmounts(ctx, kind, nil))
	}
	for _, kind := range []ReliefKind{ShiftAxially, LetRoll, Release} {
		add(m.bySwitches(ctx, kind))
	}
	add(m.mixed(ctx, out))
	if m.opt.Widen {
		for i := range t.Couplings {
			add(m.widen(ctx, i))
		}
	}
	slices.SortStableFunc(out, func(a, b Relief) int {
		return cmp.Or(cmp.Compare(a.rank(), b.rank()), cmp.Compare(a.Cost, b.Cost))
	})
	return out
}

// rank puts what keeps held machines held first, and wider limits last.
func (r *Relief) rank() int {
	switch {
	case r.Kind == Widen:
		return 2
	case slices.ContainsFunc(r.Edits, func(e Edit) bool { return e.Key == "hold" }):
		return 1
	}
	return 0
}

// A lever is one amount that a crew or a shop may set.
type lever struct {
	edit Edit    // To is left open
	rate float64 // of the edited value, per unit of the amount
	cost float64 // per mm, or per share
	most float64 // mm, or share
	step float64 // what a shop does: amounts are whole multiples
}

// levers are the amounts of one kind of relief; of every kind for Mix.
func levers(t *train.Train, kind ReliefKind) []lever {
	if kind == Mix {
		var all []lever
		for _, k := range []ReliefKind{OpenHoles, TurnBolts, MakePack, RaiseMore} {
			all = append(all, levers(t, k)...)
		}
		return all
	}
	hole, shank := 0.5, 0.1 // mm
	if t.Units == train.Inches {
		hole, shank = 16*train.Mil, 5*train.Mil // 1/64 in, as it is written
	}
	var out []lever
	for i := range t.Machines {
		m := &t.Machines[i]
		if m.Hold {
			continue
		}
		for f := range m.Feet {
			foot := &m.Feet[f]
			at := Edit{Machine: i, Foot: f, Coupling: -1}
			known := footOf(*foot).Known()
			switch {
			case kind == OpenHoles && known:
				at.Key, at.From = "hole", foot.Hole
				out = append(out, lever{at, 1, t.Relief.Hole, t.Relief.Open, hole})
			case kind == TurnBolts && known && foot.Minor > 0 && foot.Minor < foot.Bolt:
				at.Key, at.From = "bolt", foot.Bolt
				out = append(out, lever{at, -1, t.Relief.Bolt, foot.Bolt - foot.Minor, shank})
			case kind == MakePack && !math.IsInf(foot.Lower, 1):
				at.Key, at.From = "cut", foot.Cut
				out = append(out, lever{at, 1, t.Relief.Pack, t.Relief.Cut, t.Shims.Step})
			case kind == RaiseMore && !math.IsInf(foot.Raise, 1):
				at.Key, at.From = "raise", foot.Raise
				out = append(out, lever{at, 1, t.Relief.Raise, highest, t.Shims.Step})
			}
		}
	}
	return out
}

// highest is how much more than stated, in mm, a pack is ever raised.
const highest = 50

// apply sets a lever to an amount.
func (l *lever) apply(amount float64) Edit {
	e := l.edit
	e.To = e.From + l.rate*amount
	return e
}

// Relieve is the train with the edits of a relief.
func Relieve(t *train.Train, r Relief) *train.Train { return edited(t, r.Edits) }

func edited(t *train.Train, edits []Edit) *train.Train {
	out := *t
	out.Machines = slices.Clone(t.Machines)
	for i := range out.Machines {
		out.Machines[i].Feet = slices.Clone(t.Machines[i].Feet)
	}
	out.Couplings = slices.Clone(t.Couplings)
	for _, e := range edits {
		if e.Coupling >= 0 {
			limit := &out.Couplings[e.Coupling].Limit
			switch e.Key {
			case "limit.offset":
				limit.Offset = e.To
			case "limit.angle":
				limit.Angle = e.To
			case "limit.gap":
				limit.Gap = e.To
			}
			continue
		}
		m := &out.Machines[e.Machine]
		switch e.Key {
		case "axial":
			m.Axial = e.To == 1
		case "roll":
			m.Roll = e.To == 1
		case "hold":
			m.Hold = e.To == 1
		case "hole":
			m.Feet[e.Foot].Hole = e.To
		case "bolt":
			m.Feet[e.Foot].Bolt = e.To
		case "raise":
			m.Feet[e.Foot].Raise = e.To
		case "cut":
			m.Feet[e.Foot].Cut = e.To
			m.Feet[e.Foot].Lower += e.To - e.From
		}
	}
	return &out
}

// stretched is the elastic problem of some levers: the train as it stands, with
// every lever as far as it goes in the ranges of the variables, and held back
// by the amounts.
func (m *maker) stretched(t *train.Train, levers []lever, use float64) *elastic {
	var far []Edit
	for k := range levers {
		far = append(far, levers[k].apply(levers[k].most))
	}
	stands, _ := bedded(t)
	reaches, _ := bedded(edited(t, far))
	base, wide := build(stands, m.touching), build(reaches, m.touching)
	p := base.problem
	p.Vars = slices.Clone(wide.problem.Vars)
	e := &elastic{problem: &p, use: use}
	for k, l := range levers {
		g := give{cost: l.cost, most: l.most, limits: map[int]float64{}}
		switch l.edit.Key {
		case "hole", "bolt":
			for i, label := range base.labels {
				if label.Kind == LimitBolt && label.Machine == l.edit.Machine && label.Foot == l.edit.Foot {
					g.limits[i] = base.give / 2
				}
			}
		case "cut", "raise":
			sign := 1.0
			if l.edit.Key == "cut" {
				sign = -1
			}
			v := base.pack(l.edit.Machine, l.edit.Foot)
			at := stands.Machines[l.edit.Machine].Feet[l.edit.Foot].Raise
			if sign < 0 {
				at = stands.Machines[l.edit.Machine].Feet[l.edit.Foot].Lower
			}
			e.ends = append(e.ends, end{v, sign, at, k})
		default:
			for i, label := range base.labels {
				if label.Coupling == l.edit.Coupling {
					g.limits[i] = base.problem.Limits[i].Radius
				}
			}
		}
		for v := range base.feet {
			if l.edit.Machine >= 0 && base.feet[v].machine == l.edit.Machine || l.edit.Machine < 0 && base.feet[v].machine <= t.Couplings[l.edit.Coupling].From.Machine {
				g.block = base.problem.Vars[v].Block
			}
		}
		e.gives = append(e.gives, g)
	}
	return e
}

// pack is the variable that sets a foot's pack.
func (k *task) pack(machine, foot int) int {
	for v := k.first[machine]; v < k.first[machine+1]; v++ {
		if k.feet[v].act == shim && slices.Contains(k.feet[v].feet, foot) {
			return v
		}
	}
	panic("optimize: a foot without a pack")
}

// closer are the shares of the coupling limits that amounts are worked out for,
// one after another, until they are enough with whole steps and rounded.
var closer = [...]float64{1, 0.97, 0.9, 0.8, 0.65, 0.5, 0.3}

// doublings is how often what is added to amounts is doubled, from one step on,
// where closer couplings are out of reach.
const doublings = 7

// byAmounts is the least relief by amounts of one kind, with some switches
// thrown before; nil where none was found.
func (m *maker) byAmounts(ctx context.Context, kind ReliefKind, before []Edit) *Relief {
	base := edited(m.plan.file, before)
	w := &wayOut{maker: m, kind: kind, before: before, all: levers(base, kind)}
	if len(w.all) == 0 {
		return nil
	}
	amounts, bound := m.stretched(base, w.all, 1).least()
	if amounts == nil {
		return nil
	}
	w.least = bound + m.price(before)
	if r := w.enough(ctx, base, amounts); r != nil {
		return w.trim(ctx, r)
	}
	return nil
}

// A wayOut is a relief by amounts that is being looked for.
type wayOut struct {
	*maker
	kind    ReliefKind
	before  []Edit  // switches thrown
	all     []lever // what there is to set
	amounts []float64
	least   float64 // cost before rounding
}

// enough goes up from the least amounts until a plan is found.
func (w *wayOut) enough(ctx context.Context, base *train.Train, amounts []float64) *Relief {
	for _, use := range closer {
		if use < 1 {
			if amounts, _ = w.stretched(base, w.all, use).least(); amounts == nil {
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

// trim takes back what is not needed, the dearest first: whole amounts, then
// half of them, then less.
func (w *wayOut) trim(ctx context.Context, r *Relief) *Relief {
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
			if better := w.try(ctx, less, trimming); better != nil {
				r, w.amounts = better, less
			}
		}
	}
	return r
}

// trims is how often less is tried.
const trims = 32

// try is the relief by amounts; nil where it can't be shown to work.
func (w *wayOut) try(ctx context.Context, amounts []float64, share int) *Relief {
	r := &Relief{Kind: w.kind, Edits: slices.Clone(w.before), Cost: w.price(w.before), Least: w.least}
	for k, a := range amounts {
		if a > 1e-9 {
			e := w.all[k].apply(a)
			r.Edits = append(r.Edits, e)
			r.Cost += a * w.all[k].cost
			foot := &w.plan.file.Machines[e.Machine].Feet[e.Foot]
			drilled := slices.ContainsFunc(r.Edits, func(o Edit) bool { return o.Machine == e.Machine && o.Foot == e.Foot && o.Key == "hole" })
			if e.Key == "bolt" && foot.Fitted && !drilled {
				// The hole is no longer a standard's for this bolt: it is what it was.
				r.Edits = append(r.Edits, Edit{Machine: e.Machine, Foot: e.Foot, Coupling: -1, Key: "hole", From: foot.Hole, To: foot.Hole})
			}
		}
	}
	if len(r.Edits) == 0 || !w.hopeful(Relieve(w.plan.file, *r)) {
		return nil
	}
	return w.works(ctx, r, share)
}

// rounded are amounts rounded up to what a shop does.
func rounded(all []lever, amounts []float64) []float64 {
	out := make([]float64, len(amounts))
	for k, a := range amounts {
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

// The shares, one in so many, of the work that a plan is worth that go into
// showing that a relief works, and that a smaller one does too.
const (
	proving  = 30
	trimming = 150
)

// works plans the train with the relief, at all of the limits; nil where no plan
// was found with a share of the work.
func (m *maker) works(ctx context.Context, r *Relief, share int) *Relief {
	file := Relieve(m.plan.file, *r)
	sub := &maker{plan: newPlan(file, Options{Use: 1}), opt: Options{Use: 1, Gap: 4 * Spare}}
	sub.linearise()
	sub.opt.Solves = enough(len(sub.task.problem.Vars)) / share
	found := sub.leastTotal(ctx, 1)
	m.plan.Solves += sub.plan.Solves
	if found.Steps == nil {
		return nil
	}
	r.Total, r.Bound = found.Value, sub.proven(found)
	return r
}

// price is what switches cost.
func (m *maker) price(edits []Edit) float64 {
	var sum float64
	for _, e := range edits {
		switch e.Key {
		case "axial":
			sum += m.plan.file.Relief.Axial
		case "roll":
			sum += m.plan.file.Relief.Roll
		case "hold":
			sum += m.plan.file.Relief.Release
		}
	}
	return sum
}

// switches are the edits of a kind that a machine either has or has not.
func switches(t *train.Train, kind ReliefKind) []Edit {
	var out []Edit
	for i := range t.Machines {
		m := &t.Machines[i]
		e := Edit{Machine: i, Foot: -1, Coupling: -1, To: 1}
		switch {
		case kind == ShiftAxially && !m.Axial && !m.Hold && len(m.Feet) > 0:
			e.Key = "axial"
		case kind == LetRoll && len(m.Shafts) > 1 && !m.Roll && !m.Hold && len(m.Feet) > 0: // a gear case
			e.Key = "roll"
		case kind == Release && m.Hold && len(m.Feet) > 0:
			e.Key, e.From, e.To = "hold", 1, 0
		default:
			continue
		}
		out = append(out, e)
	}
	return out
}

// hopeful says whether the limits could hold together without steps.
func (m *maker) hopeful(t *train.Train) bool {
	t, _ = bedded(t)
	return !search.Relax(&build(t, m.touching).problem, lattice.Goal{Use: 1}).Impossible()
}

// bySwitches is a relief by as few switches of a kind as are enough: one
// machine, or all of them less whatever is not needed.
func (m *maker) bySwitches(ctx context.Context, kind ReliefKind) *Relief {
	t := m.plan.file
	all := switches(t, kind)
	try := func(edits []Edit) *Relief {
		if !m.hopeful(edited(t, edits)) {
			return nil
		}
		cost := m.price(edits)
		return m.works(ctx, &Relief{Kind: kind, Edits: edits, Cost: cost, Least: cost}, proving)
	}
	for _, e := range all {
		if r := try([]Edit{e}); r != nil {
			return r
		}
	}
	if len(all) < 2 {
		return nil
	}
	best := try(all)
	for k := len(all) - 1; k >= 0 && best != nil && len(best.Edits) > 2; k-- {
		at := slices.Index(best.Edits, all[k])
		if r := try(slices.Delete(slices.Clone(best.Edits), at, at+1)); r != nil {
			best = r
		}
	}
	return best
}

// mixed is the cheapest relief by amounts of every kind together with at most
// one switch, or with as many as it takes where one is not enough; nil where a
// single kind does as well. Held machines stay held unless nothing else was
// found.
func (m *maker) mixed(ctx context.Context, single []Relief) *Relief {
	t := m.plan.file
	worth := math.Inf(1) // what a mix must be cheaper than
	for _, r := range single {
		if r.rank() == 0 {
			worth = math.Min(worth, r.Cost*(1-1e-6))
		}
	}
	stay := append(switches(t, ShiftAxially), switches(t, LetRoll)...)
	best, cost := m.cheapest(append([][]Edit{nil}, singles(stay)...), worth)
	if math.IsInf(cost, 1) {
		best, cost = m.fewest(stay)
	}
	if math.IsInf(cost, 1) {
		released := switches(t, Release)
		if best, cost = m.cheapest(singles(released), worth); math.IsInf(cost, 1) {
			best, cost = m.fewest(append(stay, released...))
		}
	}
	if !(cost < worth) {
		return nil
	}
	if r := m.byAmounts(ctx, Mix, best); r != nil && r.Cost < worth {
		return r
	}
	return nil
}

// singles are choices of one switch each.
func singles(edits []Edit) [][]Edit {
	var out [][]Edit
	for _, e := range edits {
		out = append(out, []Edit{e})
	}
	return out
}

// needs is what the limits cost with some switches thrown and amounts of every
// kind; +Inf where no amounts are enough.
func (m *maker) needs(switches []Edit) float64 {
	base := edited(m.plan.file, switches)
	amounts, bound := m.stretched(base, levers(base, Mix), 1).least()
	if amounts == nil {
		return math.Inf(1)
	}
	return bound + m.price(switches)
}

// cheapest is the choice of switches that needs least, if less than worth.
func (m *maker) cheapest(choices [][]Edit, worth float64) (best []Edit, cost float64) {
	cost = math.Inf(1)
	for _, c := range choices {
		if need := m.needs(c); need < worth && need < cost {
			best, cost = c, need
		}
	}
	return best, cost
}

// fewest leaves out of a set of switches, last one first, what is not needed.
func (m *maker) fewest(all []Edit) (best []Edit, cost float64) {
	best, cost = all, m.needs(all)
	for k := len(all) - 1; k >= 0 && !math.IsInf(cost, 1); k-- {
		less := slices.DeleteFunc(slices.Clone(best), func(e Edit) bool { return e == all[k] })
		if need := m.needs(less); need < cost {
			best, cost = less, need
		}
	}
	return best, cost
}

// widen is wider limits at one coupling: all of them by the same share, the
// least that can be shown to work, and then none by more than is needed.
func (m *maker) widen(ctx context.Context, coupling int) *Relief {
	const percent, most = 0.01, 10
	l := lever{edit: Edit{Machine: -1, Foot: -1, Coupling: coupling, Key: "limit"}, cost: 1, most: most, step: percent}
	amounts, bound := m.stretched(m.plan.file, []lever{l}, 1).least()
	if amounts == nil {
		return nil
	}
	limit := m.plan.file.Couplings[coupling].Limit
	keys := map[string]float64{"limit.offset": limit.Offset, "limit.angle": limit.Angle, "limit.gap": limit.Gap}
	try := func(share float64, but string) *Relief {
		r := &Relief{Kind: Widen, Cost: share, Least: bound}
		for _, key := range [...]string{"limit.offset", "limit.angle", "limit.gap"} {
			if was := keys[key]; key != but && !math.IsInf(was, 1) && was > 0 {
				r.Edits = append(r.Edits, Edit{Machine: -1, Foot: -1, Coupling: coupling, Key: key, From: was, To: was * (1 + share)})
			}
		}
		if len(r.Edits) == 0 || !m.hopeful(Relieve(m.plan.file, *r)) {
			return nil
		}
		return m.works(ctx, r, proving)
	}
	low := 0.0 // too little
	high := math.Max(rounded([]lever{l}, amounts)[0], percent)
	best := try(high, "")
	for best == nil && high < most {
		low, high = high, math.Min(most, 1.5*high)
		best = try(high, "")
	}
	if best == nil {
		return nil
	}
	for n := 0; n < 5 && high-low > 1.5*percent; n++ {
		middle := percent * math.Ceil((low+high)/2/percent)
		if r := try(middle, ""); r != nil {
			best, high = r, middle
		} else {
			low = middle
		}
	}
	for _, e := range best.Edits {
		if r := try(high, e.Key); r != nil {
			return r
		}
	}
	return best
}

// hopeless says whether it is proven that nothing but wider coupling limits is
// enough: no relief of the other kinds, nor all of them together, as far as
// they go.
func (m *maker) hopeless() bool {
	t := m.plan.file
	var edits []Edit
	for _, kind := range []ReliefKind{ShiftAxially, LetRoll, Release} {
		edits = append(edits, switches(t, kind)...)
	}
	all := edited(t, edits)
	edits = nil
	for _, l := range levers(all, Mix) {
		edits = append(edits, l.apply(l.most))
	}
	all, _ = bedded(edited(all, edits))
	k := build(all, m.touching)
	r := search.Find(context.Background(), &k.problem, lattice.Goal{Use: 1}, search.Options{Solves: 1})
	return r.Status == search.Impossible && certify.Check(&k.problem, r.Claim, r.Proof) == nil
}
