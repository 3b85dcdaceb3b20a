package optimize

import (
	"math"
	"slices"

	"leastmove/bolts"
	"leastmove/optimize/mip"
	"leastmove/train"
)

// Reach is how far in mm any foot may be moved where the file states no limit
// of its own. It makes every unknown finite, which proofs need; it is far
// beyond what bolts, packs and couplings allow.
const Reach = 1000

// A Model is a train written as a mixed-integer problem, and the way back.
type Model struct {
	Train      *train.Train
	at         *Linearization // where its linear forms are tangent to true geometry; nil: where the train stands
	Problem    mip.Problem
	Groups     []Group // what each variable sets
	kinematics []train.Kinematics
	First      []int              // first variable of each machine
	Last       []int              // one more than its last variable
	Movable    []int              // machines with variables, in the order of these: a base before what it carries
	Labels     []Limit            // of each of problem.Limits
	Widening   float64            // what every limit is multiplied by
	stocks     []*bolts.ShimStock // by machine; nil: not asked for
}

// Within is the same problem with its variables confined.
func (k *Model) Within(confine func(*Model)) *Model {
	trial := *k
	trial.Problem.Vars = slices.Clone(k.Problem.Vars)
	confine(&trial)
	return &trial
}

// A Group is the feet that one variable sets together.
type Group struct {
	Machine int
	Feet    []int
	Act     Act
}

// An Act is what a crew does at a foot.
type Act int

const (
	ShimChange Act = iota
	SideMove
	AxialShift
)

// A Linearization says where the linear forms of the couplings are tangent to true geometry.
type Linearization struct {
	motions  []train.Motion
	tangents [][]train.Tangent // [coupling][state]
}

// Build writes the train as a mixed-integer problem: by linear forms that are tangent to true
// geometry at some motions, or, with nil, where the train stands.
func Build(t *train.Train, at *Linearization) *Model {
	k := &Model{Train: t, at: at, Widening: 1, kinematics: make([]train.Kinematics, len(t.Machines)),
		First: make([]int, len(t.Machines)), Last: make([]int, len(t.Machines))}
	if at != nil {
		k.Widening = 1 + CheckTolerance
	}
	for _, i := range t.Order() {
		k.First[i] = len(k.Groups)
		k.kinematics[i] = t.Machines[i].Kinematics()
		if !t.Machines[i].Hold && len(t.Machines[i].Feet) > 0 {
			k.machine(i, len(k.Movable))
			k.Movable = append(k.Movable, i)
		}
		k.Last[i] = len(k.Groups)
	}
	if t.Aim.FixedCost == 0 {
		k.Problem.FixedCost = nil
	}
	for i := range t.Machines {
		k.footLimits(i)
	}
	for i := range t.Couplings {
		for c := range t.States() {
			k.coupling(i, c, at)
		}
	}
	return k
}

