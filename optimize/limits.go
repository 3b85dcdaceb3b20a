package optimize

import (
	"math"

	"leastmove/train"
)

// A Limit names one limit of the train file. Indices that do not apply are -1.
type Limit struct {
	Kind      train.LimitKind
	Machine   int
	Foot      int
	Nozzle    int
	Coupling  int
	Condition int
}

// Bounds are the numbers in mm or mrad by which the train states it, as train.LimitInfo has them.
func (l Limit) Bounds(t *train.Train) []float64 { return l.Kind.Info().Bounds(t, l.Place()) }

// Place is where it applies.
func (l Limit) Place() train.LimitPlace {
	return train.LimitPlace{
		Machine: l.Machine, Foot: l.Foot, Nozzle: l.Nozzle, Coupling: l.Coupling, Condition: l.Condition,
	}
}

// Unplaced is a limit of a kind that is nowhere yet.
func Unplaced(kind train.LimitKind) Limit {
	return Limit{Kind: kind, Machine: -1, Foot: -1, Nozzle: -1, Coupling: -1, Condition: -1}
}

// OfCoupling is a limit of a coupling in a condition.
func OfCoupling(kind train.LimitKind, coupling, condition int) Limit {
	l := Unplaced(kind)
	l.Coupling, l.Condition = coupling, condition
	return l
}

// A Constraint is a limit with its value after some moves.
type Constraint struct {
	Limit
	Value float64 // mm or mrad
	Bound float64 // mm or mrad
}

// A LimitRow is one limit of a train after some moves, and how it stands with them.
type LimitRow struct {
	Constraint
	Share   float64 // of the bound; NaN where that is not above 0
	What    string  // what it limits, in words that tell rows of one kind at one place apart
	Reached bool    // as good as at its end
	Broken  bool    // passed by more than the rounding of the arithmetic, or no number
	Held    bool    // of a machine that may not be moved, so no move changes it
	Idle    bool    // of a direction in which the foot is not moved
}

// Stated says whether the train file states the limit.
func (r *LimitRow) Stated() bool { return !math.IsInf(r.Bound, 1) }

// Listed says whether the limit is stated and the moves use some of it, or may.
func (r *LimitRow) Listed() bool { return r.Stated() && !r.Held && !r.Idle }

// CheckTolerance is the share of a limit by which a checked number may pass it: the
// rounding of the arithmetic, some thousand times less than any instrument shows.
const CheckTolerance = 1e-6

// nearEnd is the share of a limit from which on a plan counts as at its end.
const nearEnd = 0.97

// beyond says whether a checked number passes its limit. What is no number does.
func beyond(value, limit float64) bool {
	return !(value <= limit+CheckTolerance*math.Max(math.Abs(limit), 1e-3))
}

// Limits are all limits of a train after some moves, stated or not: couplings in every
// condition, then machine by machine its level, its nozzles and each of its feet. Couplings
// may use a share of their limits. The state must be the true geometry of the moves.
func Limits(t *train.Train, moves train.Moves, state *train.State, use float64) []LimitRow {
	w := limitWalk{train: t, use: use}
	for i, conditions := range state.Couplings {
		for k := range conditions {
			w.coupling(i, k, &conditions[k])
		}
		w.warm(i, state)
	}
	for i := range t.Machines {
		w.machine(i, &state.Machines[i])
		for f := range t.Machines[i].Feet {
			w.foot(i, f, moves[i][f], state.Machines[i].Feet[f])
		}
	}
	return w.rows
}

// A limitWalk goes through the limits of a train.
type limitWalk struct {
	train *train.Train
	use   float64 // share of the limits of couplings that may be used
	rows  []LimitRow
}

func (w *limitWalk) coupling(i, k int, r *train.Reading) {
	for _, u := range r.Uses {
		w.rows = append(w.rows, LimitRow{
			Constraint: Constraint{OfCoupling(u.Kind.LimitKind(), i, k), u.Share * u.Limit, u.Limit},
			Share:      u.Share, What: u.Kind.String(),
			Reached: u.Share >= nearEnd*w.use, Broken: beyond(u.Share, w.use),
		})
	}
	sum := LimitRow{Constraint: Constraint{Limit: OfCoupling(train.LimitSum, i, k), Value: r.Added()},
		What: "limits added up"}
	if sum.Bound = sum.Bounds(w.train)[0]; sum.Stated() {
		sum.Share, sum.Reached, sum.Broken = r.Sum, r.Sum >= nearEnd*w.use, beyond(r.Sum, w.use)
	}
	w.rows = append(w.rows, sum)
}

