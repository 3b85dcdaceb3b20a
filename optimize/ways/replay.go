package ways

import (
	"context"
	"fmt"
	"math"

	"leastmove/optimize"
	"leastmove/optimize/robust"
	"leastmove/train"
)

// A Replayed is what moves that someone gave would do.
type Replayed struct {
	*optimize.Plan                // Tried, with the limits that the moves break
	Misfits        []Misfit       // numbers that a crew can't set, or that the file does not allow
	Remedies       []Remedy       // for couplings that end outside a limit: the one number that would mend it
	Beside         *optimize.Plan // the plan that moves least, made for the same train
}

// A MisfitKind says what is wrong with a number of a plan.
type MisfitKind string

const (
	OffStep    MisfitKind = "steps" // not on a whole step of shims or of a dial: Nearest is
	LeftApart  MisfitKind = "apart" // the feet of a rigid machine do not go sideways like this
	NoRoll     MisfitKind = "roll"  // left and right packs differ, and the file does not let them
	NoShift    MisfitKind = "axial" // a shift along the train, and the file does not allow one
	Unmakeable MisfitKind = "stock" // the pack can't be made from what the file lists
	TooLittle  MisfitKind = "least" // less than the least move of the file
)

// Breaks says whether the number breaks a rule; one that is only off its step can
// be set nearby.
func (k MisfitKind) Breaks() bool { return k != OffStep }

// A Misfit is one number that can't be set as it is.
type Misfit struct {
	Kind    MisfitKind
	Machine int
	Foot    int     // -1: the machine as a whole
	What    string  // "up", "left" or "axial"
	Is      float64 // mm, as given
	Nearest float64 // mm, the nearest that can be set; NaN: there is no one such number
}

// A Remedy is the change of one number that brings a coupling's limit back.
type Remedy struct {
	optimize.Constraint       // the limit that was broken
	Machine             int   // -1: no single number would do it
	Feet                []int // of one station, set alike
	What                string
	From, To            float64 // mm
	Left                int     // limits that are broken still
	Most                Share   // the number that makes most of it
}

// A Share is one number of a plan, and what a limit would stand at without it.
type Share struct {
	Machine int   // -1: no number makes it worse
	Feet    []int // of one station, set alike
	What    string
	Is      float64 // mm
	Without float64 // mm or mrad, what the limit's value would be
}

// mostRemedies bounds the limits that remedies are looked for.
const mostRemedies = 40

// Replay says what moves would do that a person wrote, and sets them beside the
// plan that moves least.
func Replay(ctx context.Context, t *train.Train, moves train.Moves, opt optimize.Options) (*Replayed, error) {
	t, err := optimize.Given(t, opt)
	if err != nil {
		return nil, err
	}
	r := &Replayed{Plan: optimize.Try(t, moves)}
	if opt.Use > 0 {
		r.Aim = opt.Use
	}
	r.misfits()
	r.remedies()
	r.Probability = robust.MonteCarlo(ctx, r.Plan, robust.Draws)
	least := optimize.Options{Use: opt.Use, Gap: opt.Gap, Solves: opt.Solves, Limit: opt.Limit,
		Tell: opt.Tell, Brief: true}
	r.Beside, err = Make(ctx, t, least)
	return r, err
}

// Holds says whether the moves keep every limit and every rule of the file.
func (r *Replayed) Holds() bool { return r.breaks() == 0 }

// breaks is how many limits and rules of the file the moves break.
func (r *Replayed) breaks() int {
	n := len(r.Broken)
	for _, m := range r.Misfits {
		if m.Kind.Breaks() {
			n++
		}
	}
	return n
}

