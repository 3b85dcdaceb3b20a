// Package recheck has what tests of plans share: a check of a plan from first principles, what
// outside solvers said of a train, and how near to them a plan must come.
package recheck

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"

	"leastmove/optimize"
	"leastmove/train"
)

// Rounding is the share by which a number that the train's limits hold may
// pass them: what arithmetic makes of a plan that stands exactly at a limit.
const Rounding = 1e-6

// A tester is what Recheck needs of a *testing.T.
type Tester interface {
	require.TestingT
	Helper()
}

// Recheck works out from first principles whether a plan is one: from the
// train, the moves and where true geometry puts feet and couplings, with none
// of the planner's own code.
func Recheck(t Tester, p *optimize.Plan) {
	t.Helper()
	switch p.Status {
	case optimize.Within:
		require.Equal(t, p.Train.Stay(), p.Moves, "nothing is moved")
		assert.Equal(t, [4]float64{}, [4]float64{p.Total, p.Plain, p.Least, p.Bound})
	case optimize.Planned:
		recheckNumbers(t, p)
	case optimize.Impossible:
		assert.Nil(t, p.Moves)
		assert.NotEmpty(t, p.Conflict, "what is in conflict is named")
		assert.True(t, math.IsNaN(p.Total))
		return
	default:
		assert.Nil(t, p.Moves)
		assert.NotEmpty(t, p.Cut, "why nothing was decided is said")
		return
	}
	state := p.Train.Check(p.Moves)
	Uses(t, p, &state)
	for i := range p.Train.Machines {
		recheckMachine(t, p.Train, i, p.Moves[i], &state.Machines[i])
	}
}

// recheckNumbers adds up the plan's movement.
func recheckNumbers(t Tester, p *optimize.Plan) {
	t.Helper()
	var total, plain, peak float64
	moved := 0
	for i, feet := range p.Moves {
		some := false
		for _, f := range feet {
			sum := math.Abs(f.Up) + math.Abs(f.Left) + math.Abs(f.Axial)
			plain += sum
			total += p.Train.Machines[i].Effort * sum
			peak = max(peak, math.Abs(f.Up), math.Abs(f.Left), math.Abs(f.Axial))
			some = some || sum > 0
		}
		if some {
			moved++
		}
	}
	for _, v := range []float64{p.Total, p.Plain, p.Largest, p.Least, p.Bound, p.Reached} {
		require.False(t, math.IsNaN(v) || math.IsInf(v, 0), "total, plain, peak, least, bound, reached: %v",
			[]float64{p.Total, p.Plain, p.Largest, p.Least, p.Bound, p.Reached})
	}
	assert.InDelta(t, total, p.Total, 1e-9)
	assert.InDelta(t, plain, p.Plain, 1e-9)
	assert.InDelta(t, peak, p.Largest, 1e-12)
	assert.Equal(t, moved, p.Moved)
	assert.LessOrEqual(t, p.Bound, p.Least+1e-9, "no plan is below the proven bound")
	assert.LessOrEqual(t, p.Bound, p.Total+1e-9)
	assert.False(t, p.FirstOrderBound < p.Bound, "the linear forms prove no less than true geometry")
	assert.LessOrEqual(t, p.Total, p.Least*(1+optimize.Spare)+1e-9, "no more is spent on closer couplings than may be")
}

// Uses takes the coupling limits from the misalignments: the angle
// across a flexing element is what the other flex plane is off by over the
// distance between them.
func Uses(t Tester, p *optimize.Plan, state *train.State) {
	t.Helper()
	tr := p.Train
	worst := 0.0
	for i := range tr.Couplings {
		c := &tr.Couplings[i]
		for k, cond := range tr.Conditions {
			r := state.Couplings[i][k]
			sum := 0.0
			var wanted train.Misalignment
			if k == 0 {
				wanted = c.Wanted
			}
			off := func(x float64) (v, h float64) {
				lever := (x - c.X) / 1000
				return r.V.Offset - wanted.V.Offset + lever*(r.V.Angle-wanted.V.Angle),
					r.H.Offset - wanted.H.Offset + lever*(r.H.Angle-wanted.H.Angle)
			}
			use := func(v, h, limit float64) {
				size := math.Hypot(v, h)
				if c.Limit.EachPlane {
					size = math.Max(math.Abs(v), math.Abs(h))
				}
				worst, sum = math.Max(worst, size/(limit*cond.Use)), sum+size/(limit*cond.Use)
			}
			if c.Spacer {
				l, most := (c.Flex[1]-c.Flex[0])/1000, 0.0
				for _, x := range c.Flex {
					sum = 0
					v, h := off(x)
					use(v/l, h/l, c.Limit.Angle)
					most = math.Max(most, sum)
				}
				sum = most // each element bears its own angle
			} else {
				v, h := off(c.X)
				use(v, h, c.Limit.Offset)
				use(r.V.Angle-wanted.V.Angle, r.H.Angle-wanted.H.Angle, c.Limit.Angle)
			}
			if c.GapLimited() {
				gap := math.Abs(r.Gap-c.WantedGap) / (c.Limit.Gap * cond.Use)
				worst, sum = math.Max(worst, gap), sum+gap
			}
			if c.Limit.Combined {
				worst = math.Max(worst, sum)
			}
		}
	}
	assert.InDelta(t, worst, p.Reached, 1e-9)
	warmUp(t, p)
	most := p.Aim
	switch {
	case p.Status == optimize.Within, !math.IsNaN(p.Lowest):
		most = math.Max(most, 1)
	}
	assert.LessOrEqual(t, worst, most*(1+Rounding))
	if !math.IsNaN(p.Lowest) {
		assert.Greater(t, worst, p.Aim, "the aim was given up for nothing")
		assert.GreaterOrEqual(t, worst, p.Lowest*(1-SecondOrder))
	}
}

