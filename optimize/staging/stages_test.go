package staging

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/optimize"
	"leastmove/testdata/families"
	"leastmove/testdata/trains"
	"leastmove/train"
)

// ruled is a train of machines 1 m long, 1 m apart, on two pairs of feet, with
// these found offsets (v, h in mm) at its couplings, all parallel.
func ruled(t *testing.T, more string, found ...[2]float64) *train.Train {
	text := "title = \"ruled\"\nunits = \"mm\"\n"
	for i := range len(found) + 1 {
		text += fmt.Sprintf("[[machine]]\nname = \"m%d\"\nat = %d\nheight = 500\nroll = true\nrpm = 3000\n", i, 2000*i)
		for f, x := range []int{0, 1000} {
			text += fmt.Sprintf("[[machine.foot]]\nname = \"f%d\"\nx = %d\nspread = 800\nshim = 20\nraise = 20\nbolt = "+
				"20\nhole = 40\n", f, x)
		}
		if i == 0 {
			text += more
		}
	}
	for i, f := range found {
		text += fmt.Sprintf("[[coupling]]\nname = \"c%d\"\nfrom = \"m%d\"\nto = \"m%d\"\nx = %d\nlimit = { offset = "+
			"0.1, angle = 1 }\n[coupling.found]\nv = { offset = %g, angle = 0 }\nh = { offset = %g, angle = 0 }\n",
			i, i, i+1, 2000*i+1500, f[0], f[1])
	}
	return trains.Read(t, "ruled", text)
}

// bodily are the moves of whole machines, up and to the left in mm.
func bodily(tr *train.Train, by ...[2]float64) train.Moves {
	moves := tr.Stay()
	for i, b := range by {
		for f := range moves[i] {
			moves[i][f] = train.FootMove{Up: b[0], Left: b[1]}
		}
	}
	return moves
}

// A train of two machines has a coupling that reads found + second - first; a dial
// swings by twice that. It goes 5 mm, and 4 of them before the order of the file
// gives way.
func TestStageOrderByHand(t *testing.T) {
	for _, c := range []struct {
		name  string // and why
		found [2]float64
		by    [2][2]float64 // up and left of both machines
		order []int
		plain bool
		over  int
	}{
		{"the order of the file, 2 · 1 after the first", [2]float64{0, 0}, [2][2]float64{{0, 1}, {0, 1}},
			[]int{0, 1}, true, 0},
		{"the first one first takes it to 2 · 2.5, the second one first to 2 · 1", [2]float64{0, 1.5},
			[2][2]float64{{0, -1}, {0, -2.5}}, []int{1, 0}, false, 0},
		{"either one alone comes to 2 · 2.2 √2 = 6.2", [2]float64{0, 0},
			[2][2]float64{{2.2, 2.2}, {2.2, 2.2}}, []int{0, 1}, true, 1},
		{"3 mm apart in any order: 6", [2]float64{0, 0}, [2][2]float64{{0, 3}, {0, 3}}, []int{0, 1}, true, 1},
		{"found 2.3 mm apart a dial swings by 4.6 before anything is moved: no reason to turn the order",
			[2]float64{0, 2.3}, [2][2]float64{{0, 1.2}, {0, -1.1}}, []int{0, 1}, true, 0},
		{"packs and side moves of a machine are one stage", [2]float64{0, 0}, [2][2]float64{{0.5, 0.5}, {0, 0}},
			[]int{0}, true, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			tr := ruled(t, "", c.found)
			moves := bodily(tr, c.by[:]...)
			s := Stages(optimize.Try(tr, moves))
			var order []int
			over := 0
			for _, stage := range s.Stages {
				order = append(order, stage.Machine)
				over += len(stage.Over)
			}
			assert.Equal(t, c.order, order)
			assert.Equal(t, c.plain, s.Plain)
			assert.Equal(t, c.over, over)
			assert.Equal(t, moves, s.Stages[len(s.Stages)-1].Done)
		})
	}
}

