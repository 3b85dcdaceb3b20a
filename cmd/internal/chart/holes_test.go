package chart

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/cmd/internal/view"
)

// Bars reach as far as the feet may go, by the scale of the figure, the least share of its room first; only those
// with less than a tenth of their room are black. The bolt stays and the hole goes with the foot.
func TestHolesReadBack(t *testing.T) {
	p := plannedOf(t, "five-machines")
	f := view.FiguresOf(p)
	// One foot has next to nothing left to the left.
	f.Holes[0].ToLeft, f.Holes[0].Share, f.Holes[0].Near = 0.01, 0.005, true
	figures := Holes(f)
	require.Len(t, figures, 1)
	d := readBack(t, figures[0])
	scale := d.bar(t, p.Train.Units, "room: ", false)
	h := &holes{Figures: f, words: namesOf(f)}
	h.rows = h.rowsOf()
	rows, holeMiddle := h.rows, float64(h.onPaper().middle)
	require.True(t, rows[0].Near)
	var bars []stroke
	for _, s := range d.strokes {
		if len(s.points) == 4 && !s.filled && s.radius == 0 {
			bars = append(bars, s)
		}
	}
	require.Len(t, bars, len(rows))
	feet := 0
	for n, r := range rows {
		feet += len(r.feet)
		if n > 0 {
			assert.LessOrEqual(t, rows[n-1].Share, r.Share)
		}
		assert.InDelta(t, r.ToLeft, (holeMiddle-bars[n].points[0][0])/scale, 0.02/scale)
		assert.InDelta(t, r.ToRight, (bars[n].points[1][0]-holeMiddle)/scale, 0.02/scale)
	}
	assert.Len(t, f.Holes, feet)
	d.has(t, "under 10 %")
	// Room by hand, for a hole without stated travel: to each side the half chord at the bolt's place along the train.
	checked := 0
	for _, h := range view.FiguresOf(p).Holes {
		foot := &p.Train.Machines[h.Machine].Feet[h.Foot]
		if !math.IsInf(foot.TravelLeft, 1) {
			continue
		}
		at := p.Planned.Machines[h.Machine].Feet[h.Foot]
		assert.InDelta(t, -at.Left, holeRow{Hole: h}.from(), 1e-9, "the foot was as far to the right as it went left")
		half := math.Sqrt(h.Play*h.Play - math.Pow(foot.BoltAt[0]-at.Axial, 2))
		assert.InDelta(t, half+foot.BoltAt[1]-at.Left, h.ToLeft, 0.03)
		across := math.Sqrt(h.Play*h.Play - math.Pow(foot.BoltAt[1]-at.Left, 2))
		assert.InDelta(t, across-math.Abs(foot.BoltAt[0]-at.Axial), h.Along, 1e-9)
		checked++
	}
	require.Positive(t, checked)
}
