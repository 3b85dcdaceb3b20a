package optimize_test

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/optimize"
	"leastmove/testdata/families"
	"leastmove/testdata/recheck"
	"leastmove/testdata/trains"
)

// Trains with a base under some of their machines, against the stored answers of CVXOPT and HiGHS: ten of them, or
// all 40.
func TestStoredReferencesOfBases(t *testing.T) {
	t.Parallel()
	all := references(t, "../testdata/reference/bases.json")
	require.Len(t, all, 40)
	seen, moved := recheck.NewSpread(), 0
	for _, r := range all[:trains.Draws(10, 40)] {
		t.Run(r.name(), func(t *testing.T) {
			p := r.check(t, seen)
			if p.Status != optimize.Planned {
				return
			}
			for i := p.Train.Row(); i < len(p.Train.Machines); i++ {
				for _, f := range p.Moves[i] {
					if f.Up != 0 || f.Left != 0 || f.Axial != 0 {
						moved++
						return
					}
				}
			}
		})
	}
	seen.Log(t)
	assert.GreaterOrEqual(t, moved, trains.Draws(3, 15), "plans that move the base")
	assert.LessOrEqual(t, seen.Counts[between], 2)
	assert.LessOrEqual(t, seen.Counts[unbounded], 2)
}

// The referee's own model of the train file, written without regard to the planner's, finds no fault with the plans of
// trains with a base.
func TestTheRefereeJudgesPlansWithABase(t *testing.T) {
	t.Parallel()
	recheck.Live(t, "the referee's verdict on plans of trains with a base")
	dir := t.TempDir()
	for seed := uint64(1101); seed < 1101+uint64(trains.Draws(1, 4)); seed++ {
		text := families.TOML("base", seed)
		file := filepath.Join(dir, "train.toml")
		require.NoError(t, os.WriteFile(file, []byte(text), 0o644))
		judge(t, file, planned(t, trains.Read(t, "base", text), optimize.Options{Solves: short}))
	}
}
