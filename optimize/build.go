package optimize

import (
	"math"

	"leastmove/bolts"
	"leastmove/optimize/mip"
	"leastmove/train"
)

// Reach is how far in mm any foot may be moved where the file states no limit
// of its own. It makes every unknown finite, which proofs need; it is far
// beyond what bolts, packs and couplings allow.
const Reach = 1000

// A task is a train written as a mixed-integer problem, and the way back.
type task struct {
	train      *train.Train
	problem    mip.Problem
	feet       []group // what each variable sets
	kinematics []train.Kinematics
	first      []int            // first variable of each machine, and one more
	labels     []Limit          // of each of problem.Limits
	widening   float64          // what every limit is multiplied by
	stock      *bolts.ShimStock // nil: not asked for
}

// A group is the feet that one variable sets together.
type group struct {
	machine int
	feet    []int
	act     act
}

// An act is what a crew does at a foot.
type act int

const (
	shim act = iota
	side
	axial
)

// resolution is the finest sideways move in mm that a plan asks for: what a
// dial shows.
func resolution(u train.Units) float64 {
	if u == train.Inches {
		return 0.5 * train.Mil
	}
	return 0.01
}

// A touching says where the linear forms of the couplings are tangent to true geometry.
type linearization struct {
	motions  []train.Motion
	tangents [][]train.Tangent // [coupling][condition]
}

// build writes the train as a mixed-integer problem: by linear forms that are tangent to true
// geometry at some motions, or, with nil, where the train stands.
func build(t *train.Train, at *linearization) *task {
	k := &task{train: t, widening: 1, kinematics: make([]train.Kinematics, len(t.Machines))}
	if at != nil {
		k.widening = 1 + CheckTolerance
	}
	block := 0
	for i := range t.Machines {
		k.first = append(k.first, len(k.feet))
		k.kinematics[i] = t.Machines[i].Kinematics()
		if !t.Machines[i].Hold && len(t.Machines[i].Feet) > 0 {
			k.machine(i, block)
			block++
		}
	}
	k.first = append(k.first, len(k.feet))
	if t.Aim.FixedCost == 0 {
		k.problem.FixedCost = nil
	}
	for i := range t.Machines {
		k.footLimits(i)
	}
	for i := range t.Couplings {
		for c := range t.Conditions {
			k.coupling(i, c, at)
		}
	}
	return k
}

// machine adds the variables of one machine: a pack change for each foot, or
// for each station where left and right must be the same; a side move for each
// station; a shift along the train where it may.
func (k *task) machine(i, block int) {
	t := k.train
	m := &t.Machines[i]
	add := func(a act, feet []int, step, lo, hi float64) {
		k.feet = append(k.feet, group{i, feet, a})
		k.problem.Vars = append(k.problem.Vars, mip.Var{
			Block: block, Weight: m.Effort * float64(len(feet)), Step: step, Lo: lo, Hi: hi,
			Least: int(math.Ceil(t.Aim.LeastMove/step - 1e-9)),
		})
	}
	sides := m.Stations()
	packs := sides
	if m.Roll {
		packs = nil
		for f := range m.Feet {
			packs = append(packs, []int{f})
		}
	}
	for _, feet := range packs {
		lo, hi := -float64(Reach), float64(Reach)
		for _, f := range feet {
			lo, hi = math.Max(lo, -m.Feet[f].Lower), math.Min(hi, m.Feet[f].Raise)
		}
		add(shim, feet, t.Shims.Step, lo, hi)
		v := &k.problem.Vars[len(k.problem.Vars)-1]
		v.Only = k.packSteps(feet, m, v.Least)
	}
	for _, feet := range sides {
		lo, hi := -float64(Reach), float64(Reach)
		for _, f := range feet {
			b := footOf(m.Feet[f])
			// The hole is a limit of its own too; its ends keep the range short.
			lo = math.Max(lo, math.Max(-b.TravelRight, b.At[1]-b.Travel()))
			hi = math.Min(hi, math.Min(b.TravelLeft, b.At[1]+b.Travel()))
		}
		add(side, feet, resolution(t.Units), lo, hi)
	}
	k.problem.FixedCost = append(k.problem.FixedCost, t.Aim.FixedCost)
	if m.Axial {
		all := make([]int, len(m.Feet))
		for f := range all {
			all[f] = f
		}
		add(axial, all, resolution(t.Units), -Reach, Reach)
	}
}

// row is sign × a form of machine i's motion as a row over its variables.
func (k *task) row(r mip.Row, i int, form train.Form, sign float64) mip.Row {
	s := &k.kinematics[i]
	for v := k.first[i]; v < k.first[i+1]; v++ {
		g := &k.feet[v]
		var c float64
		for _, f := range g.feet {
			switch g.act {
			case shim:
				c += form.Of(s.Pack[f])
			case side:
				c += form.Of(s.Side[f])
			}
		}
		if g.act == axial {
			c = form[train.Axial]
		}
		r = plus(r, v, sign*c)
	}
	return r
}

// idle is the size below which a coefficient (per mm) is rounding and nothing
// else.
const idle = 1e-12

func plus(r mip.Row, v int, c float64) mip.Row {
	if math.Abs(c) < idle {
		return r
	}
	for n := range r.Terms {
		if r.Terms[n].Var == v {
			r.Terms[n].Coefficient += c
			return r
		}
	}
	r.Terms = append(r.Terms, mip.Term{Var: v, Coefficient: c})
	return r
}

// moves are what the crew sets for values of the variables, in mm.
func (k *task) moves(value func(v int) float64) train.Moves {
	moves := k.train.Stay()
	for v, g := range k.feet {
		x := value(v)
		for _, f := range g.feet {
			switch m := &moves[g.machine][f]; g.act {
			case shim:
				m.Up = x
			case side:
				m.Left = x
			case axial:
				m.Axial = x
			}
		}
	}
	return moves
}

// set are the moves of an integer point.
func (k *task) set(s mip.Steps) train.Moves {
	return k.moves(func(v int) float64 { return float64(s[v]) * k.problem.Vars[v].Step })
}

// motions are what the moves come to, of each machine.
func motions(t *train.Train, moves train.Moves) []train.Motion {
	out := make([]train.Motion, len(t.Machines))
	for i := range out {
		s := t.Machines[i].Kinematics()
		out[i] = s.Motion(moves[i])
	}
	return out
}

// linearizedAt is where linear forms are tangent to true geometry after the moves.
func linearizedAt(t *train.Train, moves train.Moves) *linearization {
	q := motions(t, moves)
	return &linearization{q, t.Tangents(q)}
}
