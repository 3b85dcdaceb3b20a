package optimize_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/optimize"
	"leastmove/optimize/mip"
	"leastmove/testdata/trains"
	"leastmove/train"
)

// rowAt is the value of a row at a point.
func rowAt(p *mip.Problem, r *mip.Row, s mip.Steps) float64 {
	sum := r.Constant
	for _, t := range r.Terms {
		sum += t.Coefficient * p.Vars[t.Var].Step * float64(s[t.Var])
	}
	return sum
}

// tooSteep says whether a point tilts or turns a machine by more than a plan may.
func tooSteep(p *mip.Problem, s mip.Steps) bool {
	for n, most := range p.Turned(s, s) {
		if most >= p.TurnMost[n] {
			return true
		}
	}
	return false
}

// What proofs allow for curvature holds: at points anywhere in the ranges of the moves, every row of every limit is off
// true geometry by no more than its limit is longer there, and the more so over a box around the point. True geometry
// is what the rows that touch it at the point say. Forms touch it where the train stands, or at other moves.
func TestProblemsHoldTrueGeometry(t *testing.T) {
	bent := map[train.LimitKind]int{}
	for n, family := range []string{"gear", "gap", "nozzle", "three", "spacer"} {
		for _, sums := range []bool{false, true} {
			tr := trains.Drawn(t, family, uint64(40+n))
			for i := range tr.Couplings {
				tr.Couplings[i].Limit.Combined = sums
			}
			r := rand.New(rand.NewPCG(uint64(n), 15))
			m := optimize.NewSolver(tr, optimize.Options{})
			from, _ := m.Truly(nil)
			somewhere := func(p *mip.Problem) mip.Steps {
				s := make(mip.Steps, len(p.Vars))
				for v, x := range p.Vars {
					lo, hi := math.Max(x.Lo/x.Step, -200), math.Min(x.Hi/x.Step, 200)
					s[v] = int(math.Round(lo + r.Float64()*(hi-lo)))
				}
				return s
			}
			for _, at := range []train.Moves{nil, from.Moves(somewhere(&from.Problem))} {
				k, p := m.Truly(at)
				for range trains.Draws(2, 40) {
					s := somewhere(p)
					if tooSteep(p, s) {
						continue // no plan does
					}
					moves := k.Moves(s)
					there, state := m.Tangent(moves), k.Train.Check(moves)
					lo, hi := make(mip.Steps, len(s)), make(mip.Steps, len(s))
					for v := range s {
						lo[v], hi[v] = s[v]-r.IntN(3), s[v]+r.IntN(3)
					}
					point, box := p.Loose(s, s), p.Loose(lo, hi)
					for i := range k.Problem.Limits {
						square := 0.0
						l := k.Labels[i]
						for n := range k.Problem.Limits[i].Rows {
							row := &k.Problem.Limits[i].Rows[n]
							off := rowAt(&k.Problem, row, s) - rowAt(&there.Problem, &there.Problem.Limits[i].Rows[n], s)
							if l.Kind == train.LimitBolt { // rows of feet touch nothing
								f := state.Machines[l.Machine].Feet[l.Foot]
								off = rowAt(&k.Problem, row, s) - row.Constant - [2]float64{f.Axial, f.Left}[n]
							}
							square += off * off
						}
						off, kind := math.Sqrt(square), l.Kind
						if kind == train.LimitNozzle {
							length := 0.0
							for n := range k.Problem.Limits[i].Rows {
								length = math.Hypot(length, rowAt(&k.Problem, &k.Problem.Limits[i].Rows[n], s))
							}
							off = math.Abs(length - state.Machines[l.Machine].Nozzles[l.Nozzle])
						}
						require.False(t, math.IsNaN(off))
						if off > 1e-7 {
							bent[kind]++
						}
						assert.LessOrEqual(t, off, point[i]+1e-10, "%s, sums %v: %v", family, sums, k.Labels[i])
						assert.LessOrEqual(t, point[i], box[i]*(1+1e-12), fmt.Sprint(k.Labels[i]))
					}
				}
			}
		}
	}
	for _, kind := range []train.LimitKind{train.LimitBolt, train.LimitNozzle, train.LimitOffset, train.LimitAngle,
		train.LimitFlex, train.LimitGap, train.LimitSum} {
		assert.Positive(t, bent[kind], "%v: none of them bends", kind)
	}
}

// A hole bounds a side move by its linear form, which true geometry passes: in proofs the range goes on beyond it, but
// not where the foot itself ends it.
func TestSideMovesGoBeyondHolesInProofs(t *testing.T) {
	tr := trains.Drawn(t, "spacer", 40)
	m := optimize.NewSolver(tr, optimize.Options{})
	k, p := m.Truly(nil)
	below, above := 0, 0
	for v, g := range k.Groups {
		was, is := k.Problem.Vars[v], p.Vars[v]
		if g.Act != optimize.SideMove {
			assert.Equal(t, was, is)
			continue
		}
		assert.LessOrEqual(t, is.Lo, was.Lo)
		assert.GreaterOrEqual(t, is.Hi, was.Hi)
		if is.Lo < was.Lo {
			below++
		}
		if is.Hi > was.Hi {
			above++
		}
	}
	assert.Positive(t, below)
	assert.Positive(t, above)
}
