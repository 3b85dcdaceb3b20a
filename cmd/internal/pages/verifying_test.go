package pages

import (
	"bytes"
	"context"
	"fmt"
	"math"
	"os"
	"slices"
	"sync"
	"testing"

	"github.com/stretchr/testify/require"

	"leastmove/bolts"
	"leastmove/cmd/internal/planjson"
	"leastmove/cmd/internal/view"
	"leastmove/optimize"
	"leastmove/optimize/ways"
	"leastmove/train"
	"leastmove/train/trainfile"
)

// example is the train of an example. All examples are invented.
func example(t *testing.T, name string) *train.Train {
	t.Helper()
	text, err := os.ReadFile("../../../examples/" + name + "/before.toml")
	require.NoError(t, err)
	tr, report := trainfile.Read(name, text, trainfile.Options{ClearanceHole: bolts.ClearanceHole, Thread: bolts.Thread,
		Minor: bolts.Minor})
	require.NotNil(t, tr, report)
	return tr
}

// written is what the program writes of a plan, read again.
func written(t *testing.T, p *optimize.Plan) *planjson.File {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, planJSON(&b, view.Of(p), Page{}))
	out, faults := planjson.Read(b.Bytes(), planjson.Options{})
	require.Nil(t, faults, faults.Text("plan"))
	return out
}

// add makes a number of a plan larger.
func add(n *planjson.Number, by float64) { *n = planjson.Number(fmt.Sprint(planjson.Value(*n) + by)) }

// after the moves: the train by true geometry, read without dials and without
// errors, the packs as the plan leaves them.
func afterMoves(tr *train.Train, plan *optimize.Plan, made train.Moves) *train.Train {
	out := *tr
	out.Couplings = slices.Clone(tr.Couplings)
	for i, r := range optimize.AtRest(tr, made) {
		c := &out.Couplings[i]
		c.Found, c.FoundGap, c.Dials, c.Fit, c.Taken = r.Misalignment, r.Gap, nil, nil, train.Share{}
	}
	out.Machines = slices.Clone(tr.Machines)
	for i := range out.Machines {
		out.Machines[i].Feet = slices.Clone(tr.Machines[i].Feet)
		for f := range out.Machines[i].Feet {
			foot := &out.Machines[i].Feet[f]
			foot.Pack += plan.Moves[i][f].Up
			foot.Lower += plan.Moves[i][f].Up
		}
	}
	return &out
}

// turbinePlan is the plan of the turbine example, made once.
var turbinePlan struct {
	sync.Mutex
	plan *optimize.Plan
}

// plannedTurbine is the turbine example, and its plan with moves of its own.
func plannedTurbine(t *testing.T) (*train.Train, *optimize.Plan) {
	t.Helper()
	turbinePlan.Lock()
	defer turbinePlan.Unlock()
	if turbinePlan.plan == nil {
		p, err := ways.Make(context.Background(), example(t, "turbine"), optimize.Options{Brief: true})
		require.NoError(t, err)
		turbinePlan.plan = p
	}
	plan := *turbinePlan.plan
	plan.Moves = clone(plan.Moves)
	return example(t, "turbine"), &plan
}

func clone(m train.Moves) train.Moves {
	out := slices.Clone(m)
	for i := range out {
		out[i] = slices.Clone(out[i])
	}
	return out
}

// short is how a plan is asked for where a test is about what a page says of it: with little work.
var short = optimize.Options{Brief: true, Solves: 100}

// stuckExample is the turbine, gear and compressor whose compressor did not go
// sideways at its drive end.
func stuckExample(t *testing.T) (*optimize.Plan, *train.Train) {
	t.Helper()
	tr, plan := plannedTurbine(t)
	made := clone(plan.Moves)
	require.GreaterOrEqual(t, math.Abs(made[2][0].Left), 0.1)
	made[2][0].Left, made[2][1].Left = 0, 0
	return plan, afterMoves(tr, plan, made)
}

// stuckVerified is what verify makes of stuckExample, made once.
var stuckVerified struct {
	sync.Mutex
	of *view.Verified
}

// stuckBeside is stuckExample, and what verify makes of it for one test to change.
func stuckBeside(t *testing.T) (*optimize.Plan, *train.Train, *view.Verified) {
	t.Helper()
	stuckVerified.Lock()
	defer stuckVerified.Unlock()
	plan, now := stuckExample(t)
	if stuckVerified.of == nil {
		stuckVerified.of = setBeside(t, plan, now)
	}
	r, verdict := *stuckVerified.of, *stuckVerified.of.Verdict
	r.Train, r.Verdict = now, &verdict
	r.Couplings = slices.Clone(r.Couplings)
	for i := range r.Couplings {
		r.Couplings[i].Conditions = slices.Clone(r.Couplings[i].Conditions)
	}
	return plan, now, &r
}

func setBeside(t *testing.T, plan *optimize.Plan, now *train.Train) *view.Verified {
	t.Helper()
	r, faults, err := verifying(written(t, plan), now)
	require.NoError(t, err)
	require.Nil(t, faults, faults.Text("plan"))
	return r
}

// verifying is what verify makes of a plan and the train of after the moves, or the faults of
// the plan.
func verifying(p *planjson.File, now *train.Train) (*view.Verified, planjson.Report, error) {
	given, faults := p.Given(now)
	if faults != nil {
		return nil, faults, nil
	}
	r, odds, err := view.Verify(context.Background(), given, now, short)
	if odds != nil {
		return nil, p.AtOdds(now, odds), err
	}
	return r, nil, err
}

// pageOf is the page of a result.
func pageOf(r *view.Verified) *verified {
	return &verified{formatter: formatterOf(r.Train), r: r}
}
