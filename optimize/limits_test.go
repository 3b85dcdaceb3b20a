package optimize_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/optimize"
	"leastmove/testdata/trains"
	"leastmove/train"
)

// everyLimitStated is the train of the check with every limit stated. The pump goes up by
// 0.2 and to the left by 0.3: its offset is sqrt(0.2² + 0.3²), nothing tilts.
func everyLimitStated(t *testing.T) *train.Train {
	t.Helper()
	tr := trains.Read(t, "check", checked)
	trains.Flat(tr, 0.05)
	c := &tr.Couplings[0]
	c.Limit.Offset, c.Limit.Angle, c.Limit.Gap = 0.5, 0.5, 0.25
	gapped(tr)
	tr.Aim.Transient, tr.Between = 0.9, tr.WarmUp()
	m := &tr.Machines[1]
	m.Level = train.Level{FoundPitch: -0.1, FoundRoll: 0.2, Pitch: 0.4, Roll: 0.2}
	m.Nozzles = []train.Nozzle{{Name: "suction", X: 200, Y: 100, Z: 500, Limit: 0.4}}
	for f := range m.Feet {
		m.Feet[f].Lower, m.Feet[f].Raise, m.Feet[f].TravelLeft, m.Feet[f].TravelRight = 1, 0.24, 0.8, 0.6
		inHole(tr, f, 0.5, 0, -0.1)
	}
	return tr
}

// Each kind by hand: value, bound, share, whether it is reached and broken, and whether
// the moves use it.
func TestEachKindOfLimitByHand(t *testing.T) {
	tr := everyLimitStated(t)
	moves := trains.PumpMoves(0.2, 0.3, 0.2, 0.3)
	state := tr.Check(moves)
	off := math.Hypot(0.2, 0.3) // 0.3606
	foot := func(kind train.LimitKind) optimize.Limit { return atFoot(kind, 2).Limit }
	nozzle := atPump(train.LimitNozzle).Limit
	nozzle.Nozzle = 0
	for _, c := range []struct {
		at            optimize.Limit
		what          string
		value, bound  float64 // mm or mrad
		share         float64
		reached, idle bool
	}{
		{at: optimize.OfCoupling(train.LimitOffset, 0, 0), what: "offset", value: off, bound: 0.5, share: off / 0.5},
		{at: optimize.OfCoupling(train.LimitAngle, 0, 1), what: "angle", value: 0, bound: 0.5, share: 0},
		{at: optimize.OfCoupling(train.LimitGap, 0, 0), what: "distance between shaft ends", value: 0, bound: 0.25, share: 0},
		{at: atPump(train.LimitPitch).Limit, what: "level along the train", value: 0.1, bound: 0.4, share: 0.25},
		{at: atPump(train.LimitRoll).Limit, what: "level across the train", value: 0.2, bound: 0.2, share: 1, reached: true},
		{at: nozzle, what: "nozzle suction", value: off, bound: 0.4, share: off / 0.4},
		{at: foot(train.LimitFlat), what: "soft foot", value: 0, bound: 0.05, share: 0},
		{at: foot(train.LimitLower), what: "shims out", value: -0.2, bound: 1, share: -0.2, idle: true},
		// 0.04 is left, less than a step of shims of 0.05.
		{at: foot(train.LimitRaise), what: "shims in", value: 0.2, bound: 0.24, share: 0.2 / 0.24, reached: true},
		// The bolt was 0.1 to the right of the centre, and the hole goes 0.3 to the left.
		{at: foot(train.LimitBolt), what: "bolt in its hole", value: 0.4, bound: 0.5, share: 0.8},
		{at: foot(train.LimitTravel), what: "to the left", value: 0.3, bound: 0.8, share: 0.375},
		{at: foot(train.LimitTravel), what: "to the right", value: -0.3, bound: 0.6, share: -0.5, idle: true},
	} {
		t.Run(c.what, func(t *testing.T) {
			var found []optimize.LimitRow
			for _, r := range optimize.Limits(tr, moves, &state, 1) {
				if r.Limit == c.at && r.What == c.what {
					found = append(found, r)
				}
			}
			require.Len(t, found, 1)
			r := found[0]
			require.False(t, math.IsNaN(r.Value) || math.IsNaN(r.Share))
			assert.InDelta(t, c.value, r.Value, 1e-6)
			assert.InDelta(t, c.bound, r.Bound, 1e-12)
			assert.InDelta(t, c.share, r.Share, 1e-5)
			assert.Equal(t, c.reached, r.Reached, "reached")
			assert.Equal(t, c.idle, r.Idle, "idle")
			assert.False(t, r.Broken, "broken")
			assert.True(t, r.Stated())
			assert.Equal(t, !c.idle, r.Listed())
		})
	}
}

