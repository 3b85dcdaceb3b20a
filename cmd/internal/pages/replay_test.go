package pages

import (
	"bytes"
	"context"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/cmd/internal/planjson"
	"leastmove/cmd/internal/view"
	"leastmove/optimize"
	"leastmove/optimize/ways"
)

// A plan by hand that breaks much, as a page and for programs; the numbers that
// break it stand in it.
func TestReplayGolden(t *testing.T) {
	tr := example(t, "turbine")
	p, faults := planjson.Read([]byte(`{"units": "mm", "machines": [
	  {"name": "turbine", "feet": [{"name": "exhaust", "up": -0.42, "left": 0.7}]},
	  {"name": "gear", "axial": 0.2, "feet": [{"name": "in", "up": 0.6, "left": -2}]},
	  {"name": "compressor", "feet": [{"name": "drive end", "up": -0.25, "left": 0.25}, {"name": "far end left", "up": 0.3}]}]}`), planjson.Options{})
	require.Nil(t, faults, faults.Text("plan"))
	moves, faults := p.Moves(tr)
	require.Nil(t, faults)
	r, err := ways.Replay(context.Background(), tr, moves, optimize.Options{})
	require.NoError(t, err)
	var txt, js bytes.Buffer
	require.NoError(t, Replay(&txt, view.OfReplayed(r), Page{}))
	require.NoError(t, replayJSON(&js, view.OfReplayed(r), Page{}))
	golden(t, "replay.txt", txt.Bytes())
	golden(t, "replay.json", js.Bytes())
	for _, line := range strings.Split(txt.String(), "\n") {
		assert.LessOrEqual(t, columns(line), 80, line)
	}
	// It is a plan that can be read again.
	again, faults := planjson.Read(js.Bytes(), planjson.Options{})
	require.Nil(t, faults, faults.Text("plan"))
	same, faults := again.Moves(tr)
	require.Nil(t, faults)
	for i := range moves {
		for f := range moves[i] {
			assert.InDelta(t, moves[i][f].Up, same[i][f].Up, 1e-9)
			assert.InDelta(t, moves[i][f].Left, same[i][f].Left, 1e-9)
			assert.InDelta(t, moves[i][f].Axial, same[i][f].Axial, 1e-9)
		}
	}
}

// What is given may keep every limit and not the aim; and on soft feet it is not for
// use, whatever it keeps.
func TestReplaySaysHowFarItServes(t *testing.T) {
	tr := example(t, "turbine")
	all, err := ways.Make(context.Background(), tr, optimize.Options{Brief: true, Use: 1})
	require.NoError(t, err)
	require.Greater(t, all.Reached, tr.Aim.Use)
	page := func() string {
		r, err := ways.Replay(context.Background(), tr, all.Moves, optimize.Options{})
		require.NoError(t, err)
		var b bytes.Buffer
		require.NoError(t, Replay(&b, view.OfReplayed(r), Page{}))
		return flat(b.String())
	}
	s := page()
	assert.Contains(t, s, "It keeps every limit that the file states, but not the aim of 70 % of the coupling limits.")
	assert.NotContains(t, s, "PROVISIONAL")
	tr.Machines[2].Feet[0].Soft = 0.6
	assert.Contains(t, page(), "PROVISIONAL: put the soft foot right first")
}