// misfits looks at every number.
func (r *Replayed) misfits() {
	t := r.Train
	stocks := optimize.ShimStocks(t)
	for i := range t.Machines {
		m := &t.Machines[i]
		kin := m.Kinematics()
		q := kin.Motion(r.Moves[i])
		for f, move := range r.Moves[i] {
			for _, n := range []struct {
				what     string
				is, step float64
			}{{"up", move.Up, t.ShimsOf(i).Step}, {"left", move.Left, t.Units.Resolution()},
				{"axial", move.Axial, t.Units.Resolution()}} {
				if n.what == "axial" && f > 0 {
					continue // one number for the machine
				}
				near := whole(n.is, n.step)
				add := func(kind MisfitKind, nearest float64) {
					foot := f
					if n.what == "axial" {
						foot = -1
					}
					r.Misfits = append(r.Misfits, Misfit{Kind: kind, Machine: i, Foot: foot, What: n.what, Is: n.is, Nearest: nearest})
				}
				if math.Abs(n.is-near) > 1e-6*n.step+1e-9 {
					add(OffStep, near)
				}
				if least := t.Aim.Least(n.what == "up"); n.is != 0 && math.Abs(n.is) < least-1e-9 {
					add(TooLittle, math.Copysign(least, n.is))
				}
			}
			if optimize.StockStated(t, i) && !optimize.Makes(t, stocks[i], i, f, move.Up) {
				r.Misfits = append(r.Misfits, Misfit{Kind: Unmakeable, Machine: i, Foot: f, What: "up", Is: move.Up,
					Nearest: math.NaN()})
			}
			if off := move.Left - kin.LeftAt(f).Of(q); math.Abs(off) > t.Units.Resolution()+1e-9 {
				r.Misfits = append(r.Misfits, Misfit{Kind: LeftApart, Machine: i, Foot: f, What: "left", Is: move.Left,
					Nearest: move.Left - off})
			}
		}
		r.wholeMachine(i)
	}
}

// wholeMachine looks at what the file does not let a machine do at all. One that
// it holds is among the limits.
func (r *Replayed) wholeMachine(i int) {
	m, moves := &r.Train.Machines[i], r.Moves[i]
	if m.Hold || len(moves) == 0 {
		return
	}
	if !m.Axial && moves[0].Axial != 0 {
		r.Misfits = append(r.Misfits, Misfit{Kind: NoShift, Machine: i, Foot: -1, What: "axial", Is: moves[0].Axial})
	}
	if m.Roll {
		return
	}
	for _, feet := range m.Stations() {
		for _, f := range feet[1:] {
			if d := moves[f].Up - moves[feet[0]].Up; math.Abs(d) > 1e-9 {
				r.Misfits = append(r.Misfits, Misfit{Kind: NoRoll, Machine: i, Foot: f, What: "up", Is: moves[f].Up,
					Nearest: moves[feet[0]].Up})
			}
		}
	}
}

// remedies looks, for every limit of a coupling that the moves break, for the
// one number whose change brings it back: of those that leave the fewest limits
// broken the one that changes least.
func (r *Replayed) remedies() {
	at := map[optimize.Limit]int{} // both flex planes of a coupling are one limit
	for _, e := range r.Broken {
		n, there := at[e.Limit]
		switch {
		case e.Coupling < 0, e.Kind == train.LimitWarm:
		case there:
			if e.Value > r.Remedies[n].Value {
				r.Remedies[n].Constraint = e
			}
		case len(r.Remedies) < mostRemedies:
			at[e.Limit] = len(r.Remedies)
			r.Remedies = append(r.Remedies, r.remedy(e))
		}
	}
}

func (r *Replayed) remedy(e optimize.Constraint) Remedy {
	t := r.Train
	best := Remedy{Constraint: e, Machine: -1, Left: math.MaxInt, Most: Share{Machine: -1, Without: e.Value}}
	least := math.Inf(1)
	c := &t.Couplings[e.Coupling]
	for _, i := range [2]int{c.From.Machine, c.To.Machine} {
		for _, n := range r.numbers(i) {
			r.without(&best.Most, e, i, n.feet, n.what)
			if t.Machines[i].Hold {
				continue
			}
			from := *number(&r.Moves[i][n.feet[0]], n.what)
			for _, to := range r.healing(e, i, n.feet, n.what) {
				step := math.Copysign(r.step(i, n.what), to-from)
				for range mostSteps {
					p := &Replayed{Plan: optimize.Try(r.File, r.with(i, n.feet, n.what, to))}
					if still(p.Broken, e) {
						break
					}
					p.misfits()
					by, left := math.Abs(to-from), p.breaks()
					if left > best.Left {
						break
					}
					if left < best.Left || by < least-1e-9 {
						best = Remedy{Constraint: e, Machine: i, Feet: n.feet, What: n.what, From: from, To: to, Left: left,
							Most: best.Most}
						least = by
					}
					to += step
				}
			}
		}
	}
	return best
}

// mostSteps is how far beyond where a limit comes back a number is changed at most, in its steps: other limits may come
// back later.
const mostSteps = 20

// A set is one number of a plan: what is set alike at some feet of one station.
type set struct {
	feet []int
	what string
}

// numbers are those of a machine: of both feet of each station, and of one foot where the packs of the two may differ.
func (r *Replayed) numbers(i int) []set {
	var out []set
	m := &r.Train.Machines[i]
	for _, feet := range m.Stations() {
		out = append(out, set{feet, "up"}, set{feet, "left"})
		if len(feet) < 2 || !m.Roll && r.Moves[i][feet[0]].Up == r.Moves[i][feet[1]].Up {
			continue
		}
		for n := range feet {
			out = append(out, set{feet[n : n+1], "up"})
		}
	}
	return out
}