// The table of kinds and the walk have the same kinds: at every place the walk has each of
// them once, travel for either side and a flex plane for each end of a spacer. What has no
// number (the steps, the stock, the least move, a machine that is held) is not walked.
func TestTheWalkHasEachKindOnce(t *testing.T) {
	kinds := map[train.LimitKind]bool{}
	for _, spacer := range []bool{false, true} {
		tr := everyLimitStated(t)
		want := map[train.LimitKind]int{
			train.LimitOffset: 2, train.LimitAngle: 2, train.LimitGap: 2, train.LimitSum: 2, // one coupling, two conditions
			train.LimitWarm:  1,
			train.LimitPitch: 2, train.LimitRoll: 2, train.LimitNozzle: 1, train.LimitShift: 2, // two machines
			train.LimitFlat: 8, train.LimitLower: 8, train.LimitRaise: 8, train.LimitBolt: 8, train.LimitTravel: 16,
		}
		if spacer {
			spaced(tr)
			delete(want, train.LimitOffset)
			delete(want, train.LimitAngle)
			want[train.LimitFlex] = 4
		}
		state := tr.Check(tr.Stay())
		got := map[train.LimitKind]int{}
		for _, r := range optimize.Limits(tr, tr.Stay(), &state, 1) {
			kinds[r.Kind] = true
			got[r.Kind]++
			info := r.Kind.Info()
			assert.Equal(t, info.At == train.OfCoupling, r.Coupling >= 0, r.What)
			assert.Equal(t, info.At == train.OfCoupling && r.Kind != train.LimitWarm, r.Condition >= 0, r.What)
			assert.Equal(t, info.At == train.OfFoot, r.Foot >= 0, r.What)
			assert.Equal(t, info.At == train.OfNozzle, r.Nozzle >= 0, r.What)
			assert.Equal(t, info.At != train.OfCoupling, r.Machine >= 0, r.What)
			assert.Equal(t, r.Machine == 0, r.Held, r.What)
		}
		assert.Equal(t, want, got)
	}
	for _, k := range train.LimitKinds() {
		assert.Equal(t, k.Info().Unit != train.UnitNone, kinds[k], k)
	}
}

// What the file does not state has a row without a bound, which is neither reached nor
// broken nor listed; what is no number is broken all the same.
func TestRowsOfWhatIsNotStated(t *testing.T) {
	tr := trains.Read(t, "check", checked)
	moves := trains.PumpMoves(0.2, 0.3, 0.2, 0.3)
	state := tr.Check(moves)
	at := func(l optimize.Limit) optimize.LimitRow {
		for _, r := range optimize.Limits(tr, moves, &state, 1) {
			if r.Limit == l {
				return r
			}
		}
		require.Fail(t, "no such row", "%v", l)
		return optimize.LimitRow{}
	}
	for _, l := range []optimize.Limit{
		atPump(train.LimitPitch).Limit, atPump(train.LimitRoll).Limit,
		atFoot(train.LimitRaise, 0).Limit, atFoot(train.LimitBolt, 0).Limit, atFoot(train.LimitTravel, 0).Limit,
	} {
		r := at(l)
		assert.True(t, math.IsInf(r.Bound, 1), r.What)
		assert.False(t, r.Stated() || r.Listed() || r.Reached || r.Broken, r.What)
	}
	state.Machines[1].Roll = math.NaN()
	assert.True(t, at(atPump(train.LimitRoll).Limit).Broken)
	assert.False(t, at(atPump(train.LimitPitch).Limit).Broken)
}

