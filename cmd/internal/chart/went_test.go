package chart

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/cmd/internal/view"
	"leastmove/optimize/diagnose"
)

// Every station that was moved has a ring where it was sent and a disc where it went, on one scale from the line
// where it was: up to the right, left to the left. What is suspected is marked; a machine that stayed is not there.
func TestWentReadsBack(t *testing.T) {
	_, r := notMade(t)
	stations := func(planned, went float64) []diagnose.Station {
		return []diagnose.Station{
			{Feet: []int{0, 1}, PlannedUp: planned, Up: went, HalfUp: 0.02, PlannedLeft: -planned / 2, Left: -went / 2,
				HalfLeft: 0.03},
			{Feet: []int{2, 3}, PlannedUp: 0.25, Up: 0.25, PlannedLeft: 0, Left: 0.1},
		}
	}
	r.Verdict = &diagnose.Verdict{Machines: make([]diagnose.Motion, len(r.Train.Machines)),
		Suspects: []diagnose.Suspect{{Fault: diagnose.Fault{Machine: 0, Feet: []int{0}, Coupling: -1}}}}
	r.Verdict.Machines[0].Stations = stations(0.4, 0.1)
	r.Verdict.Machines[2].Stations = stations(0.3, 0.3) // held
	f := r.Figures()
	require.Len(t, f.Went, 2)
	figures := Went(f)
	require.Len(t, figures, 1)
	d := readBack(t, figures[0])
	var rings, discs []stroke
	for _, s := range d.strokes {
		switch {
		case s.radius > 0 && s.filled:
			discs = append(discs, s)
		case s.radius > 0:
			rings = append(rings, s)
		}
	}
	require.Len(t, rings, 4+1, "two stations, two directions, and the legend")
	require.Len(t, discs, 4+1)
	var zeros []stroke
	for _, s := range d.strokes {
		if s.dashes != "" && len(s.points) == 2 && s.points[0][0] == s.points[1][0] {
			zeros = append(zeros, s)
		}
	}
	require.Len(t, zeros, 4)
	scale := (rings[0].points[0][0] - zeros[0].points[0][0]) / 0.4 // points a mm
	require.Greater(t, scale, 10.0)
	for n, c := range []struct{ sent, went float64 }{{0.4, 0.1}, {-0.2, -0.05}, {0.25, 0.25}, {0, 0.1}} {
		way := float64(1 - 2*(n%2)) // sideways, left is to the left
		zero := zeros[n].points[0][0]
		require.False(t, math.IsNaN(zero))
		assert.InDelta(t, zero+way*c.sent*scale, rings[n].points[0][0], 0.1)
		assert.InDelta(t, zero+way*c.went*scale, discs[n].points[0][0], 0.1)
	}
	d.has(t, "sent up 0.400, went up 0.100 ± 0.020")
	d.has(t, "sent right 0.200, went right 0.050 ± 0.030")
	assert.Contains(t, figures[0].Desc, "sent up 0.400, went up 0.100 ± 0.020; sent right 0.200, went right "+
		"0.050 ± 0.030.")
	suspects := 0
	for _, l := range d.labels {
		if len(l.words) > 9 && l.words[len(l.words)-9:] == "look here" {
			suspects++
		}
	}
	assert.Equal(t, 1, suspects)
	assert.Nil(t, Went(&view.Figures{}))
	// Of many stations a sheet of paper has some, on the scale of all.
	for range 3 {
		f.Went = append(f.Went, f.Went[1], f.Went[1], f.Went[1])
	}
	figures = append(figures[:1], Went(f)...)
	require.Len(t, figures, 3, "eleven stations")
	for _, part := range figures[1:] {
		assert.LessOrEqual(t, float64(part.Height), 430.0)
	}
	assert.Equal(t, figures[1].Title+", continued", figures[2].Title)
	for _, s := range readBack(t, figures[2]).strokes {
		if s.radius > 0 && !s.filled {
			assert.InDelta(t, rings[2].points[0][0], s.points[0][0], 0.1)
			break
		}
	}
	// On a narrow screen the words at the foot take more lines, and none is cut.
	for _, l := range readBack(t, *figures[0].narrow).labels {
		assert.NotContains(t, l.words, "…")
	}
}
