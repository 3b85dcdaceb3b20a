package pages

import (
	"context"
	"encoding/csv"
	"strconv"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/cmd/internal/view"
)

// tableOf is a table of PlanCSV.
func tableOf(t *testing.T, p *view.Plan, part string) [][]string {
	t.Helper()
	var b strings.Builder
	layout := Page{}
	if part != "" {
		layout.Show = []string{part}
	}
	require.NoError(t, PlanCSV(&b, p, layout))
	rows, err := csv.NewReader(strings.NewReader(b.String())).ReadAll() // each as long as the first
	require.NoError(t, err)
	return rows
}

// plansFrom are the plans of examples, each made once. Tests do not change them.
var plansFrom struct {
	sync.Mutex
	plans map[string]*view.Plan
}

// planFrom is the plan of an example.
func planFrom(t *testing.T, name string) *view.Plan {
	t.Helper()
	plansFrom.Lock()
	defer plansFrom.Unlock()
	if plansFrom.plans == nil {
		plansFrom.plans = map[string]*view.Plan{}
	}
	if plansFrom.plans[name] == nil {
		a, err := view.Ask(context.Background(), nil, example(t, name), view.Options{}, 0, 0)
		require.NoError(t, err)
		plansFrom.plans[name] = a.Plan
	}
	return plansFrom.plans[name]
}

// A spreadsheet gets every foot with the plan's own numbers, and every coupling in every state.
func TestPlanCSV(t *testing.T) {
	p := planFrom(t, "turbine")
	rows := tableOf(t, p, "")
	assert.Equal(t, rows, tableOf(t, p, "moves"))
	head := rows[0]
	at := func(name string) int {
		for n, h := range head {
			if strings.HasPrefix(h, name) {
				return n
			}
		}
		require.Failf(t, "no column", "%s in %s", name, head)
		return -1
	}
	assert.Equal(t, "shims (mm), + in, - out", head[at("shims")])
	number := func(row []string, column string) float64 {
		x, err := strconv.ParseFloat(row[at(column)], 64)
		require.NoError(t, err, column)
		return x
	}
	n := 0
	for i, feet := range p.Moves {
		for f, move := range feet {
			n++
			row, m := rows[n], &p.Train.Machines[i]
			assert.Equal(t, []string{m.Name, m.Feet[f].Name}, row[:2])
			assert.InDelta(t, m.At+m.Feet[f].X, number(row, "x ("), 1e-9)
			assert.InDelta(t, p.Changes[i][f].By(), number(row, "shims"), 1e-9)
			assert.InDelta(t, move.Left, number(row, "sideways"), 1e-9)
			assert.InDelta(t, number(row, "shim pack then"), number(row, "shim pack now")+number(row, "shims"), 1e-9)
		}
	}
	assert.Len(t, rows, n+1)

	rows = tableOf(t, p, "couplings")
	head = rows[0]
	assert.Len(t, rows, 1+len(p.Train.Couplings)*(2*len(p.Train.Conditions)+1))
	for _, row := range rows[1:] {
		share := row[at("share")]
		assert.Equal(t, row[at("condition")] == "", share == "", "a share in a condition alone")
		if row[at("when")] == "after the moves" {
			x, err := strconv.ParseFloat(share, 64)
			require.NoError(t, err)
			assert.LessOrEqual(t, x, 0.7)
		}
	}

	p = planFrom(t, "base-bound")
	require.Nil(t, p.Moves)
	assert.Len(t, tableOf(t, p, "moves"), 1)
	assert.Len(t, tableOf(t, p, "couplings"), 1+len(p.Train.Couplings)*len(p.Train.Conditions))
}

// A name that a spreadsheet would take for a formula is text.
func TestPlanCSVNamesAreText(t *testing.T) {
	p := view.Of(plannedMM(t))
	p.Train.Machines[0].Name = "=1+1"
	p.Train.Couplings[0].Name = "@x"
	assert.Equal(t, "'=1+1", tableOf(t, p, "moves")[1][0])
	assert.Equal(t, "'@x", tableOf(t, p, "couplings")[1][0])
}
