package pages

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"slices"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/bolts"
	"leastmove/cmd/internal/doc"
	"leastmove/cmd/internal/planjson"
	"leastmove/cmd/internal/view"
	"leastmove/optimize"
	"leastmove/optimize/diagnose"
	"leastmove/optimize/ways"
	"leastmove/testdata/trains"
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

func TestVerifyGolden(t *testing.T) {
	plan, now := stuckExample(t)
	r := setBeside(t, plan, now)
	assert.False(t, r.Met())
	assert.Empty(t, r.Differences)
	assert.Equal(t, view.PacksNew, r.Packs)
	require.NotEmpty(t, r.Verdict.Suspects)
	assert.Equal(t, 2, r.Verdict.Suspects[0].Machine)
	assert.Equal(t, diagnose.Sideways, r.Verdict.Suspects[0].Plane)
	var txt, js bytes.Buffer
	require.NoError(t, VerifyText(&txt, r, Page{}))
	require.NoError(t, verifyJSON(&js, r, Page{}))
	golden(t, "verify.txt", txt.Bytes())
	golden(t, "verify.json", js.Bytes())
	for _, line := range strings.Split(txt.String(), "\n") {
		assert.LessOrEqual(t, columns(line), 80, line)
	}
	require.True(t, json.Valid(js.Bytes()))
	s := flat(txt.String())
	assert.Contains(t, s, "Lock out and tag out", "it asks to move again")
	assert.Contains(t, s, "side readings can't say which of the two holds")
	assert.Contains(t, s, "bolt-bound in its hole")
	assert.Contains(t, s, "What to do now")
	asked, err := view.Ask(context.Background(), now, short, 0, 0)
	require.NoError(t, err)
	assert.Equal(t, asked.Plan.Moves, r.Remaining.Moves, "what is left to do is the plan of the train file of now")
	assert.Equal(t, asked.Plan.Bound, r.Remaining.Bound)
}

// Machines were moved as planned but for one, and what is left is at the edge of what the crew can place: the plan from
// here is the one that `leastmove plan` makes all the same, with the same bound.
func TestVerifyPlansAsPlanDoes(t *testing.T) {
	tr := example(t, "turbine")
	edge := 0
	for up := range trains.Draws(1, 4) {
		with := *tr
		with.Aim.LeastMove = 0.05 * float64(up+1) // whole shim steps: moves as small as that are common
		with.Aim.LeastPlaced = with.Aim.LeastMove
		plan, err := ways.Make(context.Background(), &with, optimize.Options{Brief: true})
		require.NoError(t, err)
		now := afterMoves(&with, plan, with.Stay())
		r := setBeside(t, plan, now)
		asked, err := view.Ask(context.Background(), now, short, 0, 0)
		require.NoError(t, err)
		require.Equal(t, optimize.Planned, asked.Plan.Status)
		assert.Equal(t, asked.Plan.Moves, r.Remaining.Moves, "%d", up)
		for _, feet := range r.Remaining.Moves {
			for _, f := range feet {
				if f.Up != 0 && math.Abs(math.Abs(f.Up)-with.Aim.LeastMove) < 1e-9 {
					edge++
				}
			}
		}
	}
	assert.Positive(t, edge, "a move at the edge")
}

