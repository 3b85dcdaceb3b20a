package view

import (
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/testdata/trains"
)

// Between stages instruments may be off by twice what repeats, or by what is accepted at the end where that is more: a
// foot that went wrong by more than a dial's step and its reading shows, and no reading alone stops a crew. At the end
// the acceptance alone counts.
func TestBetweenStagesDialsAreCompared(t *testing.T) {
	text, err := os.ReadFile("../../../examples/reverse-dials/before.toml")
	require.NoError(t, err)
	tr := trains.Read(t, "reverse-dials", string(text))
	a, err := Ask(t.Context(), nil, tr, Options{Brief: true, Strategy: LeastTotal}, 0, 0)
	require.NoError(t, err)
	o := Order(a.Plan)
	require.Greater(t, len(o.Stages), 1)
	for i := range o.Couplings {
		w := &o.Couplings[i]
		require.NotEmpty(t, w.Instruments)
		assert.GreaterOrEqual(t, w.StageDials, 2*w.Repeats)
		assert.GreaterOrEqual(t, w.StageDials, w.AcceptDials)
		assert.Equal(t, w.StageDials, o.dialsMost(0, i))
		assert.Equal(t, w.AcceptDials, o.dialsMost(len(o.Stages)-1, i))
	}
}
