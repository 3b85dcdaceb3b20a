package view

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/optimize"
	"leastmove/testdata/trains"
	"leastmove/train"
)

// judgedAt is a plan of a train whose machines all have growth, with a chance and with that
// of its best measurement made better by half.
func judgedAt(chance, better float64) *optimize.Plan {
	t := &train.Train{Errors: train.Errors{Offset: 0.01}, Machines: make([]train.Machine, 2)}
	for i := range t.Machines {
		t.Machines[i].Growth.V = train.Line{Start: 0.1}
	}
	angle := optimize.Measurement{Source: optimize.FromAngle, Coupling: 1, Machine: -1}
	return &optimize.Plan{Result: optimize.Result{Train: t, Moves: train.Moves{nil, nil},
		Probability: &optimize.Probability{
			Draws: 20_000, Within: chance, Error: math.Sqrt(chance * (1 - chance) / 20_000),
			Better: []optimize.BetterProbability{{Measurement: angle, Within: better}},
		}}}
}

// The thresholds are met and missed by one draw of 20,000.
func TestVerdictThresholds(t *testing.T) {
	for _, c := range []struct {
		chance, wanted float64
		kind           VerdictKind
		reason         VerdictReason
	}{
		{0.95, 0, CarryOut, ChanceKept},
		{0.94995, 0, Marginal, ChanceShort},
		{0.80, 0, Marginal, ChanceShort},
		{0.79995, 0, NotAdvised, ChanceLow},
		{0.94, 0.9, CarryOut, ChanceKept},
		{0.96, 0.99, Marginal, ChanceShort},
		{0.75, 0.7, CarryOut, ChanceKept},
	} {
		v := VerdictOn(judgedAt(c.chance, 1), &OtherPlans{}, c.wanted)
		assert.Equal(t, c.kind, v.Kind, "%+v", c)
		assert.Equal(t, c.reason, v.Reason, "%+v", c)
		assert.Equal(t, c.chance, v.Chance)
	}
	assert.Nil(t, VerdictOn(&optimize.Plan{}, &OtherPlans{}, 0), "nothing to judge")
}

// The step is the cheapest plan that has the chance, or else the likeliest; then the
// measurement, where it helps by more than the draws tell.
func TestVerdictSteps(t *testing.T) {
	row := func(total, chance float64) OtherPlan { return OtherPlan{Found: true, Total: total, Chance: chance} }
	this := row(4, 0.85)
	this.This = true
	none := OtherPlan{None: true, Chance: math.NaN()}
	others := &OtherPlans{Rows: []OtherPlan{this, row(9, 0.99), row(5, 0.96), row(4.5, 0.94), none}}
	v := VerdictOn(judgedAt(0.85, 0.93), others, 0)
	require.Len(t, v.Next, 2)
	assert.Equal(t, TakePlan, v.Next[0].Kind)
	assert.Equal(t, 2, v.Next[0].Row)
	assert.True(t, v.Next[0].Enough)
	assert.Equal(t, MeasureWell, v.Next[1].Kind)
	assert.Equal(t, 1, v.Next[1].Better.Coupling)
	assert.False(t, v.Next[1].Enough)

	others.Rows = []OtherPlan{this, row(9, 0.90), row(5, 0.91), row(4.5, 0.86)}
	v = VerdictOn(judgedAt(0.85, 0.852), others, 0)
	require.Len(t, v.Next, 1, "0.2 % are within the error of the draws")
	assert.Equal(t, 2, v.Next[0].Row)
	assert.False(t, v.Next[0].Enough)

	// A plan about as likely as the most likely one is named, and not the one that costs many times as much.
	others.Rows = []OtherPlan{this, row(21, 0.915), row(6.7, 0.907), row(6.5, 0.87), none}
	v = VerdictOn(judgedAt(0.64, 0.64), others, 0)
	require.Len(t, v.Next, 1)
	assert.Equal(t, 3, v.Next[0].Row, "0.87 is within 5 % of 0.915")
	v = VerdictOn(judgedAt(0.86, 0.86), others, 0)
	assert.Equal(t, 2, v.Next[0].Row, "0.87 brings less than half of what 0.915 does")
	assert.Empty(t, VerdictOn(judgedAt(0.88, 0.88), others, 0).Next, "it is about as likely as the likeliest")

	// What the command for the chance shows counts where no row has as much.
	none.None, none.Highest = false, 0.78
	others.Rows = []OtherPlan{this, row(5, 0.60), row(4.5, 0.55), none}
	v = VerdictOn(judgedAt(0.5, 0.5), others, 0)
	require.Len(t, v.Next, 1)
	assert.Equal(t, 3, v.Next[0].Row)
	assert.Equal(t, 0.78, v.Next[0].Chance)

	assert.Empty(t, VerdictOn(judgedAt(0.96, 0.99), others, 0).Next, "nothing needs to be better")
}