// Packs that roll the machine by 1 mrad take its nozzle, 1 m up, 1 mm to the right; a
// side move of 0.4 mm brings it back to 0.6. With 0.7 mm allowed the side move
// comes first; with 0.5 mm for 1 and 1 mm no order serves, and that is said.
func TestStagesTurnedByANozzle(t *testing.T) {
	const nozzle = "[[machine.nozzle]]\nname = \"n\"\nx = 500\ny = 0\nz = 1000\nlimit = %g\n"
	rolled := func(tr *train.Train, left float64) train.Moves {
		moves := tr.Stay()
		for f := range moves[0] {
			up := 0.4 // at 400 mm from the middle
			if tr.Machines[0].Feet[f].Y < 0 {
				up = -up
			}
			moves[0][f] = train.FootMove{Up: up, Left: left}
		}
		return moves
	}
	tr := ruled(t, fmt.Sprintf(nozzle, 0.7), [2]float64{})
	s := Stages(optimize.Try(tr, rolled(tr, 0.4)))
	require.Len(t, s.Stages, 1)
	assert.Equal(t, []Work{Shifting, Packing}, s.Stages[0].Works)
	assert.True(t, s.Stages[0].Turned)
	assert.Empty(t, s.Stages[0].Broken)

	// A limit in warm-up is none of a train at standstill, as which it is worked on.
	tr.Aim.Transient, tr.Between = 5, tr.WarmUp()
	assert.Equal(t, s.Stages[0].Works, Stages(optimize.Try(tr, rolled(tr, 0.4))).Stages[0].Works)

	tr = ruled(t, fmt.Sprintf(nozzle, 0.5), [2]float64{})
	s = Stages(optimize.Try(tr, rolled(tr, 1)))
	require.Len(t, s.Stages, 1)
	assert.Equal(t, []Work{Packing, Shifting}, s.Stages[0].Works)
	assert.False(t, s.Stages[0].Turned)
	require.Len(t, s.Stages[0].Broken, 1, "on the way, not at the end")
	assert.Equal(t, train.LimitNozzle, s.Stages[0].Broken[0].Kind)
	assert.InDelta(t, 1, s.Stages[0].Broken[0].Value, 1e-3, "0.0005 rad of its own arc")
}

// Every drawn plan: stages add up to the plan, a machine has one, packs before
// side moves, and after each the train stands where true geometry puts it. Feet
// and nozzles keep their limits, or the stage says which it passes.
func TestStagesOfDrawnTrains(t *testing.T) {
	t.Parallel()
	count, stages, overs := 0, 0, 0
	wanted := trains.Draws(5, 100)
	for seed := uint64(501); count < wanted; seed++ {
		for _, family := range families.Names() {
			if family == "twelve" && seed > 502 {
				continue // takes long to plan
			}
			tr := trains.Drawn(t, family, seed)
			p := planned(t, tr, optimize.Options{Solves: 40})
			if p.Status != optimize.Planned || count == wanted {
				continue
			}
			count++
			name := fmt.Sprintf("%s %d", family, seed)
			s := Stages(p)
			stages += len(s.Stages)
			done := p.Train.Stay()
			sums := make([][]FootDial, len(done))
			for i := range sums {
				sums[i] = make([]FootDial, len(done[i]))
			}
			staged := map[int]bool{}
			for n, stage := range s.Stages {
				i := stage.Machine
				require.False(t, p.Train.Machines[i].Hold, name)
				require.False(t, staged[i], "%s: %d has a stage", name, i)
				staged[i] = true
				if !stage.Turned {
					require.IsIncreasing(t, append(stage.Works, 9), "%s, stage %d: packs first", name, n)
				}
				for f, m := range stage.Moves {
					done[i][f].Up += m.Up
					done[i][f].Left += m.Left
					done[i][f].Axial += m.Axial
					sums[i][f].Up += stage.Dials[f].Up
					sums[i][f].Left += stage.Dials[f].Left
				}
				require.Equal(t, done, stage.Done, name)
				stageStands(t, fmt.Sprintf("%s, stage %d", name, n), p.Train, &stage)
				for _, w := range stage.Over {
					overs++
					require.Greater(t, leastSwing(p, w), w.Travel, "%s, stage %d: some order keeps the dial", name, n)
				}
			}
			require.Equal(t, p.Moves, done, name)
			for i := range sums {
				for f, sum := range sums[i] {
					at := p.Planned.Machines[i].Feet[f]
					require.InDelta(t, at.Up, sum.Up, 1e-9, name)
					require.InDelta(t, at.Left, sum.Left, 1e-9, name)
				}
			}
		}
	}
	t.Logf("%d trains, %d stages, %d with a dial past its travel in any order", count, stages, overs)
	assert.GreaterOrEqual(t, stages, 2*count)
}

// leastSwing is the least that a dial on a rim at a coupling's x swings by at most, in mm, whichever of its two
// machines comes first.
func leastSwing(p *optimize.Plan, w Swing) float64 {
	c := &p.Train.Couplings[w.Coupling]
	least := math.Inf(1)
	for _, i := range []int{c.From.Machine, c.To.Machine} {
		first := p.Train.Stay()
		first[i] = p.Moves[i]
		least = math.Min(least, math.Max(swingAt(p.Train, w.Coupling, first), swingAt(p.Train, w.Coupling, p.Moves)))
	}
	return least
}

func swingAt(tr *train.Train, c int, done train.Moves) float64 {
	r := optimize.AtRest(tr, done)[c]
	return 2 * math.Hypot(r.V.Offset, r.H.Offset)
}

