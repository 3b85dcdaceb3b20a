package pages

import (
	"bytes"
	"encoding/csv"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/cmd/internal/view"
	"leastmove/optimize"
	"leastmove/optimize/ways"
)

// compared is the handmade plan, one that is impossible, and two yardsticks of
// the same train.
func compared(t *testing.T) *view.Comparison {
	p := plannedMM(t)
	c := view.CompareOf([]ways.Way{
		{Kind: ways.ByStrategy, Strategy: optimize.LeastTotal, Machine: -1, Plan: p},
		{Kind: ways.ByHolding, Strategy: optimize.LeastTotal, Machine: 2, Plan: impossible(t)},
		{Kind: ways.ByCascade, Machine: 0, Plan: ways.Cascade(read(t, "mm.toml"), 0)},
		{Kind: ways.ByLine, Machine: -1, Plan: ways.StraightLine(read(t, "mm.toml"))},
	})
	c.Subsets = view.SubsetsOf(&ways.Subsets{Can: []ways.Subset{{Machines: []int{0, 2}, Plan: p}}, Idle: 1, Cannot: 5,
		Undecided: 1, Curve: []ways.SubsetPoint{
			{Moved: 0, Total: math.NaN(), Bound: math.Inf(1)}, {Moved: 1, Total: math.NaN(), Bound: math.NaN()},
			{Moved: 2, Total: 6.8, Bound: 6.779}, {Moved: 3, Total: 6.8, Bound: 6.7},
		}})
	c.Trade = view.TradeOf(p.Train, &ways.ParetoFront{
		Points: []ways.ParetoPoint{
			{Use: 0.35, Total: 9, Bound: 8.9, Reached: 0.349, Largest: 0.8, Moved: 3, Relaxed: 8.7},
			{Use: 0.62, Total: 6.72, Bound: 6.7, Reached: 0.62, Largest: 0.5, Moved: 2, Relaxed: 6.5},
			{Use: 1, Total: 6, Bound: 5.95, Reached: 0.99, Largest: 0.45, Moved: 2, Relaxed: 5.8},
		},
		Convex: true, Knee: 1, Sag: 0.0312,
	})
	return c
}

func TestCompareGolden(t *testing.T) {
	c, layout := compared(t), Page{Input: view.Input{Held: []string{"motor"}}}
	var text, js, table bytes.Buffer
	require.NoError(t, CompareText(&text, c, layout))
	golden(t, "compare.txt", text.Bytes())
	require.NoError(t, compareJSON(&js, c, layout))
	golden(t, "compare.json", js.Bytes())
	require.NoError(t, CompareCSV(&table, c, layout))
	golden(t, "compare.csv", table.Bytes())
	assert.Contains(t, flat(text.String()), "At the knee 12 % more movement brings the worst coupling from 100 % to "+
		"62.0 % of its limit;", "6.72 / 6.00 = 1.12")
	for _, line := range strings.Split(text.String(), "\n") {
		assert.LessOrEqual(t, columns(line), 80, line)
	}
	rows, err := csv.NewReader(&table).ReadAll()
	require.NoError(t, err)
	assert.Len(t, rows, 1+len(c.Ways)+len(c.Subsets.Can)+len(c.Subsets.Curve)+len(c.Trade.Points),
		"a line of names, the ways, the subsets, the curves")
}

// The page of a plan says what was made least.
func TestStrategyOnThePage(t *testing.T) {
	p := plannedMM(t)
	p.Strategy, p.First, p.FirstBound = optimize.FewestMachines, 2, 2
	s := flat(textOf(t, p, Page{Input: view.Input{Held: []string{"gear"}}}))
	assert.Contains(t, s, "As asked, not to be moved: gear.")
	assert.Contains(t, s, "Strategy: fewest machines (2), then the least total movement; no plan has less (proven).")
	assert.Contains(t, s, "that is as good by its strategy has a smaller total")
	p.Strategy, p.First, p.FirstBound = optimize.Minimax, 0.45, 0.40
	assert.Contains(t, flat(textOf(t, p, Page{})), "Strategy: least largest move (0.45 mm), then the least total "+
		"movement; no plan is below 0.40 (proven).")
	assert.Contains(t, string(asJSON(t, p)), `"first_bound": 0.4`)
}