// warmUp goes through pairs of what two machines may have grown, where that is limited.
func warmUp(t Tester, p *optimize.Plan) {
	t.Helper()
	tr := *p.Train
	if tr.Between == nil {
		return
	}
	tr.Between = nil
	for i := range tr.Couplings {
		for n := range 8 {
			state := train.Condition{Growth: make([]float64, len(tr.Machines)), Run: float64(n & 1), Use: 1}
			for side, end := range [2]train.End{tr.Couplings[i].From, tr.Couplings[i].To} {
				low, high := 0.0, 1.0
				for _, c := range p.Train.Conditions {
					low, high = min(low, c.Growth[end.Machine]), max(high, c.Growth[end.Machine])
				}
				state.Growth[end.Machine] = [2]float64{low, high}[n>>(1+side)&1]
			}
			tr.Conditions = []train.Condition{p.Train.Conditions[0], state}
			after := tr.Check(p.Moves)
			assert.LessOrEqual(t, after.Couplings[i][1].Worst(), tr.Aim.Transient*(1+Rounding), "in warm-up")
		}
	}
}

// recheckMachine goes through what one machine's feet, level and pipes allow.
func recheckMachine(t Tester, tr *train.Train, i int, feet []train.FootMove, s *train.MachineState) {
	t.Helper()
	m := &tr.Machines[i]
	atMost := func(v, limit float64, what string) {
		t.Helper()
		assert.LessOrEqualf(t, v, limit+Rounding*math.Max(1e-3, math.Abs(limit)), "%s: %s", m.Name, what)
	}
	atMost(math.Abs(s.Pitch), m.Level.Pitch, "level along")
	atMost(math.Abs(s.Roll), m.Level.Roll, "level across")
	for n, z := range m.Nozzles {
		atMost(s.Nozzles[n], z.Limit, "nozzle")
	}
	fine := tr.Units.Resolution()
	for f, foot := range m.Feet {
		move := feet[f]
		if m.Hold {
			assert.Zerof(t, move, "%s is held", m.Name)
			continue
		}
		for _, set := range [][2]float64{{move.Up, tr.ShimsOf(i).Step}, {move.Left, fine}, {move.Axial, fine}} {
			steps := set[0] / set[1]
			assert.InDeltaf(t, math.Round(steps), steps, 1e-6, "%s %s: whole steps", m.Name, foot.Name)
		}
		atMost(-move.Up, foot.Lower, "shims out")
		atMost(move.Up, foot.Raise, "shims in")
		atMost(move.Left, foot.TravelLeft, "left")
		atMost(-move.Left, foot.TravelRight, "right")
		if !math.IsNaN(foot.Bolt) && !math.IsNaN(foot.Hole) {
			off := math.Hypot(s.Feet[f].Axial-foot.BoltAt[0], s.Feet[f].Left-foot.BoltAt[1])
			// A micrometre is left for a tilt: an angle times an angle times a lever.
			atMost(off, (foot.Hole-foot.Bolt)/2-foot.Free+train.BoltTilt, "bolt in its hole")
			for k, c := range tr.Conditions {
				if slices.ContainsFunc(c.Own, func(o train.OwnGrowth) bool { return o.Machine == i }) {
					continue // its own growth: see TestSlidesByHand
				}
				along, left := c.Growth[i]*foot.Slide[0], c.Growth[i]*foot.Slide[1]
				off := math.Hypot(s.Feet[f].Axial+along-foot.BoltAt[0], s.Feet[f].Left+left-foot.BoltAt[1])
				atMost(off, (foot.Hole-foot.Bolt)/2-foot.Free+train.BoltTilt, tr.Conditions[k].Name+": bolt in its hole")
			}
		}
		assert.Equal(t, feet[0].Axial, move.Axial, "a machine is shifted along as a whole")
		if !m.Axial {
			assert.Zero(t, move.Axial)
		} else if !slices.ContainsFunc(m.Feet, func(f train.Foot) bool {
			return !math.IsNaN(f.Bolt) && !math.IsNaN(f.Hole)
		}) {
			atMost(math.Abs(move.Axial), tr.Relief.AxialMost, "shift along the train")
		}
		for g, other := range m.Feet[:f] {
			if other.X == foot.X {
				assert.Equal(t, feet[g].Left, move.Left, "left and right go sideways together")
				if !m.Roll {
					assert.Equal(t, feet[g].Up, move.Up, "left and right packs change alike")
				}
			}
		}
		if soft, ok := SoftFootOf(m.Feet, feet, f); ok {
			atMost(math.Abs(soft), math.Max(m.Flat, m.Residual), "soft foot")
		}
	}
}

