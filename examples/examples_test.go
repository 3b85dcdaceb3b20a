// Package examples holds trains to run as they are. Every figure in them is
// invented.
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

// Every example runs, and comes out as its own first lines say.
func TestExamples(t *testing.T) {
	status := map[string]optimize.Status{
		"base-bound.toml":              optimize.Impossible, // hardly any shim under machines that stand too high
		"five-machine-string.toml":     optimize.Planned,
		"motor-gear-compressors.toml":  optimize.Planned,
		"surveyed-train.toml":          optimize.Planned,
		"turbine-gear-compressor.toml": optimize.Planned,
	}
	files, err := filepath.Glob("*.toml")
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
			require.Equal(t, status[file].String(), p.Status.String())
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