// What was planned and what is found are the same numbers where all went as it
// was to go; then nothing is asked for.
func TestVerifyAllWent(t *testing.T) {
	tr, plan := plannedTurbine(t)
	r := setBeside(t, plan, afterMoves(tr, plan, plan.Moves))
	assert.True(t, r.Met())
	assert.Empty(t, r.Verdict.Suspects)
	assert.Empty(t, r.Differences)
	assert.Equal(t, optimize.Within, r.Remaining.Status)
	for i, c := range r.Couplings {
		for k, s := range c.Conditions {
			assert.InDelta(t, s.Planned.V.Offset, s.Now.V.Offset, 0.002)
			assert.InDelta(t, s.Planned.H.Angle, s.Now.H.Angle, 0.002)
			assert.InDelta(t, plan.Found.Couplings[i][k].V.Offset, s.Before.V.Offset, 0.001)
			assert.InDelta(t, plan.Found.Couplings[i][k].Worst(), s.UseBefore, 0.001)
			assert.InDelta(t, plan.Planned.Couplings[i][k].Worst(), s.UsePlanned, 0.001)
		}
	}
	var txt bytes.Buffer
	require.NoError(t, VerifyText(&txt, r, Page{}))
	assert.NotContains(t, txt.String(), "What to do now")
	assert.NotContains(t, txt.String(), "Lock out")
}

// Each difference between the plan and the train file is told.
func TestVerifyDifferences(t *testing.T) {
	for name, c := range map[string]struct {
		change func(*train.Train)
		want   string
	}{
		"a foot": {func(tr *train.Train) { tr.Machines[0].Feet[0].X += 10 },
			"turbine steam end left stands at x = 10 mm, in the plan at 0 mm"},
		"its side": {func(tr *train.Train) { tr.Machines[0].Feet[1].Y -= 20 }, "turbine steam end right stands at y = "},
		"no flex": {func(tr *train.Train) { tr.Couplings[1].Spacer = false },
			"low speed: it has flex planes in one of the two files only"},
		"a plane": {func(tr *train.Train) { tr.Couplings[0].X += 50 },
			"high speed: the offsets are given at x = 2100 mm, in the plan at 2050 mm"},
		"flex": {func(tr *train.Train) { tr.Couplings[1].Flex[0] += 5 }, "low speed: its flex planes are at 3305 mm"},
		"growth": {func(tr *train.Train) { tr.Machines[0].Growth.V.Start += 0.1 },
			"high speed, running: growth, journal shift"},
		"condition": {func(tr *train.Train) { tr.Conditions[1].Name = "hot restart" },
			`the plan does not have the condition "hot restart"`},
		"other pack": {func(tr *train.Train) { tr.Machines[2].Feet[0].Pack += 0.3 },
			"compressor drive end left: the plan leaves a pack of"},
	} {
		t.Run(name, func(t *testing.T) {
			tr, plan := plannedTurbine(t)
			now := afterMoves(tr, plan, plan.Moves)
			now.Conditions = slices.Clone(now.Conditions)
			c.change(now)
			r := setBeside(t, plan, now)
			assert.Contains(t, strings.Join(pageOf(r).differences(), "\n"), c.want)
		})
	}
}

// Packs from before the moves are noticed.
func TestVerifyOldPacks(t *testing.T) {
	plan, now := stuckExample(t)
	for i := range now.Machines {
		for f := range now.Machines[i].Feet {
			now.Machines[i].Feet[f].Pack -= plan.Moves[i][f].Up
		}
	}
	r := setBeside(t, plan, now)
	assert.Equal(t, view.PacksOld, r.Packs)
	var txt bytes.Buffer
	require.NoError(t, VerifyText(&txt, r, Page{}))
	assert.Contains(t, flat(txt.String()), "the packs in the train file are those from before the moves")
}

// partOf is what stands under an anchor of the page of verify, as text; "" where there
// is no such part.
func partOf(t *testing.T, r *view.Verified, anchor string) string {
	t.Helper()
	page, err := VerifyDoc(r, Page{}, "plan.json", File{}, func(string) ([]*doc.Figure, error) { return nil, nil })
	require.NoError(t, err)
	for _, b := range page.Blocks {
		if s, is := b.(*doc.Section); is && s.Anchor == anchor {
			var out bytes.Buffer
			require.NoError(t, (&doc.Doc{Blocks: s.Blocks}).Text(&out, 80))
			return flat(out.String())
		}
	}
	return ""
}