// stageStands holds a stage against the train's true geometry.
func stageStands(t *testing.T, name string, tr *train.Train, s *Stage) {
	cold := *tr
	cold.Conditions = []train.Condition{{Name: "cold", Growth: make([]float64, len(tr.Machines)), Use: 1}}
	state := cold.Check(s.Done)
	for c := range state.Couplings {
		r := &state.Couplings[c][0]
		require.False(t, math.IsNaN(r.V.Offset+r.H.Offset+r.V.Angle+r.H.Angle), name)
		require.Equal(t, r.Misalignment, s.Rest[c].Misalignment, name)
	}
	told := map[train.LimitKind]bool{}
	for _, b := range s.Broken {
		told[b.Kind] = true
	}
	m := &tr.Machines[s.Machine]
	at := &state.Machines[s.Machine]
	keeps := func(kind train.LimitKind, value, limit float64) {
		if !told[kind] {
			require.LessOrEqual(t, value, limit*(1+1e-6)+2e-3, "%s: %s", name, kind)
		}
	}
	for f, foot := range m.Feet {
		move := s.Done[s.Machine][f]
		keeps(train.LimitRaise, move.Up, foot.Raise)
		keeps(train.LimitLower, -move.Up, math.Max(foot.Lower, 0))
		keeps(train.LimitTravel, move.Left, foot.TravelLeft)
		keeps(train.LimitTravel, -move.Left, foot.TravelRight)
		if !math.IsNaN(foot.Bolt + foot.Hole) {
			keeps(train.LimitBolt, math.Hypot(foot.BoltAt[0]-at.Feet[f].Axial, foot.BoltAt[1]-at.Feet[f].Left),
				(foot.Hole-foot.Bolt)/2)
		}
	}
	for n, z := range m.Nozzles {
		keeps(train.LimitNozzle, at.Nozzles[n], z.Limit)
	}
}

// A dial's own travel counts where the file states it: one on a rim 1 mm off swings
// by 2 mm, and goes 1.5.
func TestStagesMindADialsTravel(t *testing.T) {
	tr := ruled(t, "", [2]float64{0, 0})
	tr.Couplings[0].Targets = []train.Dial{{Kind: train.RimDial, X: tr.Couplings[0].X, Radius: 100, Range: 1.5}}
	s := Stages(optimize.Try(tr, bodily(tr, [2]float64{0, 1})))
	require.Len(t, s.Stages, 1)
	require.Len(t, s.Stages[0].Over, 1)
	assert.InDelta(t, 2, s.Stages[0].Over[0].Swing, 0.01, "0.005 of second order on a rim of 100 mm")
	assert.Equal(t, 1.5, s.Stages[0].Over[0].Travel)
	tr.Couplings[0].Targets[0].Range = 2.5
	assert.Empty(t, Stages(optimize.Try(tr, bodily(tr, [2]float64{0, 1}))).Stages[0].Over)
}

// A gap under a foot of a machine that stays is filled in a stage of its own, in which
// no dial goes anywhere.
func TestStagesFillASoftFoot(t *testing.T) {
	tr := ruled(t, "", [2]float64{0, 0})
	tr.Machines[1].Feet[2].Soft = 0.05
	s := Stages(optimize.Try(tr, tr.Stay()))
	require.Len(t, s.Stages, 1)
	assert.Equal(t, 1, s.Stages[0].Machine)
	assert.Equal(t, []Work{Packing}, s.Stages[0].Works)
	assert.Equal(t, make([]FootDial, 4), s.Stages[0].Dials)
}

// A machine that was found off level by 0.5 mrad, 0.1 allowed, passes that limit in
// its stages too. It is called out where a stage makes it worse: the rear goes down
// by 0.2 over 1 m, 0.7 mrad.
func TestStagesForgiveWhatWasFound(t *testing.T) {
	for _, c := range []struct {
		name string
		rear float64 // mm
		want []float64
	}{
		{"no better and no worse", 0, nil},
		{"better", 0.2, nil},
		{"worse", -0.2, []float64{0.7}},
	} {
		t.Run(c.name, func(t *testing.T) {
			tr := ruled(t, "", [2]float64{})
			tr.Machines[1].Level.FoundPitch, tr.Machines[1].Level.Pitch = 0.5, 0.1
			moves := bodily(tr, [2]float64{}, [2]float64{0.1, 0})
			for f := range moves[1] {
				if tr.Machines[1].Feet[f].X > 0 {
					moves[1][f].Up += c.rear
				}
			}
			s := Stages(optimize.Try(tr, moves))
			require.Len(t, s.Stages, 1)
			var got []float64
			for _, e := range s.Stages[0].Broken {
				assert.Equal(t, train.LimitPitch, e.Kind)
				got = append(got, e.Value)
			}
			require.Len(t, got, len(c.want))
			assert.InDeltaSlice(t, c.want, got, 1e-4)
		})
	}
}

// A machine that was found off level one way more than it may be has passed nothing where
// nothing was moved.
func TestStagesForgiveALevelThatWasFound(t *testing.T) {
	tr := ruled(t, "", [2]float64{})
	tr.Machines[1].Level = train.Level{Pitch: 0.1, Roll: 0.1, FoundPitch: 0.3}
	s := &stager{plan: &optimize.Plan{Result: optimize.Result{Train: tr}}, rests: optimize.Resting(tr)}
	found := s.rests.Check(tr.Stay())
	assert.Empty(t, s.broken(1, tr.Stay(), &found, &found), "nothing was moved, so nothing is newly passed")
}
