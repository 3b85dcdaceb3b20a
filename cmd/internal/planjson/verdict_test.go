package planjson

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
	"leastmove/optimize"
	"leastmove/optimize/ways"
	"leastmove/train"
)

// A row is filled with what it has, by hand: a share of 0.6981 is 0.699 and a chance of 0.81999 is
// 0.8199. Where there is no plan, nothing but the status is said of it.
func TestOtherPlansAsWritten(t *testing.T) {
	tr := &train.Train{Machines: []train.Machine{{Name: "pump"}, {Name: "motor"}}}
	nan := math.NaN()
	p := &view.Plan{Result: optimize.Result{Train: tr, Moves: train.Moves{nil, nil}}}
	p.Others = &view.OtherPlans{Rows: []view.OtherPlan{
		{Questions: []ways.Question{{Kind: ways.AskFewest, Machine: -1}, {Kind: ways.AskWithout, Machine: 0}},
			Flags: []string{"--hold", "pump"}, Found: true, Machines: []int{1}, Feet: 4, Total: 3.2, Plain: 3.2, Share: 0.6981,
			Chance: 0.81999, Highest: nan},
		{Questions: []ways.Question{{Kind: ways.AskMargin, Machine: -1}}, Flags: []string{"--use", "0.5"}, None: true,
			Total: nan, Plain: nan, Share: nan, Chance: nan, Highest: nan},
		{Questions: []ways.Question{{Kind: ways.AskChance, Chance: 0.95, Machine: -1}}, Flags: []string{"--hold", "a b"},
			Total: nan, Plain: nan, Share: nan, Chance: nan, Highest: 0.91239},
	}}
	feet := 4
	w := filler{Formatter: words.FormatterOf(tr)}
	w.MoveDecimals = 2
	assert.Equal(t, []OtherPlan{
		{Names: []string{"fewest-machines", "left-out"}, Command: "leastmove plan FILE --hold pump", Status: "planned",
			Moved: []string{"motor"}, Feet: &feet, Total: "3.20", Plain: "3.20", Share: "0.699", Chance: "0.8199",
			Without: []string{"pump"}},
		{Names: []string{"margin"}, Command: "leastmove plan FILE --use 0.5", Status: "impossible", Moved: []string{}},
		{Names: []string{"chance"}, Command: `leastmove plan FILE --hold "a b"`, Status: "undecided", Moved: []string{},
			Highest: "0.9123"},
	}, w.otherPlans(p))

	p.Verdict = &view.PlanVerdict{Kind: view.NotAdvised, Reason: view.ChanceLow, Chance: 0.72999, Wanted: 0.95, Least: 0.8,
		Next: []view.VerdictStep{
			{Kind: view.TakePlan, Row: 0, Better: optimize.Measurement{Coupling: -1, Machine: -1}, Chance: 0.81999},
			{Kind: view.MeasureWell, Row: -1, Better: optimize.Measurement{Source: optimize.FromPlacing,
				Coupling: -1, Machine: 1},
				Chance: 0.96, Enough: true},
		}}
	assert.Equal(t, &PlanVerdict{Verdict: "not-advised", Reason: "chance-low", Chance: "0.7299", Wanted: "0.950000",
		Least: "0.800000", Next: []VerdictStep{
			{Step: "take-plan", Command: "leastmove plan FILE --hold pump", Chance: "0.8199"},
			{Step: "measure", Source: "placing", Machine: "motor", Chance: "0.9600", Enough: true},
		}}, w.verdict(p))
	p.Verdict = nil
	assert.Nil(t, w.verdict(p), "there is nothing to judge")
}