// What is missing is named.
func TestNotJudged(t *testing.T) {
	p := judgedAt(0.99, 1)
	p.Train.Machines[1].Growth = train.Growth{Unknown: true}
	v := VerdictOn(p, &OtherPlans{}, 0)
	assert.Equal(t, NotJudged, v.Kind)
	assert.Equal(t, NoGrowth, v.Reason)
	assert.Equal(t, []int{1}, v.Growth)
	require.Len(t, v.Next, 1)
	assert.Equal(t, StateGrowth, v.Next[0].Kind)
	assert.Equal(t, 1, v.Next[0].Better.Machine)

	p.Train.Machines[1].Growth = train.Growth{}
	p.Train.Couplings = []train.Coupling{{From: train.End{Machine: 0}, To: train.End{Machine: 1}}}
	for i := range p.Train.Machines {
		p.Train.Machines[i].Shafts = make([]train.Shaft, 1)
	}
	p.Train.Machines[0].Shafts[0].RunUnknown = true
	v = VerdictOn(p, &OtherPlans{}, 0)
	assert.Equal(t, NotJudged, v.Kind)
	assert.Equal(t, NoRun, v.Reason, "growth is stated, a journal shift is not")
	p.Train.Machines[0].Shafts[0].RunUnknown = false
	p.Train.Machines[1].Growth = train.Growth{Unknown: true}

	p.Train.Errors, p.Probability = train.Errors{}, nil
	v = VerdictOn(p, &OtherPlans{}, 0)
	assert.Equal(t, NoErrors, v.Reason)
	assert.True(t, math.IsNaN(v.Chance))
	require.Len(t, v.Next, 2)
	assert.Equal(t, StateErrors, v.Next[0].Kind)

	broken := judgedAt(0.99, 1)
	broken.Broken = make([]optimize.Constraint, 1)
	assert.Equal(t, LimitsBroken, VerdictOn(broken, &OtherPlans{}, 0).Reason)
}

// Two machines, one held: the plan is marginal or worse only by its chance, and every row
// has its flags, machines and what it costs beyond the plan.
func TestAskRows(t *testing.T) {
	tr := trains.Drawn(t, "two", 1032)
	a, err := Ask(t.Context(), nil, tr, Options{Brief: true}, 0, 0)
	require.NoError(t, err)
	assert.Nil(t, a.Others.Missed)
	require.NotEmpty(t, a.Others.Rows)
	assert.True(t, a.Others.Rows[0].This)
	assert.Equal(t, a.Plan.Total, a.Others.Rows[0].Total)
	for _, r := range a.Others.Rows {
		if !r.Found {
			assert.True(t, math.IsNaN(r.Total))
			continue
		}
		assert.Len(t, r.Machines, 1)
		assert.GreaterOrEqual(t, r.Total, a.Plan.Total)
	}
	assert.Equal(t, NoErrors, a.Verdict.Reason)

	missed, err := Ask(t.Context(), nil, trains.Drawn(t, "two", 16), Options{Brief: true}, 0, 0)
	require.NoError(t, err)
	m := missed.Others.Missed
	require.NotNil(t, m)
	assert.Greater(t, missed.Plan.plan.Kept, m.Aim)
	lowest := missed.Others.Rows[m.Lowest]
	assert.Less(t, lowest.Share, missed.Plan.Reached)
	assert.Greater(t, lowest.Total, missed.Plan.Total)
	assert.Greater(t, missed.Plan.plan.Lowest, m.Aim)
}
