package view

import (
	"math"
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/bolts"
	"leastmove/train"
	"leastmove/train/trainfile"
)

func example(t *testing.T, name string) *train.Train {
	text, err := os.ReadFile("../../../examples/" + name + "/before.toml")
	require.NoError(t, err)
	tr, faults := trainfile.Read(name, text, trainfile.Options{ClearanceHole: bolts.ClearanceHole, Thread: bolts.Thread,
		Minor: bolts.Minor})
	require.NotNil(t, tr, "%v", faults)
	return tr
}

// The share that the plan states is shown, not one worked out from its rounded figures.
func TestVerifiedCouplingsHaveThePlansShare(t *testing.T) {
	uses := []train.Use{{Share: 0.3}, {Share: 0.8599}, {Share: 0.2}}
	assert.Equal(t, []train.Use{{Share: 0.3}, {Share: 0.8604}, {Share: 0.2}}, stated(uses, 0.8604))
	assert.Equal(t, []train.Use{{Share: 0.3}, {Share: 0.8}}, stated([]train.Use{{Share: 0.3}, {Share: 0.8}}, math.NaN()))
	assert.Empty(t, stated(nil, 0.5))
}

// What is shown as before is how the couplings were then: here a tenth of a millimetre higher than
// what was found after the moves.
func TestTrainAsItStood(t *testing.T) {
	tr := example(t, "five-machines")
	r := &Verified{Train: tr}
	for _, conditions := range tr.Check(tr.Stay()).Couplings {
		var c VerifiedCoupling
		for k := range conditions {
			s := VerifiedState{Now: conditions[k]}
			s.Before.Misalignment, s.Before.Gap = conditions[k].Misalignment, conditions[k].Gap
			s.Before.V.Offset += 0.1
			c.Conditions = append(c.Conditions, s)
		}
		r.Couplings = append(r.Couplings, c)
	}
	was := asItStood(r)
	require.NotNil(t, was)
	state := was.Check(was.Stay())
	for i := range was.Couplings {
		want, is := r.Couplings[i].Conditions[0].Before, state.Couplings[i][0]
		assert.InDelta(t, want.V.Offset, is.V.Offset, 0.001)
		assert.InDelta(t, want.V.Angle, is.V.Angle, 0.001)
		assert.InDelta(t, want.H.Offset, is.H.Offset, 0.001)
		assert.InDelta(t, want.H.Angle, is.H.Angle, 0.001)
	}
	r.Couplings[1].Conditions[0].Before.V.Offset = math.NaN()
	assert.Nil(t, asItStood(r))
}