// What the plan used up stands between the heading of what is left to do and the moves,
// on the page and in its section; without moves it stands with what to look at.
func TestVerifyUsedUpBesideTheMoves(t *testing.T) {
	plan, now := stuckExample(t)
	r := setBeside(t, plan, now)
	require.NotEmpty(t, r.UsedUp)
	var txt bytes.Buffer
	require.NoError(t, VerifyText(&txt, r, Page{}))
	_, left, is := strings.Cut(flat(txt.String()), "What to do now ---")
	require.True(t, is)
	before, _, is := strings.Cut(left, "From how the train stands now: move")
	require.True(t, is)
	assert.Empty(t, partOf(t, r, "differences"), "it is said once")
	section := partOf(t, r, "left")
	require.Contains(t, section, "BEFORE ANYTHING IS MOVED")
	for _, words := range pageOf(r).usedUp() {
		assert.Contains(t, before, flat(words))
		assert.Contains(t, section, flat(words))
		assert.Less(t, strings.Index(section, flat(words)), strings.Index(section, "From how the train stands now"))
	}
	all := setBeside(t, plan, afterMoves(example(t, "turbine"), plan, plan.Moves))
	require.True(t, all.Met())
	require.NotEmpty(t, all.UsedUp)
	assert.Contains(t, partOf(t, all, "differences"), flat(pageOf(all).usedUp()[0]))
}

// A plan for another train, or one that says too little, is refused.
func TestVerifyRefuses(t *testing.T) {
	plan, now := stuckExample(t)
	p := written(t, plan)
	now.Couplings[0].Name = "fast"
	_, faults, err := verifying(p, now)
	require.NoError(t, err)
	assert.Contains(t, faults.Text("plan"), `the plan has no coupling "fast"`)
	now.Couplings[0].Name = "high speed"
	p.Couplings[0].Rest = nil
	_, faults, err = verifying(p, now)
	require.NoError(t, err)
	assert.Contains(t, faults.Text("plan"), "the plan does not say how coupling \"high speed\" is to stand at rest")
	p.Couplings = nil
	_, faults, err = verifying(p, now)
	require.NoError(t, err)
	assert.Contains(t, faults.Text("plan"), "--plan PLAN.json --format json")
}

// Moves that somebody changed in the file of a plan no longer go with what it says
// of the couplings: whoever carried them out must not be accused of it.
func TestVerifyChangedByHand(t *testing.T) {
	tr, plan := plannedTurbine(t)
	for name, c := range map[string]struct {
		change func(*planjson.File, *train.Train)
		fault  string // "": none
		tells  string // among the differences
	}{
		"as written": {change: func(*planjson.File, *train.Train) {}},
		"one foot station 0.2 mm higher, which moves the coupling by 0.23 mm": {
			change: func(p *planjson.File, _ *train.Train) {
				for k := range 2 {
					add(&p.Machines[2].Feet[k].Up, 0.2)
					add(&p.Machines[2].Feet[k].Pack.Then, 0.2)
				}
				p.Plain = "" // as if it did not say
			},
			fault: `the moves of the plan do not bring coupling "low speed" to where the plan says`,
		},
		"a machine taken out": {
			change: func(p *planjson.File, _ *train.Train) {
				p.Machines, p.Plain = slices.Delete(p.Machines, 1, 2), ""
			},
			fault: `the moves of the plan do not bring coupling "high speed" to where the plan says`,
		},
		"a station a step higher, its packs as they were": {
			change: func(p *planjson.File, _ *train.Train) {
				add(&p.Machines[0].Feet[0].Up, 0.05)
				add(&p.Machines[0].Feet[1].Up, 0.05)
			},
			fault: `is to go up by 0.050 mm, and its pack changes by 0.000 mm`,
		},
		"a station two hundredths to the left": {
			change: func(p *planjson.File, _ *train.Train) {
				add(&p.Machines[0].Feet[0].Left, 0.02)
				add(&p.Machines[0].Feet[1].Left, 0.02)
			},
			fault: "one or the other was changed by hand",
		},
		"feet that stand 200 mm from where the plan has them": {
			change: func(_ *planjson.File, now *train.Train) {
				now.Machines[1].Feet[2].X += 200
				now.Machines[1].Feet[3].X += 200
			},
			tells: "low speed: with the feet and planes of the train file the moves of the plan do not bring it to where " +
				"the plan says",
		},
	} {
		t.Run(name, func(t *testing.T) {
			p, now := written(t, plan), afterMoves(tr, plan, plan.Moves)
			c.change(p, now)
			r, faults, err := verifying(p, now)
			require.NoError(t, err)
			if c.fault != "" {
				assert.Contains(t, faults.Text("plan"), c.fault)
				return
			}
			require.Nil(t, faults, faults.Text("plan"))
			if c.tells == "" {
				assert.Empty(t, r.Differences)
				assert.False(t, r.Verdict.Off)
				return
			}
			assert.Contains(t, pageOf(r).differences(), c.tells)
		})
	}
}

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

