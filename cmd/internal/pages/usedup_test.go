package pages

import (
	"context"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/cmd/internal/planjson"
	"leastmove/cmd/internal/view"
	"leastmove/train"
	"leastmove/train/trainfile"
)

// A motor that is held and a pump that the plan moved 0.30 mm to the left and 0.10 mm up,
// all of it alike: no foot turns, so every bolt went 0.30 mm to the right in its hole. The
// hole leaves (24 - 22) / 2 = 1.00 mm. It stood 0.30 mm to the right and 0.10 mm low.
const pump = `title = "pump"
units = "mm"
[[machine]]
name = "motor"
height = 300
hold = true
[[machine]]
name = "pump"
at = 1000
height = 300
level = { pitch = 0.5, found = { pitch = 0.2 } }
[[machine.foot]]
name = "a"
x = 0
spread = 400
bolt = 22
hole = 24
FOOT
[[machine.foot]]
name = "b"
x = 600
spread = 400
bolt = 22
hole = 24
bolt_at = [0, -0.3]
shim = 3.1
[[machine.nozzle]]
name = "suction"
x = 300
z = 500
limit = NOZZLE
[[coupling]]
name = "c"
from = "motor"
to = "pump"
x = 800
limit = { offset = 0.05, angle = 0.5 }
found = { v = { offset = 0, angle = 0 }, h = { offset = OFF, angle = 0 } }
`

const pumpPlan = `{"schema": "leastmove.plan/1", "units": {"length": "mm", "move": "mm"}, "status": "planned",
"machines": [{"name": "pump", "nozzles": [{"name": "suction", "value": 0.316, "limit": 0.5}],
 "level": {"pitch": {"value": 0.2, "limit": 0.5}, "roll": {"value": 0, "limit": null}}, "feet": [
 {"name": "a left", "up": 0.1, "left": 0.3, "pack": {"now": 3, "then": 3.1}LIMITS},
 {"name": "a right", "up": 0.1, "left": 0.3, "pack": {"now": 3, "then": 3.1}LIMITS},
 {"name": "b left", "up": 0.1, "left": 0.3, "pack": {"now": 3, "then": 3.1}LIMITS},
 {"name": "b right", "up": 0.1, "left": 0.3, "pack": {"now": 3, "then": 3.1}LIMITS}]}],
"couplings": [{"name": "c", "from": "motor", "to": "pump", "x": 800,
 "states": [{"condition": "running", "found": {"v": {"offset": -0.1, "angle": 0}, "h": {"offset": -0.3, "angle": 0}},
  "planned": {"v": {"offset": 0, "angle": 0}, "h": {"offset": 0, "angle": 0}}}],
 "rest": {"v": {"offset": 0, "angle": 0}, "h": {"offset": 0, "angle": 0}}}]}`

const pumpLimits = `, "limits": [{"kind": "raise", "value": 0.1, "limit": 2}, {"kind": "bolt", "value": 0.3, "limit": 1}, {"kind": "travel", "value": 0.3, "limit": 0.8}]`

// pumpRead is the pump's train as read after the moves, and what its plan says.
func pumpRead(t *testing.T, foot, nozzle, off, level, limits string) (*train.Train, *view.GivenPlan) {
	t.Helper()
	text := strings.NewReplacer("FOOT", foot, "NOZZLE", nozzle, "OFF", off, "found = { pitch = 0.2 }",
		"found = { pitch = "+level+" }").Replace(pump)
	tr, report := trainfile.Read("after.toml", []byte(text), trainfile.Options{})
	require.NotNil(t, tr, report)
	p, faults := planjson.Read([]byte(strings.ReplaceAll(pumpPlan, "LIMITS", limits)), planjson.Options{})
	require.Nil(t, faults, faults.Text("plan"))
	given, faults := p.Given(tr)
	require.Nil(t, faults, faults.Text("plan"))
	return tr, given
}

// verifiedPage is the page of what became of the moves.
func verifiedPage(t *testing.T, tr *train.Train, given *view.GivenPlan) *verified {
	t.Helper()
	r, odds, err := view.Verify(context.Background(), given, tr, short)
	require.NoError(t, err)
	require.Empty(t, odds)
	return pageOf(r)
}