// A plan is at a limit of a foot's move where less than a step is left: of shims 0.05, of a
// dial 0.01. Of other limits, and of the share of a coupling's that may be used, where it
// has 97 % of it.
func TestWhenALimitIsReached(t *testing.T) {
	reached := func(change func(*train.Train), use float64, l optimize.Limit) bool {
		tr := everyLimitStated(t)
		change(tr)
		moves := trains.PumpMoves(0.2, 0.3, 0.2, 0.3)
		state := tr.Check(moves)
		for _, r := range optimize.Limits(tr, moves, &state, use) {
			if r.Limit == l && !r.Idle {
				return r.Reached
			}
		}
		require.Fail(t, "no such row", "%v", l)
		return false
	}
	nozzle := atPump(train.LimitNozzle).Limit
	nozzle.Nozzle = 0
	for _, c := range []struct {
		name   string
		at     optimize.Limit
		change func(t *train.Train, bound float64)
		just   float64 // mm or mrad, the widest bound that is reached
	}{
		{"shims in", atFoot(train.LimitRaise, 1).Limit, func(t *train.Train, b float64) { pumpFoot(t, 1).Raise = b }, 0.25},
		{"travel", atFoot(train.LimitTravel, 1).Limit, func(t *train.Train, b float64) { pumpFoot(t, 1).TravelLeft = b },
			0.31},
		{"bolt", atFoot(train.LimitBolt, 1).Limit, func(t *train.Train, b float64) { inHole(t, 1, b, 0, 0) }, 0.31},
		{"level", atPump(train.LimitPitch).Limit, func(t *train.Train, b float64) { t.Machines[1].Level.Pitch = b },
			0.1 / 0.97},
		{"nozzle", nozzle, func(t *train.Train, b float64) { t.Machines[1].Nozzles[0].Limit = b },
			math.Hypot(0.2, 0.3) / 0.97},
		{"offset", optimize.OfCoupling(train.LimitOffset, 0, 0), func(t *train.Train,
			b float64) {
			t.Couplings[0].Limit.Offset = b
		}, math.Hypot(0.2, 0.3) / 0.97},
	} {
		within := func(tr *train.Train) { c.change(tr, c.just-1e-4) }
		beyond := func(tr *train.Train) { c.change(tr, c.just+1e-4) }
		assert.True(t, reached(within, 1, c.at), c.name)
		assert.False(t, reached(beyond, 1, c.at), c.name)
	}
	half := func(tr *train.Train) { tr.Couplings[0].Limit.Offset = 2 * math.Hypot(0.2, 0.3) / 0.98 }
	assert.True(t, reached(half, 0.5, optimize.OfCoupling(train.LimitOffset, 0, 0)),
		"0.49 of the limit, where half may be used")
	assert.False(t, reached(half, 0.6, optimize.OfCoupling(train.LimitOffset, 0, 0)))
}

// Where a shim pack has to go up by 0.2 at least and may go up by 0.3 at most, 0.4 breaks
// the second limit: by the check, and by Try.
func TestAPackThatMustGoUpCanGoTooFar(t *testing.T) {
	tr := trains.Read(t, "check", checked)
	pumpFoot(tr, 2).Lower, pumpFoot(tr, 2).Raise = -0.2, 0.3
	moves := trains.PumpMoves(0.4, 0, 0.4, 0)
	state := tr.Check(moves)
	assert.Equal(t, []string{"pump rear left, shims in: 0.4 beyond 0.3"}, optimize.Breaks(tr, moves, &state, 1))
	want := atFoot(train.LimitRaise, 2)
	want.Value, want.Bound = 0.4, 0.3
	assert.Equal(t, []optimize.Constraint{want}, optimize.Try(tr, moves).Broken)
}
