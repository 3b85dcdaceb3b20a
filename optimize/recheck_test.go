package optimize

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"

	"leastmove/testdata/trains"
	"leastmove/train"
)

// rounding is the share by which a number that the train's limits hold may
// pass them: what arithmetic makes of a plan that stands exactly at a limit.
const rounding = 1e-6

// A tester is what recheck needs of a *testing.T.
type tester interface {
	require.TestingT
	Helper()
}

// recheck works out from first principles whether a plan is one: from the
// train, the moves and where true geometry puts feet and couplings, with none
// of the planner's own code.
func recheck(t tester, p *Plan) {
	t.Helper()
	switch p.Status {
	case Within:
		require.Equal(t, p.Train.Stay(), p.Moves, "nothing is moved")
		assert.Equal(t, [4]float64{}, [4]float64{p.Total, p.Plain, p.Least, p.Bound})
	case Planned:
		recheckNumbers(t, p)
	case Impossible:
		assert.Nil(t, p.Moves)
		assert.NotEmpty(t, p.Conflict, "what clashes is named")
		assert.True(t, math.IsNaN(p.Total))
		return
	default:
		assert.Nil(t, p.Moves)
		assert.NotEmpty(t, p.Cut, "why nothing was decided is said")
		return
	}
	state := p.Train.Check(p.Moves)
	recheckUses(t, p, &state)
	for i := range p.Train.Machines {
		recheckMachine(t, p.Train, i, p.Moves[i], &state.Machines[i])
	}
}

// recheckNumbers adds up the plan's movement.
func recheckNumbers(t tester, p *Plan) {
	t.Helper()
	var total, plain, peak float64
	moved := 0
	for i, feet := range p.Moves {
		some := false
		for _, f := range feet {
			sum := math.Abs(f.Up) + math.Abs(f.Left) + math.Abs(f.Axial)
			plain += sum
			total += p.Train.Machines[i].Effort * sum
			peak = math.Max(peak, math.Max(math.Abs(f.Up), math.Abs(f.Left)))
			some = some || sum > 0
		}
		if some {
			moved++
		}
	}
	for _, v := range []float64{p.Total, p.Plain, p.Largest, p.Least, p.Bound, p.Reached} {
		require.False(t, math.IsNaN(v) || math.IsInf(v, 0), "total, plain, peak, least, bound, reached: %v", []float64{p.Total, p.Plain, p.Largest, p.Least, p.Bound, p.Reached})
	}
	assert.InDelta(t, total, p.Total, 1e-9)
	assert.InDelta(t, plain, p.Plain, 1e-9)
	assert.InDelta(t, peak, p.Largest, 1e-12)
	assert.Equal(t, moved, p.Moved)
	assert.LessOrEqual(t, p.Bound, p.Least+1e-9, "no plan is below the proven bound")
	assert.LessOrEqual(t, p.Bound, p.Total+1e-9)
	assert.LessOrEqual(t, p.Total, p.Least*(1+Spare)+1e-9, "no more is spent on closer couplings than may be")
}

// recheckUses takes the coupling limits from the misalignments: the angle
// across a flexing element is what the other flex plane is off by over the
// distance between them.
func recheckUses(t tester, p *Plan, state *train.State) {
	t.Helper()
	tr := p.Train
	worst := 0.0
	for i := range tr.Couplings {
		c := &tr.Couplings[i]
		for k, cond := range tr.Conditions {
			r := state.Couplings[i][k]
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
				worst = math.Max(worst, size/(limit*cond.Use))
			}
			if c.Spacer {
				l := (c.Flex[1] - c.Flex[0]) / 1000
				for _, x := range c.Flex {
					v, h := off(x)
					use(v/l, h/l, c.Limit.Angle)
				}
			} else {
				v, h := off(c.X)
				use(v, h, c.Limit.Offset)
				use(r.V.Angle-wanted.V.Angle, r.H.Angle-wanted.H.Angle, c.Limit.Angle)
			}
			if c.GapLimited() {
				worst = math.Max(worst, math.Abs(r.Gap-c.WantedGap)/(c.Limit.Gap*cond.Use))
			}
		}
	}
	assert.InDelta(t, worst, p.Reached, 1e-9)
	most := p.Aim
	switch {
	case p.Status == Within, !math.IsNaN(p.Lowest):
		most = math.Max(most, 1)
	}
	assert.LessOrEqual(t, worst, most*(1+rounding))
	if !math.IsNaN(p.Lowest) {
		assert.Greater(t, worst, p.Aim, "the aim was given up for nothing")
		assert.GreaterOrEqual(t, worst, p.Lowest*(1-secondOrder))
	}
}

// recheckMachine goes through what one machine's feet, level and pipes allow.
func recheckMachine(t tester, tr *train.Train, i int, feet []train.FootMove, s *train.MachineState) {
	t.Helper()
	m := &tr.Machines[i]
	atMost := func(v, limit float64, what string) {
		t.Helper()
		assert.LessOrEqualf(t, v, limit+rounding*math.Max(1e-3, math.Abs(limit)), "%s: %s", m.Name, what)
	}
	atMost(math.Abs(s.Pitch), m.Level.Pitch, "level along")
	atMost(math.Abs(s.Roll), m.Level.Roll, "level across")
	for n, z := range m.Nozzles {
		atMost(s.Nozzles[n], z.Limit, "nozzle")
	}
	fine := Resolution(tr.Units)
	for f, foot := range m.Feet {
		move := feet[f]
		if m.Hold {
			assert.Zerof(t, move, "%s is held", m.Name)
			continue
		}
		for _, set := range [][2]float64{{move.Up, tr.Shims.Step}, {move.Left, fine}, {move.Axial, fine}} {
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
			atMost(off, (foot.Hole-foot.Bolt)/2+train.BoltTilt, "bolt in its hole")
		}
		assert.Equal(t, feet[0].Axial, move.Axial, "a machine is shifted along as a whole")
		if !m.Axial {
			assert.Zero(t, move.Axial)
		}
		for g, other := range m.Feet[:f] {
			if other.X == foot.X {
				assert.Equal(t, feet[g].Left, move.Left, "left and right go sideways together")
				if !m.Roll {
					assert.Equal(t, feet[g].Up, move.Up, "left and right packs change alike")
				}
			}
		}
		if soft, ok := softFoot(m.Feet, feet, f); ok {
			atMost(math.Abs(soft), tr.Shims.Flat, "soft foot")
		}
	}
}