// What nobody stated anew is told, and what was stated is not. Feet of "b" have it all.
func TestUsedUp(t *testing.T) {
	const bolts = "pump: by bolt_at in the file bolts are nearer to the middle of their holes than the plan left them, "
	const measure = ": measure where they sit now and state bolt_at, unless the foot did not go"
	for name, c := range map[string]struct {
		foot, nozzle, limits string
		want                 []string
	}{
		"all stated": {"shim = 3.1\nraise = 1.9\nbolt_at = [0, -0.3]\ntravel = { left = 0.5, right = 1.1 }",
			"0.18", pumpLimits, nil},
		"limits are not forced": {"", "0.18", pumpLimits,
			[]string{bolts + "a left, a right 0.00 mm, by the plan 0.30 of 1.00" + measure}},
		"bolts as before": {"shim = 3.1", "0.18", pumpLimits,
			[]string{bolts + "a left, a right 0.00 mm, by the plan 0.30 of 1.00" + measure}},
		"one bolt as before": {"left = { bolt_at = [0.3, 0] }", "0.18", pumpLimits,
			[]string{bolts + "a right 0.00 mm, by the plan 0.30 of 1.00" + measure}},
		"off by placing, 0.02 mm, and rounding, 0.02 mm": {"bolt_at = [0, -0.261]", "0.18", pumpLimits, nil},
		"off by more": {"bolt_at = [0, -0.259]", "0.18", pumpLimits,
			[]string{bolts + "a left, a right 0.26 mm, by the plan 0.30 of 1.00" + measure}},
		"farther out": {"bolt_at = [0, -0.9]", "0.18", pumpLimits, nil},
		"raise as before": {"bolt_at = [0, -0.3]\nraise = 2.0", "0.18", pumpLimits,
			[]string{"pump: raise in the file is that of before the plan, a left, a right 2.00 mm, of which the plan took " +
				"0.10: state what is left now"}},
		"travel as before": {"bolt_at = [0, -0.3]\ntravel = { left = 0.8, right = 0.8 }", "0.18", pumpLimits,
			[]string{"pump: travel in the file is that of before the plan, a left, a right left 0.80 mm, of which the plan " +
				"took 0.30: state what is left now"}},
		"the way back is free": {"bolt_at = [0, -0.3]\ntravel = { right = 0.8 }", "0.18", pumpLimits, nil},
		"nozzle as before, sqrt(0.3² + 0.1²) = 0.32": {"bolt_at = [0, -0.3]", "0.5", pumpLimits,
			[]string{"pump, nozzle suction: the plan displaced it by 0.32 mm, and the limit in the file counts from where " +
				"it is now: take off what is used up"}},
		"a plan without limits": {"", "0.18", "",
			[]string{"pump: the file has the bolts in the middle of their holes, and the plan moved the feet, a left, a " +
				"right by 0.30 of 1.00 mm" + measure}},
		"without limits, stated": {"bolt_at = [0, -0.2]", "0.18", "", nil},
	} {
		t.Run(name, func(t *testing.T) {
			tr, given := pumpRead(t, c.foot, c.nozzle, "0", "0.2", c.limits)
			v := verifiedPage(t, tr, given)
			assert.True(t, v.r.Met())
			assert.Equal(t, c.want, v.usedUp())
		})
	}
}

// A level of before the plan is told: foot station "b" was raised by 0.3 mm over 600 mm,
// so the machine pitched by -0.5 mrad, and the file has the 0.2 of before, not -0.3.
func TestTilted(t *testing.T) {
	for found, want := range map[string]int{"0.2": 1, "0": 1, "-0.3": 0} {
		tr, given := pumpRead(t, "bolt_at = [0, -0.3]", "0.1", "0", found, "")
		given.Machines[0].Pitch = -0.3
		given.Moves[1][2].Up, given.Moves[1][3].Up = 0.4, 0.4
		c := &given.Couplings[0]
		c.States[0].Found.Misalignment = tr.Check(tr.Stay()).Couplings[0][0].Misalignment
		c.States[0].Planned.Misalignment = tr.Check(given.Moves).Couplings[0][0].Misalignment
		c.Rest = c.States[0].Planned
		v := verifiedPage(t, tr, given)
		require.Len(t, v.usedUp(), want, found)
		if want > 0 {
			assert.InDelta(t, 0.5, v.r.UsedUp[0].By, 1e-6)
			assert.Contains(t, v.usedUp()[0], "pump: the plan tilted it along the train by 0.500 mrad, and level.found in "+
				"the file has "+found)
		}
	}
}
