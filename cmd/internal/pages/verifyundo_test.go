package pages

import (
	"bytes"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/cmd/internal/view"
	"leastmove/optimize/diagnose"
	"leastmove/testdata/trains"
	"leastmove/train"
)

// What undoes a fault alone leaves the couplings as the plan had them: one station of the compressor did not go
// sideways.
func TestVerifySaysWhatUndoesAFault(t *testing.T) {
	plan, _, r := stuckBeside(t)
	u := r.UndoOf(&r.Verdict.Suspects[0])
	require.NotNil(t, u)
	assert.Equal(t, []view.UndoneStation{{Feet: []int{0, 1}, Move: train.FootMove{Left: plan.Moves[2][0].Left}}},
		u.Stations)
	assert.InDelta(t, plan.Planned.Worst(), u.Worst, 2e-3, "readings have three decimals")
	var b bytes.Buffer
	require.NoError(t, VerifyText(&b, r, Page{}))
	assert.Contains(t, flat(b.String()), "and did not go. To undo that alone: "+pageOf(r).Side(plan.Moves[2][0].Left)+
		"; the worst coupling (")

	wrong := diagnose.Suspect{Fault: diagnose.Fault{Cause: diagnose.WrongWay, Machine: 2, Coupling: -1,
		Plane: diagnose.Vertical}}
	u = r.UndoOf(&wrong)
	require.NotNil(t, u)
	for _, s := range u.Stations {
		assert.InDelta(t, 2*plan.Moves[2][s.Feet[0]].Up, s.Move.Up, 1e-9, "back, and once more")
		assert.Zero(t, s.Move.Left)
	}
	assert.Nil(t, r.UndoOf(&diagnose.Suspect{Fault: diagnose.Fault{Cause: diagnose.Misread, Machine: -1}}))
}

// A foot that may not have gone sideways as planned does not have its bolt where the plan was to leave it.
func TestVerifyAsksForBoltsInDoubt(t *testing.T) {
	for name, c := range map[string]struct {
		of    float64 // of the planned move, that the file takes the bolts to have gone
		doubt []view.DoubtedBolts
	}{
		"as planned":           {1, []view.DoubtedBolts{{Machine: 2, Feet: []int{0, 1}}}},
		"as before":            {0, nil},
		"measured, other side": {-1, nil},
		"measured, between":    {0.5, nil},
	} {
		if c.of != 1 && c.of != -1 && !trains.Everything() {
			continue
		}
		t.Run(name, func(t *testing.T) {
			plan, now := stuckExample(t)
			for f := range 2 {
				now.Machines[2].Feet[f].BoltAt[1] -= c.of * plan.Moves[2][f].Left
			}
			r := setBeside(t, plan, now)
			assert.Equal(t, c.doubt, r.DoubtedBolt)
			var b bytes.Buffer
			require.NoError(t, VerifyText(&b, r, Page{}))
			const words = "measure where each bolt sits in its hole and state bolt_at"
			if c.doubt == nil {
				assert.NotContains(t, flat(b.String()), words)
			} else {
				assert.Contains(t, flat(b.String()), words)
			}
		})
	}
}
