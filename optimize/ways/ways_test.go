package ways

import (
	"context"
	"encoding/json"
	"math"
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/optimize"
	"leastmove/optimize/bnb"
	"leastmove/optimize/mip"
	"leastmove/testdata/trains"
	"leastmove/train"
)

// A figure is a number of a stored answer, or why there is none.
type figure struct {
	value float64
	word  string // "infeasible", "unknown"; "": there is a number
}

func (f *figure) UnmarshalJSON(text []byte) error {
	if text[0] == '"' {
		return json.Unmarshal(text, &f.word)
	}
	return json.Unmarshal(text, &f.value)
}

// storedWays are the answers of testdata/referee/ways.py for one train.
type storedWays struct {
	Train    string
	Aim      float64
	Peak     figure
	Totals   []figure // at uses 0.4, 0.7, 1
	Subsets  []figure // lowest use, by set of machines that may be moved
	Cascades []stationed
	Straight stationed
}

// stationed are moves at the foot stations in mm.
type stationed struct{ Up, Left []float64 }

func readWays(t *testing.T) []storedWays {
	text, err := os.ReadFile("../../testdata/reference/ways.json")
	require.NoError(t, err)
	var all []storedWays
	require.NoError(t, json.Unmarshal(text, &all))
	require.GreaterOrEqual(t, len(all), 100)
	return all
}

// The problem without whole steps against CVXOPT on stored trains: how small the
// largest move can be, the least total at several uses, which machines can do it.
// Ranges of feet end on whole steps here, in CVXOPT's problem they do not: what is
// found may be dearer by a little, never cheaper.
func TestWaysAgainstCVXOPT(t *testing.T) {
	t.Parallel()
	const near = 2e-3 // relative, or of a limit: ends of ranges on whole steps
	peaks, totals, sets, settled := 0, 0, 0, 0
	every := trains.Draws(5, 1)
	for n, w := range readWays(t) {
		if n%every != 0 {
			continue
		}
		tr := trains.Stored(t, w.Train)
		k := optimize.Build(tr, nil)
		m := optimize.NewSolver(tr, optimize.Options{})
		m.Model = k
		if w.Peak.word == "" {
			peaks++
			assert.True(t, optimize.RelaxationInfeasible(context.Background(),
				&m.Model.Within(capTo(w.Peak.value-near*math.Max(1, w.Peak.value))).Problem,
				w.Aim), "%s: a cap below CVXOPT's is too small", w.Train)
			// The ranges end on whole shim steps below the cap: one step more lets
			// it through.
			assert.False(t, optimize.RelaxationInfeasible(context.Background(),
				&m.Model.Within(capTo(w.Peak.value+tr.Shims.Step)).Problem,
				w.Aim),
				"%s: a cap above it is not", w.Train)
		}
		for n, use := range []float64{0.4, 0.7, 1} {
			r := bnb.Relax(context.Background(), &k.Problem, mip.Goal{Use: use})
			if total := w.Totals[n]; total.word == "" && !r.Impossible() {
				totals++
				assert.InDelta(t, total.value, r.Bound, near*math.Max(1, total.value), "%s at %g", w.Train, use)
			}
		}
		s := &sieve{choice: machineChoice(k), solver: m, use: w.Aim, firm: true}
		require.Len(t, w.Subsets, 1<<len(s.weight), w.Train)
		for set, lowest := range w.Subsets {
			sets++
			l := s.look(context.Background(), uint32(set))
			switch {
			case lowest.word == "unknown", lowest.word == "" && math.Abs(lowest.value-w.Aim) < 5*near:
			default:
				settled++
				can := lowest.word == "" && lowest.value < w.Aim
				assert.Equal(t, can, !l.impossible(), "%s, set %b: lowest use %v", w.Train, set, lowest)
			}
		}
	}
	t.Logf("%d caps, %d totals, %d of %d sets compared", peaks, totals, settled, sets)
	assert.GreaterOrEqual(t, peaks, 60/every)
	assert.GreaterOrEqual(t, totals, 150/every)
	assert.GreaterOrEqual(t, float64(settled), 0.95*float64(sets))
}

// Cascades and straight lines against numpy on the stored trains, before they are
// rounded.
func TestYardsticksAgainstNumpy(t *testing.T) {
	t.Parallel()
	for _, w := range readWays(t) {
		tr := trains.Stored(t, w.Train)
		for i, want := range w.Cascades {
			matches(t, tr, want, outwards(tr, i, exactly), w.Train)
		}
		matches(t, tr, w.Straight, straightened(tr), w.Train)
	}
}

// matches compares motions with moves at the stations.
func matches(t *testing.T, tr *train.Train, want stationed, q []train.Motion, name string) {
	var up, left []float64
	for i := range tr.Machines {
		s := tr.Machines[i].Kinematics()
		for _, feet := range tr.Machines[i].Stations() {
			up = append(up, s.UpAt(feet[0]).Of(q[i]))
			left = append(left, s.LeftAt(feet[0]).Of(q[i]))
		}
	}
	require.Len(t, want.Up, len(up), name)
	require.InDeltaSlice(t, want.Up, up, 1e-6, name)
	require.InDeltaSlice(t, want.Left, left, 1e-6, name)
}