// warm is what coupling i uses of its limits in warm-up; not known of a train at rest, which does not warm up.
func (w *limitWalk) warm(i int, state *train.State) {
	r := LimitRow{Constraint: Constraint{Limit: OfCoupling(train.LimitWarm, i, -1), Value: math.NaN()},
		Share: math.NaN(), What: "in warm-up"}
	if r.Bound = r.Bounds(w.train)[0]; r.Stated() && state.Warm != nil {
		r.Value = state.Warm[i].Worst()
		r.Share, r.Reached, r.Broken = r.Value/r.Bound, r.Value >= nearEnd*r.Bound, beyond(r.Value, r.Bound)
	}
	w.rows = append(w.rows, r)
}

func (w *limitWalk) machine(i int, s *train.MachineState) {
	m := &w.train.Machines[i]
	at := Limit{Machine: i, Foot: -1, Nozzle: -1, Coupling: -1, Condition: -1}
	w.add(at, train.LimitPitch, "level along the train", math.Abs(s.Pitch), 0)
	w.add(at, train.LimitRoll, "level across the train", math.Abs(s.Roll), 0)
	w.add(at, train.LimitShift, "along the train", math.Abs(s.Motion[train.Axial]), 0)
	for n, z := range m.Nozzles {
		at.Nozzle = n
		w.add(at, train.LimitNozzle, "nozzle "+z.Name, s.Nozzles[n], 0)
	}
}

func (w *limitWalk) foot(i, f int, move train.FootMove, s train.FootState) {
	b := &w.train.Machines[i].Feet[f]
	at := Limit{Machine: i, Foot: f, Nozzle: -1, Coupling: -1, Condition: -1}
	w.add(at, train.LimitFlat, "soft foot", math.Abs(s.Soft), 0)
	w.add(at, train.LimitLower, "shims out", -move.Up, 0).Idle = !(move.Up < 0 || b.Lower < 0)
	w.add(at, train.LimitRaise, "shims in", move.Up, 0).Idle = !(move.Up > 0)
	w.add(at, train.LimitBolt, "bolt in its hole", b.BoltOff(s.Axial, s.Left), 0)
	for _, hot := range w.train.Slides(i, f) {
		at.Condition = hot.Condition
		w.add(at, train.LimitBolt, "bolt in its hole, hot", b.BoltOff(s.Axial+hot.Axial, s.Left+hot.Left), 0)
	}
	at.Condition = -1
	w.add(at, train.LimitTravel, "to the left", move.Left, 0).Idle = !(move.Left > 0)
	w.add(at, train.LimitTravel, "to the right", -move.Left, 1).Idle = !(move.Left < 0)
}

// add is a limit of a machine or of one of its feet, by one of the bounds of its kind.
func (w *limitWalk) add(at Limit, kind train.LimitKind, what string, value float64, side int) *LimitRow {
	info := kind.Info()
	at.Kind = kind
	bound := at.Bounds(w.train)[side]
	limit := bound
	if info.Tilt > 0 {
		limit = math.Max(bound, info.Tilt) + info.Tilt
	}
	r := LimitRow{
		Constraint: Constraint{at, value, bound}, Share: math.NaN(), What: what,
		Broken: beyond(value, limit), Held: w.train.Machines[at.Machine].Hold,
	}
	if bound > 0 {
		r.Share = value / bound
	}
	switch info.SetBy {
	case train.SetByUp:
		r.Reached = bound-value < w.train.ShimsOf(at.Machine).Step
	case train.SetByLeft:
		r.Reached = bound-value < w.train.Units.Resolution()
	default:
		r.Reached = value >= nearEnd*bound
	}
	w.rows = append(w.rows, r)
	return &w.rows[len(w.rows)-1]
}