// softFoot is how far a foot's pack change is from the least-squares plane
// through those of the other feet; false where those fix no plane.
func softFoot(feet []train.Foot, moves []train.FootMove, f int) (float64, bool) {
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
		b.SetVec(row, moves[g].Up+feet[g].Proud)
		row++
	}
	var svd mat.SVD
	if !svd.Factorize(a, mat.SVDThin) || svd.Rank(1e-6) < 3 {
		return 0, false
	}
	var plane mat.VecDense
	svd.SolveVecTo(&plane, b, 3)
	return moves[f].Up + feet[f].Proud - plane.AtVec(0) - plane.AtVec(1)*feet[f].X/1000 - plane.AtVec(2)*feet[f].Y/1000, true
}

func TestSoftFoot(t *testing.T) {
	feet := []train.Foot{{X: 0, Y: 400}, {X: 0, Y: -400}, {X: 1000, Y: 400}, {X: 1000, Y: -400}}
	moves := []train.FootMove{{Up: 0.1}, {}, {}, {}}
	// The other three are at zero, and so is the plane through them.
	soft, ok := softFoot(feet, moves, 0)
	require.True(t, ok)
	assert.InDelta(t, 0.1, soft, 1e-12)
	// The plane through 0.1, 0 and 0 at three corners of a rectangle is at
	// 0 + 0 - 0.1 at the fourth.
	soft, ok = softFoot(feet, moves, 3)
	require.True(t, ok)
	assert.InDelta(t, 0.1, soft, 1e-12)
}

// A recorder notes that a check failed instead of failing a test.
type recorder struct{ failed bool }

func (r *recorder) Errorf(string, ...any) { r.failed = true }
func (r *recorder) Helper()               {}
func (r *recorder) FailNow()              { panic(r) }

func fails(check func(t tester)) bool {
	r := &recorder{}
	func() {
		defer func() {
			if v := recover(); v != nil && v != any(r) {
				panic(v)
			}
		}()
		check(r)
	}()
	return r.failed
}

// Every plan in these tests passes recheck; these do not, each for one thing.
func TestRecheckSeesABrokenPlan(t *testing.T) {
	t.Parallel()
	seeds := map[string]uint64{"plain": 103, "three": 101, "gear": 102, "nozzle": 103} // trains with a plan
	for _, c := range []struct {
		reason string
		family string
		spoil  func(*Plan)
	}{
		{"nothing is wrong", "plain", nil},
		{"a total that does not add up", "plain", func(p *Plan) { p.Total += 0.01 }},
		{"a bound above the least total", "plain", func(p *Plan) { p.Bound = p.Least + 0.01 }},
		{"no whole shim steps", "plain", func(p *Plan) { p.Moves[0][0].Up += 0.012 }},
		{"left and right packs differ", "plain", func(p *Plan) { p.Moves[0][0].Up += p.Train.Shims.Step }},
		{"couplings closer than they are", "plain", func(p *Plan) { p.Reached -= 0.001 }},
		{"beyond the aim", "plain", func(p *Plan) { p.Aim = 0.99 * p.Reached }},
		{"more out of a pack than is in it", "plain", func(p *Plan) { p.Train.Machines[0].Feet[0].Lower = -1 }},
		{"the bolt meets its hole", "plain", func(p *Plan) {
			for i := range p.Train.Machines {
				p.Train.Machines[i].Feet[0].Hole = p.Train.Machines[i].Feet[0].Bolt
			}
		}},
		{"a machine that is held", "plain", func(p *Plan) { p.Train.Machines[0].Hold = true }},
		{"further aside than it may go", "plain", func(p *Plan) {
			for i := range p.Train.Machines {
				p.Train.Machines[i].Feet[0].TravelLeft, p.Train.Machines[i].Feet[0].TravelRight = 0, 0
			}
		}},
		{"soft feet", "three", func(p *Plan) { p.Train.Shims.Flat = 0 }},
		{"not level", "gear", func(p *Plan) {
			for i := range p.Train.Machines {
				p.Train.Machines[i].Level.Pitch = 1e-3
			}
		}},
		{"pipes strained", "nozzle", func(p *Plan) {
			for i := range p.Train.Machines {
				for n := range p.Train.Machines[i].Nozzles {
					p.Train.Machines[i].Nozzles[n].Limit = 1e-3
				}
			}
		}},
	} {
		t.Run(c.reason, func(t *testing.T) {
			p, err := Make(t.Context(), trains.Drawn(t, c.family, seeds[c.family]), Options{Solves: 500})
			require.NoError(t, err)
			require.Equal(t, Planned, p.Status)
			if c.spoil != nil {
				c.spoil(p)
			}
			assert.Equal(t, c.spoil != nil, fails(func(t tester) { recheck(t, p) }))
		})
	}
}