// SoftFootOf is how far a foot's pack change is from the least-squares plane
// through those of the other feet; false where those fix no plane.
func SoftFootOf(feet []train.Foot, moves []train.FootMove, f int) (float64, bool) {
	if len(feet) < 4 {
		return 0, false
	}
	a, b := mat.NewDense(len(feet)-1, 3, nil), mat.NewVecDense(len(feet)-1, nil)
	row := 0
	for g := range feet {
		if g == f {
			continue
		}
		a.SetRow(row, []float64{1, feet[g].X / 1000, feet[g].Y / 1000})
		b.SetVec(row, moves[g].Up+feet[g].Excess)
		row++
	}
	var svd mat.SVD
	if !svd.Factorize(a, mat.SVDThin) || svd.Rank(1e-6) < 3 {
		return 0, false
	}
	var plane mat.VecDense
	svd.SolveVecTo(&plane, b, 3)
	return moves[f].Up + feet[f].Excess - plane.AtVec(0) - plane.AtVec(1)*feet[f].X/1000 - plane.AtVec(2)*feet[f].Y/1000,
		true
}

// NoWorse says that a train with more freedom has a plan where the other one
// had, that keeps the aim where the other one kept it, and moves no more.
func NoWorse(t *testing.T, before, after *optimize.Plan) (compared bool) {
	t.Helper()
	if before.Status == optimize.Impossible {
		return false
	}
	require.Contains(t, []optimize.Status{optimize.Planned, optimize.Within}, after.Status)
	switch {
	case before.Status == optimize.Within:
		require.Equal(t, optimize.Within, after.Status, "nothing had to move")
		return false
	case !math.IsNaN(before.Lowest):
		// The aim was out of reach: now it is kept, or the couplings are no
		// further off than two searches within nearLowest and Spare leave.
		if !math.IsNaN(after.Lowest) {
			assert.LessOrEqual(t, after.Reached, before.Reached*(1+optimize.NearLowest)*(1+optimize.Spare))
		}
		return false
	}
	require.True(t, math.IsNaN(after.Lowest), "the aim was kept before")
	assert.LessOrEqual(t, after.Bound, before.Least+1e-9, "the plan from before is one still")
	assert.LessOrEqual(t, after.Least, before.Least*(1+WithinGap)+1e-9)
	return true
}

// Exact asks for the least total itself, not for one within a gap of it.
const Exact = 1e-9

const (
	// SecondOrder is by how much, as a share, a use may differ between the
	// linear forms, which the outside solvers were given, and true geometry,
	// which plans are made for, for their brackets to speak of plans. A total may
	// differ by more, by whole steps, where a limit just lets a move pass: so
	// totals are bracketed by what the solvers find for a use that is less by
	// this and more by it. Where the plan itself shows a larger difference they
	// are not held against it.
	SecondOrder = 0.01
	// ConesAgree is how near two solvers that each stop at 1e-9 come: a
	// multiplier turns what is left at a limit into some hundred times as much
	// movement.
	ConesAgree = 1e-7
	// BoundsAgree is the same for a lowest use: what is proven of it pays for what
	// is left over in every row with the largest use there may be.
	BoundsAgree = 1e-6
	// WithinGap is what a search that was not cut short may leave to the least total.
	WithinGap = 0.001
	// CutShort is what one that was may: it says so, and how far it may be off.
	CutShort = 0.005
	// Work bounds the search in these tests, so that they end soon.
	Work = 4000
)

// An answer is what an outside solver said of a train, in the file's unit of
// movement, or as a share of the limits.
type Answer struct {
	Status    string   // optimal, feasible, infeasible, unknown
	Value     *float64 // of the best point; nil: none
	Bound     *float64 // no point has a lower value; nil: not said
	Tolerance float64  // that the solver was content with; 0: 1e-9
}

func (a Answer) Infeasible() bool { return a.Status == "infeasible" }