// Where many places explain what was read alike the page tells a few, and how many
// more there are.
func TestManySuspects(t *testing.T) {
	plan, now := stuckExample(t)
	r := setBeside(t, plan, now)
	s := r.Verdict.Suspects[0]
	r.Verdict.Suspects = slices.Repeat([]diagnose.Suspect{s}, 7)
	v := &verified{formatter: formatterOf(now), r: r}
	assert.Contains(t, v.places(r.Verdict.Suspects), "or 3 others (these readings can't tell which)")
	items := 0
	for _, b := range v.said(v.suspects)[0].(*doc.Section).Blocks {
		if list, is := b.(*doc.List); is {
			items += len(list.Items)
		}
	}
	assert.Equal(t, mostSuspects, items)
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

// What to do stands before why, and where bolts sit at feet that did not go is no fault of the file.
func TestVerifySaysFirstWhatToDo(t *testing.T) {
	plan, now := stuckExample(t)
	r := setBeside(t, plan, now)
	for _, u := range r.UsedUp {
		for _, f := range u.Feet {
			assert.False(t, u.Machine == 2 && (u.Kind == view.BoltsNearer || u.Kind == view.BoltsUnsaid) && f.Foot < 2)
		}
	}
	var b bytes.Buffer
	require.NoError(t, VerifyText(&b, r, Page{}))
	s := b.String()
	todo, why := strings.Index(s, "\nWhat to do now\n"), strings.Index(s, "\nDid the moves go as planned?\n")
	require.Positive(t, todo)
	require.Greater(t, why, todo)
	assert.Contains(t, flat(s[todo:why]), "Compressor at drive end left and right: it was to go left")
	assert.Contains(t, flat(s[todo:why]), "- Read low speed again, and run verify again: where the limits are met then, "+
		"nothing else needs to move.")
	assert.NotContains(t, flat(s[todo:why]), "the plan left them, drive end left")
}

// What uses a limit that is added up is said as check says it: by hand 0.666 of 0.15 mm and 0.43 of 1.2 mrad.
func TestVerifySaysWhatIsAddedUp(t *testing.T) {
	plan, now := stuckExample(t)
	r := setBeside(t, plan, now)
	s := &r.Couplings[0].Conditions[0]
	s.Now.Uses = []train.Use{{Kind: train.Offset, Limit: 0.15, Share: 0.666 / 0.15}, {Kind: train.Angle, Limit: 1.2,
		Share: 0.43 / 1.2}}
	s.Now.Sum = 0.666/0.15 + 0.43/1.2
	rows := pageOf(r).tripleOf(0, s).Rows
	assert.Equal(t, "480 %, outside", rows[0][3].Text)
	assert.Equal(t, "limits added up\noffset 444 %\nangle 36 %", rows[1][3].Text)
}
