package chart

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
)

// Rows are sorted by the share that is left after the moves, marks stand where the shares say, every
// limit in every condition has its mark, and the lines are at the aim and the limit.
func TestCouplingsReadBack(t *testing.T) {
	p := plannedOf(t, "five-machines")
	figures := Couplings(view.FiguresOf(p))
	require.Len(t, figures, 1)
	d := readBack(t, figures[0])
	at := d.log(t, "100", "500")
	var after, open, others []float64
	for _, s := range d.strokes {
		switch {
		case s.radius == dot && s.filled && s.width == 0:
			after = append(after, s.points[0][0])
		case s.radius == dot && s.width == 0.9:
			open = append(open, s.points[0][0])
		}
	}
	for _, s := range d.lines(0.9, "") {
		if math.Abs(s.points[1][1]-s.points[0][1]-7) < 0.01 {
			others = append(others, s.points[0][0])
		}
	}
	// By hand from the plan: the worst condition of every limit.
	type limit struct{ before, after float64 }
	n, limits := 0, 0
	worst := math.Inf(1)
	for i := range p.Planned.Couplings {
		for u := range p.Planned.Couplings[i][0].Uses {
			most := limit{}
			for k := range p.Planned.Couplings[i] {
				n++
				most.after = math.Max(most.after, p.Planned.Couplings[i][k].Uses[u].Share)
				most.before = math.Max(most.before, p.Found.Couplings[i][k].Uses[u].Share)
			}
			limits++
			has := func(all []float64, share float64) {
				for _, x := range all {
					if math.Abs(x-at(share)) < 0.05 {
						return
					}
				}
				assert.Fail(t, "no mark", "at %g", share)
			}
			has(after, most.after)
			has(open, most.before)
			d.has(t, words.Percent(most.after)[:len(words.Percent(most.after))-len(" %")])
		}
	}
	var rows []float64
	for _, r := range rowsOf(view.FiguresOf(p)) {
		assert.LessOrEqual(t, r.last(), worst, "worst first")
		worst = r.last()
		rows = append(rows, r.last())
	}
	require.Len(t, rows, limits)
	assert.Len(t, others, n-limits+1, "and one in the legend")
	for share, lines := range map[float64][]stroke{1: d.lines(0.9, ""), 0.7: d.lines(0.9, "3,2")} {
		found := false
		for _, s := range lines {
			found = found || math.Abs(s.points[0][0]-at(share)) < 0.05 && math.Abs(s.points[1][1]-s.points[0][1]) > 50
		}
		assert.True(t, found, "no line at %g", share)
	}
}

// On a narrow screen a row has its words above its marks, with the same shares; the marks stand where they say.
func TestCouplingsOnANarrowScreen(t *testing.T) {
	p := plannedOf(t, "five-machines")
	for _, wide := range Couplings(view.FiguresOf(p)) {
		require.NotNil(t, wide.narrow)
		assert.Less(t, wide.narrow.Width, wide.Width)
		assert.Equal(t, wide.Desc, wide.narrow.Desc)
		d := readBack(t, *wide.narrow)
		at := d.log(t, "100", "500")
		var after []float64
		for _, s := range d.strokes {
			if s.radius == dot && s.filled && s.width == 0 {
				after = append(after, s.points[0][0])
			}
		}
		for i := range p.Planned.Couplings {
			d.has(t, p.Train.Couplings[i].Name)
			worst, before := 0.0, 0.0
			for u := range p.Planned.Couplings[i][0].Uses {
				found, planned := 0.0, 0.0 // the worst of a limit in any condition
				for k := range p.Planned.Couplings[i] {
					found = math.Max(found, p.Found.Couplings[i][k].Uses[u].Share)
					planned = math.Max(planned, p.Planned.Couplings[i][k].Uses[u].Share)
				}
				if planned > worst {
					worst, before = planned, found
				}
			}
			d.has(t, words.Percent(before)+" → "+words.Percent(worst))
			assert.True(t, slices.ContainsFunc(after, func(x float64) bool { return math.Abs(x-at(worst)) < 0.05 }))
		}
	}
}
