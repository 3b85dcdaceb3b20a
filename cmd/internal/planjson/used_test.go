package planjson

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What is left of limits, in an inch file: 15 mils are 0.381 mm, 31.25 are 0.79375.
func TestLimits(t *testing.T) {
	p, faults := Read([]byte(`{"schema": "leastmove.plan/1", "units": {"length": "inch", "move": "mil"}, "status": "planned",
"machines": [{"name": "m", "level": {"pitch": {"value": 0.2, "limit": null}}, "nozzles": [{"name": "n", "value": 5, "limit": 10}, {"name": "free", "value": 5, "limit": null}],
  "feet": [{"name": "f", "limits": [{"kind": "bolt", "value": 15, "limit": 31.25}, {"kind": "raise", "value": null, "limit": 100}]}]}],
"packs": [{"machine": "m", "foot": "f", "now": [100], "out": [], "in": [2], "then": [100, 2]}, {"machine": "m", "foot": "g", "then": null}, {"machine": "m", "foot": "h", "then": []}]}`), Options{})
	require.Nil(t, faults, faults.Text("plan"))
	m := &p.Machines[0]
	bolt, of := p.UsedOf(&m.Feet[0], "bolt")
	assert.InDelta(t, 0.381, bolt, 1e-12)
	assert.InDelta(t, 0.79375, of, 1e-12)
	raise, of := p.UsedOf(&m.Feet[0], "raise")
	assert.True(t, math.IsNaN(raise))
	assert.InDelta(t, 2.54, of, 1e-12)
	_, of = p.UsedOf(&m.Feet[0], "lower")
	assert.True(t, math.IsNaN(of), "it is not there")
	pitch, roll := LevelOf(m)
	assert.Equal(t, 0.2, pitch)
	assert.True(t, math.IsNaN(roll))
	assert.InDelta(t, 0.254, p.NozzleLimit(m, "n"), 1e-12)
	assert.True(t, math.IsNaN(p.NozzleLimit(m, "free")) && math.IsNaN(p.NozzleLimit(m, "other")))
	then, listed := p.ThenUnder("m", "f")
	assert.True(t, listed)
	assert.InDeltaSlice(t, []float64{2.54, 0.0508}, then, 1e-12)
	_, listed = p.ThenUnder("m", "g")
	assert.False(t, listed)
	then, listed = p.ThenUnder("m", "h")
	assert.True(t, listed && len(then) == 0, "a foot without a pack")
}

// A shim of no thickness, of a metre, or of words is a fault, in its place.
func TestNoThickness(t *testing.T) {
	for _, piece := range []string{"0", "-1", "1000", `"x"`} {
		_, faults := Read([]byte("{\"schema\": \"leastmove.plan/1\", \"units\": \"mm\", \"machines\": [],\n\"packs\": "+
			"[{\"machine\": \"m\", \"foot\": \"f\", \"then\": ["+piece+"]}]}"), Options{})
		require.Len(t, faults, 1, piece)
		assert.Contains(t, faults.Text("plan"), "plan:2:50: error: here stands")
		assert.Contains(t, faults.Text("plan"), "no thickness of a shim")
	}
}
