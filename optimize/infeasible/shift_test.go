package infeasible

import (
	"math"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/optimize"
	"leastmove/testdata/recheck"
	"leastmove/testdata/trains"
	"leastmove/train"
)

func stored(t *testing.T, name string) *train.Train {
	t.Helper()
	text, err := os.ReadFile(filepath.Join("testdata", name+".toml"))
	require.NoError(t, err)
	return trains.Read(t, name, string(text))
}

// By hand: the shaft ends are 3 apart, 4 is wanted and 0.25 allowed. The pump can lean back
// by the coupling's 0.5 mrad, which takes its shaft, 300 up, 0.15 along; 0.6 are left to a
// shift. Packs in steps of 0.05 over 500 come to 0.5 mrad less 0.1 at most with the offset
// kept, so the plan takes 0.03 more.
func TestAShiftCostsByItsLength(t *testing.T) {
	t.Parallel()
	tr := stored(t, "shift")
	p := explained(t, tr, optimize.Options{})
	require.Len(t, p.Relaxations, 1)
	r := p.Relaxations[0]
	require.Equal(t, optimize.ShiftAxially, r.Kind)
	require.Equal(t, []optimize.Edit{{Machine: 1, Foot: -1, Coupling: -1, Key: "axial", To: 1, Shift: 0.63}}, r.Edits)
	assert.InDelta(t, 30+5*0.63, r.Cost, 1e-9)
	assert.InDelta(t, 30+5*0.6, r.Least, 2e-3)
	assert.InDelta(t, 0.63, r.Moves[1][3].Axial, 1e-12, "its plan is kept")

	tr.Relief.AxialPerMM, tr.Relief.Axial = 0, 7
	r = explained(t, tr, optimize.Options{}).Relaxations[0]
	assert.InDelta(t, 7, r.Cost, 1e-9)
	assert.InDelta(t, 7, r.Least, 1e-9)
}

// What the file lets be shifted ends where relief.axial_most says, in a plan too: the
// largest move is that of the shift, and where it is too short the limit is of the conflict,
// short by what is missing of 0.6.
func TestAShiftHasAnEnd(t *testing.T) {
	t.Parallel()
	tr := stored(t, "shift")
	tr.Machines[1].Axial = true
	p, err := optimize.Make(t.Context(), tr, optimize.Options{})
	require.NoError(t, err)
	require.Equal(t, optimize.Planned, p.Status)
	recheck.Recheck(t, p)
	assert.InDelta(t, math.Abs(p.Moves[1][0].Axial), p.Largest, 1e-12)
	assert.Greater(t, p.Largest, 0.6)

	tr.Relief.AxialMost = 0.5
	p = explained(t, tr, optimize.Options{Widen: true})
	at := optimize.Unplaced(train.LimitShift)
	at.Machine = 1
	require.NotEmpty(t, p.Conflict)
	assert.Equal(t, at, p.Conflict[0].Limit)
	assert.InDelta(t, 0.1, p.Conflict[0].Short, 1e-3)
	require.NotEmpty(t, p.Relaxations)
	last := p.Relaxations[len(p.Relaxations)-1]
	assert.Equal(t, optimize.Widen, last.Kind, "work that others used up is not taken from it")

	tr.Machines[1].Axial, tr.Relief.AxialMost = false, 0
	for _, r := range explained(t, tr, optimize.Options{}).Relaxations {
		assert.NotEqual(t, optimize.ShiftAxially, r.Kind, "0 is never")
	}
}

// A train whose limits a shift by 758 mm would free, as its machine grows along a slope:
// none by 3 does.
func TestNoOptionShiftsByMetres(t *testing.T) {
	t.Parallel()
	tr := stored(t, "258")
	for _, r := range explained(t, tr, optimize.Options{}).Relaxations {
		assert.NotEqual(t, optimize.ShiftAxially, r.Kind)
	}
	if !trains.Everything() {
		return
	}
	tr.Relief.AxialMost = 1000
	var shift float64
	for _, r := range explained(t, tr, optimize.Options{}).Relaxations {
		for _, e := range r.Edits {
			if e.Key == "axial" {
				shift = math.Abs(e.Shift)
				assert.InDelta(t, 30+5*shift, r.Cost, 1e-9)
			}
		}
	}
	assert.Greater(t, shift, 100.0, "the train no longer shows it")
}