// step is the least by which a number can be changed, in mm.
func (r *Replayed) step(i int, what string) float64 {
	if what == "up" {
		return r.Train.ShimsOf(i).Step
	}
	return r.Train.Units.Resolution()
}

// without keeps a number as the one that makes most of a limit, if it is.
func (r *Replayed) without(most *Share, e optimize.Constraint, i int, feet []int, what string) {
	is := *number(&r.Moves[i][feet[0]], what)
	if is == 0 {
		return
	}
	state := r.Train.Check(r.with(i, feet, what, 0))
	var value float64
	for _, u := range state.Couplings[e.Coupling][e.Condition].Uses {
		if u.Kind.LimitKind() == e.Kind {
			value = math.Max(value, u.Share*u.Limit)
		}
	}
	if value < most.Without-1e-9 {
		*most = Share{Machine: i, Feet: feet, What: what, Is: is, Without: value}
	}
}

func still(broken []optimize.Constraint, e optimize.Constraint) bool {
	for _, b := range broken {
		if b.Limit == e.Limit {
			return true
		}
	}
	return false
}

// number is one of the numbers that are set at a foot.
func number(f *train.FootMove, what string) *float64 {
	switch what {
	case "up":
		return &f.Up
	case "left":
		return &f.Left
	}
	panic(fmt.Sprintf("optimize: a foot has no %s that is its own", what))
}

// with are the moves with one number of a station changed.
func (r *Replayed) with(i int, feet []int, what string, to float64) train.Moves {
	moves := make(train.Moves, len(r.Moves))
	for k := range moves {
		moves[k] = append([]train.FootMove(nil), r.Moves[k]...)
	}
	for _, f := range feet {
		*number(&moves[i][f], what) = to
	}
	return moves
}

// healing are the values of one number, on whole steps, that bring a limit of a
// coupling back to first order: from the nearest on each side of what is given.
// The number enters the two planes as v + gv·δ and h + gh·δ.
func (r *Replayed) healing(e optimize.Constraint, i int, feet []int, what string) []float64 {
	const probe = 0.1 // mm
	t := r.Train
	step := r.step(i, what)
	from := *number(&r.Moves[i][feet[0]], what)
	state := t.Check(r.with(i, feet, what, from+probe))
	var out []float64
	for n, u := range r.Planned.Couplings[e.Coupling][e.Condition].Uses {
		if u.Kind.LimitKind() != e.Kind || u.Share <= 1 {
			continue
		}
		moved := state.Couplings[e.Coupling][e.Condition].Uses[n]
		gv, gh := (moved.V-u.V)/probe, (moved.H-u.H)/probe
		for _, d := range reaches(u.V, u.H, gv, gh, u.Limit, t.Couplings[e.Coupling].Limit.EachPlane) {
			to := math.Ceil((from+d)/step-1e-6) * step
			if d < 0 {
				to = math.Floor((from+d)/step+1e-6) * step
			}
			if least := math.Ceil(t.Aim.Least(what == "up")/step-1e-6) * step; to != 0 && math.Abs(to) < least {
				to = math.Copysign(least, to)
			}
			out = append(out, to)
		}
	}
	return out
}

// reaches are the nearest δ at which (v + gv·δ, h + gh·δ) comes within a limit:
// a disc, or each by itself.
func reaches(v, h, gv, gh, limit float64, each bool) []float64 {
	if each {
		lo, hi := math.Inf(-1), math.Inf(1)
		for _, p := range [2][2]float64{{v, gv}, {h, gh}} {
			if p[1] == 0 {
				if math.Abs(p[0]) > limit {
					return nil
				}
				continue
			}
			a, b := (-limit-p[0])/p[1], (limit-p[0])/p[1]
			lo, hi = math.Max(lo, math.Min(a, b)), math.Min(hi, math.Max(a, b))
		}
		switch {
		case lo > hi:
			return nil
		case lo > 0:
			return []float64{lo}
		}
		return []float64{hi}
	}
	a, b, c := gv*gv+gh*gh, v*gv+h*gh, v*v+h*h-limit*limit
	if root := b*b - a*c; a > 0 && root >= 0 {
		// Both ends of what is within lie on one side: the nearer one.
		d := -b - math.Sqrt(root)
		if b > 0 {
			d = -b + math.Sqrt(root)
		}
		return []float64{d / a}
	}
	return nil
}
