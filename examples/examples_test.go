// Package examples holds trains to run as they are, one folder a story: the train before the moves, its plan, and the
// train after them. Every figure in them is invented.
package examples

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/bolts"
	"leastmove/optimize"
	"leastmove/optimize/ways"
	"leastmove/train/trainfile"
)

// Every train as it was found runs, and comes out as its own first lines say.
func TestExamples(t *testing.T) {
	status := map[string]optimize.Status{
		"base-bound":    optimize.Impossible, // hardly any shim under machines that stand too high
		"five-machines": optimize.Planned,
		"reverse-dials": optimize.Planned,
		"survey":        optimize.Planned,
		"turbine":       optimize.Planned,
	}
	files, err := filepath.Glob("*/before.toml")
	require.NoError(t, err)
	require.Len(t, files, len(status), "every example has its status here")
	for _, file := range files {
		t.Run(file, func(t *testing.T) {
			text, err := os.ReadFile(file)
			require.NoError(t, err)
			tr, report := trainfile.Read(file, text, trainfile.Options{ClearanceHole: bolts.ClearanceHole,
				Thread: bolts.Thread, Minor: bolts.Minor})
			require.NotNilf(t, tr, "%v", report)
			require.Contains(t, string(text), "invented")
			p, err := ways.Make(t.Context(), tr, optimize.Options{})
			require.NoError(t, err)
			require.Equal(t, status[filepath.Dir(file)].String(), p.Status.String())
			assert.Empty(t, p.Cut)
			if p.Status == optimize.Planned {
				assert.LessOrEqual(t, p.Reached, p.Aim*(1+1e-6))
				assert.LessOrEqual(t, p.Least-p.Bound, 0.001*p.Least, "proven to the default gap")
				return
			}
			assert.NotEmpty(t, p.Conflict)
		})
	}
}
