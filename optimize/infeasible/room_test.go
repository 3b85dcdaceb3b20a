package infeasible

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/optimize"
	"leastmove/testdata/trains"
	"leastmove/train"
)

// An option leaves room: with it there is a plan that keeps half a per cent of every coupling limit, so that its
// figures may be written into a file and read back.
func TestOptionsLeaveRoom(t *testing.T) {
	t.Parallel()
	options := 0
	check := func(tr *train.Train) {
		m, err := optimize.Begin(t.Context(), tr, optimize.Options{Widen: true})
		require.NoError(t, err)
		if m.Plan.Status != optimize.Impossible {
			return
		}
		Explain(t.Context(), m)
		for _, r := range m.Plan.Relaxations {
			options++
			p, err := optimize.Make(t.Context(), optimize.Apply(tr, r.Edits), optimize.Options{Use: 1 - room, Brief: true,
				Gap: 1})
			require.NoError(t, err)
			if assert.Equal(t, optimize.Planned, p.Status, "%s: %v", r.Kind, r.Edits) {
				assert.LessOrEqual(t, p.Reached, (1-room)*(1+optimize.CheckTolerance), "%s: %v", r.Kind, r.Edits)
			}
		}
	}
	for seed := range uint64(trains.Draws(2, 12)) {
		check(trains.Drawn(t, "bound", 801+seed))
	}
	assert.Positive(t, options)
}