// machine adds the variables of one machine: a pack change for each foot, or
// for each station where left and right must be the same; a side move for each
// station; a shift along the train where it may.
func (k *Model) machine(i, block int) {
	t := k.Train
	m := &t.Machines[i]
	add := func(a Act, feet []int, step, lo, hi float64) {
		k.Groups = append(k.Groups, Group{i, feet, a})
		k.Problem.Vars = append(k.Problem.Vars, mip.Var{
			Block: block, Weight: m.Effort * float64(len(feet)), Step: step, Lo: lo, Hi: hi, Way: int(a) + 1,
			Least: int(math.Ceil(t.Aim.Least(a == ShimChange)/step - 1e-9)),
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
		add(ShimChange, feet, t.ShimsOf(i).Step, lo, hi)
		v := &k.Problem.Vars[len(k.Problem.Vars)-1]
		v.Only = k.packSteps(feet, i, v.Least)
	}
	for _, feet := range sides {
		// The hole is a limit of its own too; its ends keep the range short.
		travel, hole := k.sideRanges(i, feet)
		add(SideMove, feet, t.Units.Resolution(), math.Max(travel[0], hole[0]), math.Min(travel[1], hole[1]))
	}
	k.Problem.FixedCost = append(k.Problem.FixedCost, t.Aim.FixedCost)
	if m.Axial {
		all := make([]int, len(m.Feet))
		for f := range all {
			all[f] = f
		}
		most := math.Min(Reach, t.ShiftMost(m))
		add(AxialShift, all, t.Units.Resolution(), -most, most)
	}
}

// sideRanges are how far some feet may go to the left together, in mm from where they are,
// least and most: by what their travel says, and by where their bolts sit in their holes, cold and hot.
func (k *Model) sideRanges(i int, feet []int) (travel, hole [2]float64) {
	travel, hole = [2]float64{-Reach, Reach}, [2]float64{-Reach, Reach}
	for _, f := range feet {
		b := &k.Train.Machines[i].Feet[f]
		travel[0], travel[1] = math.Max(travel[0], -b.TravelRight), math.Min(travel[1], b.TravelLeft)
		hole[0], hole[1] = math.Max(hole[0], b.BoltAt[1]-b.Play()), math.Min(hole[1], b.BoltAt[1]+b.Play())
		for _, s := range k.Train.Slides(i, f) {
			hole[0], hole[1] = math.Max(hole[0], b.BoltAt[1]-s.Left-b.Play()), math.Min(hole[1], b.BoltAt[1]-s.Left+b.Play())
		}
	}
	return travel, hole
}

// whole is a form of machine i's motion with its base, as a row over the variables of both.
func (k *Model) whole(r mip.Row, i int, form train.Form) mip.Row {
	r = k.row(r, i, form)
	if b := k.Train.BaseOf(i); b >= 0 && k.First[b] < k.Last[b] {
		r = k.row(r, b, k.Train.OnBase(i, form))
	}
	return r
}

// row is a form of machine i's own motion as a row over its variables.
func (k *Model) row(r mip.Row, i int, form train.Form) mip.Row {
	s := &k.kinematics[i]
	for v := k.First[i]; v < k.Last[i]; v++ {
		g := &k.Groups[v]
		var c float64
		for _, f := range g.Feet {
			switch g.Act {
			case ShimChange:
				c += form.Of(s.Pack[f])
			case SideMove:
				c += form.Of(s.Side[f])
			}
		}
		if g.Act == AxialShift {
			c = form[train.Axial]
		}
		r = plus(r, v, c)
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

// movesOf are what the crew sets for values of the variables, in mm.
func (k *Model) movesOf(value func(v int) float64) train.Moves {
	moves := k.Train.Stay()
	for v, g := range k.Groups {
		x := value(v)
		for _, f := range g.Feet {
			switch m := &moves[g.Machine][f]; g.Act {
			case ShimChange:
				m.Up = x
			case SideMove:
				m.Left = x
			case AxialShift:
				m.Axial = x
			}
		}
	}
	return moves
}

// Moves are the moves of an integer point.
func (k *Model) Moves(s mip.Steps) train.Moves {
	return k.movesOf(func(v int) float64 { return float64(s[v]) * k.Problem.Vars[v].Step })
}

// Steps are the integer point of some moves; nil where they are off the steps of what can be set.
func (k *Model) Steps(moves train.Moves) mip.Steps {
	s := make(mip.Steps, len(k.Groups))
	for v, g := range k.Groups {
		m := moves[g.Machine][g.Feet[0]]
		x := [...]float64{ShimChange: m.Up, SideMove: m.Left, AxialShift: m.Axial}[g.Act] / k.Problem.Vars[v].Step
		if s[v] = int(math.Round(x)); math.Abs(x-math.Round(x)) > CheckTolerance {
			return nil
		}
	}
	return s
}

// linearizedAt is where linear forms are tangent to true geometry after the moves.
func linearizedAt(t *train.Train, moves train.Moves) *Linearization {
	q := t.Motions(moves)
	return &Linearization{q, t.Tangents(q)}
}
