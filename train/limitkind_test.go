package train

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

// Every kind stands in the table once, and what a coupling measures has its kind there.
func TestEveryKindOfLimitStandsOnce(t *testing.T) {
	seen := map[LimitKind]bool{}
	for _, k := range LimitKinds() {
		assert.False(t, seen[k], "twice: %s", k)
		seen[k] = true
		info := k.Info()
		assert.Equal(t, k, info.Kind)
		assert.NotEmpty(t, info.Key, k)
	}
	assert.Len(t, seen, 19)
	for k := Offset; k <= Gap; k++ {
		kind := k.LimitKind()
		assert.Equal(t, OfCoupling, kind.Info().At, k)
		assert.Equal(t, k.Angular(), kind.Info().Unit == UnitAngle, k)
	}
	assert.PanicsWithValue(t, "train: no limit is of kind colour", func() { LimitKind("colour").Info() })
}

// By hand: the key that states each kind, the unit of its numbers, and the move that it
// bounds by itself.
func TestKindsOfLimitsByHand(t *testing.T) {
	for kind, want := range map[LimitKind]LimitInfo{
		"lower":     {At: OfFoot, KeyOf: OfFoot, Key: "lower", Unit: UnitShim, SetBy: SetByUp},
		"raise":     {At: OfFoot, KeyOf: OfFoot, Key: "raise", Unit: UnitShim, SetBy: SetByUp},
		"bolt":      {At: OfFoot, KeyOf: OfFoot, Key: "hole", Unit: UnitOffset, SetBy: SetByLeft, Tilt: 0.001},
		"travel":    {At: OfFoot, KeyOf: OfFoot, Key: "travel", Unit: UnitOffset, SetBy: SetByLeft},
		"flat":      {At: OfFoot, KeyOf: OfMachine, Key: "flat", Unit: UnitOffset},
		"pitch":     {At: OfMachine, KeyOf: OfMachine, Key: "level.pitch", Unit: UnitAngle},
		"roll":      {At: OfMachine, KeyOf: OfMachine, Key: "level.roll", Unit: UnitAngle},
		"nozzle":    {At: OfNozzle, KeyOf: OfNozzle, Key: "limit", Unit: UnitOffset},
		"shift":     {At: OfMachine, KeyOf: OfTrain, Key: "relief.axial_most", Unit: UnitShim},
		"offset":    {At: OfCoupling, KeyOf: OfCoupling, Key: "limit.offset", Unit: UnitOffset},
		"angle":     {At: OfCoupling, KeyOf: OfCoupling, Key: "limit.angle", Unit: UnitAngle},
		"flex":      {At: OfCoupling, KeyOf: OfCoupling, Key: "limit.angle", Unit: UnitAngle},
		"gap":       {At: OfCoupling, KeyOf: OfCoupling, Key: "limit.gap", Unit: UnitLength},
		"sum":       {At: OfCoupling, KeyOf: OfCoupling, Key: "limit.combined", Unit: UnitShare},
		"transient": {At: OfCoupling, KeyOf: OfTrain, Key: "aim.transient", Unit: UnitUse},
		"hold":      {At: OfMachine, KeyOf: OfMachine, Key: "hold"},
		"steps":     {At: OfTrain, KeyOf: OfTrain, Key: "shims.step"},
		"stock":     {At: OfTrain, KeyOf: OfTrain, Key: "shims.stock"},
		"least":     {At: OfTrain, KeyOf: OfTrain, Key: "aim.least_move"},
	} {
		want.Kind = kind
		info := *kind.Info()
		info.Fields, info.bounds = nil, nil // TestBoundsByHand
		assert.Equal(t, want, info)
	}
}

// By hand: the number that states each kind, each of them another one; of a coupling it is a half in the second
// condition, of a bolt half the clearance.
func TestBoundsByHand(t *testing.T) {
	tr := &Train{
		Machines: []Machine{{
			Feet:    []Foot{{}, {Lower: 1, Raise: 2, TravelLeft: 3, TravelRight: 4, Bolt: 20, Hole: 30}},
			Level:   Level{Pitch: 6, Roll: 7},
			Nozzles: []Nozzle{{}, {Limit: 8}},
		}},
		Couplings:  []Coupling{{}, {Limit: Limit{Offset: 20, Angle: 22, Gap: 24, Combined: true}}},
		Conditions: []Condition{{Use: 1}, {Use: 0.5}},
	}
	tr.Machines[0].Flat, tr.Shims.Step, tr.Aim.LeastMove, tr.Relief.AxialMost = 9, 13, 14, 15
	at := LimitPlace{Machine: 0, Foot: 1, Nozzle: 1, Coupling: 1, Condition: 1}
	want := map[LimitKind][]float64{
		"lower": {1}, "raise": {2}, "travel": {3, 4}, "bolt": {5}, "pitch": {6}, "roll": {7}, "nozzle": {8}, "flat": {9},
		"offset": {10}, "angle": {11}, "flex": {11}, "gap": {12}, "steps": {13}, "least": {14}, "sum": {1},
		"transient": {math.Inf(1)}, "shift": {math.Inf(1)},
	}
	for _, kind := range LimitKinds() {
		bounds := kind.Info().Bounds(tr, at)
		if kind == LimitHold || kind == LimitStock {
			assert.Nil(t, bounds, kind)
			continue
		}
		assert.Equal(t, want[kind], bounds, kind)
	}
	tr.Aim.Transient, tr.Between = 0.9, make([]Condition, 1)
	assert.Equal(t, []float64{0.9}, LimitWarm.Info().Bounds(tr, at))
	tr.Machines[0].Axial, tr.Machines[0].Feet[0].Bolt = true, math.NaN()
	assert.Equal(t, []float64{math.Inf(1)}, LimitShift.Info().Bounds(tr, at), "a hole bounds the shift of all feet")
	tr.Machines[0].Feet[1].Hole = math.NaN()
	assert.Equal(t, []float64{15}, LimitShift.Info().Bounds(tr, at), "nothing else does")
	tr.Machines[0].Feet[1].Hole = 30
	foot := &tr.Machines[0].Feet[1]
	for _, unstated := range []*float64{&foot.Bolt, &foot.Hole} {
		is := *unstated
		*unstated = math.NaN()
		assert.Equal(t, []float64{math.Inf(1)}, LimitBolt.Info().Bounds(tr, at))
		*unstated = is
	}
}
