package train

import (
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
	assert.Len(t, seen, 16)
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
		"lower":  {At: OfFoot, KeyOf: OfFoot, Key: "lower", Unit: UnitShim, SetBy: SetByUp},
		"raise":  {At: OfFoot, KeyOf: OfFoot, Key: "raise", Unit: UnitShim, SetBy: SetByUp},
		"bolt":   {At: OfFoot, KeyOf: OfFoot, Key: "hole", Unit: UnitOffset, SetBy: SetByLeft, Tilt: 0.001},
		"travel": {At: OfFoot, KeyOf: OfFoot, Key: "travel", Unit: UnitOffset, SetBy: SetByLeft},
		"flat":   {At: OfFoot, KeyOf: OfTrain, Key: "shims.flat", Unit: UnitOffset},
		"pitch":  {At: OfMachine, KeyOf: OfMachine, Key: "level.pitch", Unit: UnitAngle},
		"roll":   {At: OfMachine, KeyOf: OfMachine, Key: "level.roll", Unit: UnitAngle},
		"nozzle": {At: OfNozzle, KeyOf: OfNozzle, Key: "limit", Unit: UnitOffset},
		"offset": {At: OfCoupling, KeyOf: OfCoupling, Key: "limit.offset", Unit: UnitOffset},
		"angle":  {At: OfCoupling, KeyOf: OfCoupling, Key: "limit.angle", Unit: UnitAngle},
		"flex":   {At: OfCoupling, KeyOf: OfCoupling, Key: "limit.angle", Unit: UnitAngle},
		"gap":    {At: OfCoupling, KeyOf: OfCoupling, Key: "limit.gap", Unit: UnitLength},
		"hold":   {At: OfMachine, KeyOf: OfMachine, Key: "hold"},
		"steps":  {At: OfTrain, KeyOf: OfTrain, Key: "shims.step"},
		"stock":  {At: OfTrain, KeyOf: OfTrain, Key: "shims.stock"},
		"least":  {At: OfTrain, KeyOf: OfTrain, Key: "aim.least_move"},
	} {
		want.Kind = kind
		assert.Equal(t, want, *kind.Info())
	}
}
