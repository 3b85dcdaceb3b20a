package pages

import (
	"bytes"
	"context"
	"encoding/json"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/cmd/internal/doc"
	"leastmove/cmd/internal/view"
	"leastmove/optimize"
	"leastmove/optimize/diagnose"
	"leastmove/optimize/ways"
	"leastmove/testdata/trains"
	"leastmove/train"
)

func TestVerifyGolden(t *testing.T) {
	_, now, r := stuckBeside(t)
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
	asked, err := view.Ask(context.Background(), nil, now, short, 0, 0)
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
		asked, err := view.Ask(context.Background(), nil, now, short, 0, 0)
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
	plan, _, r := stuckBeside(t)
	require.NotEmpty(t, r.UsedUp)
	var txt bytes.Buffer
	require.NoError(t, VerifyText(&txt, r, Page{}))
	_, left, is := strings.Cut(flat(txt.String()), "What to do now ---")
	require.True(t, is)
	before, _, is := strings.Cut(left, "From where the train is now: move")
	require.True(t, is)
	assert.Empty(t, partOf(t, r, "differences"), "it is said once")
	section := partOf(t, r, "left")
	require.Contains(t, section, "BEFORE ANYTHING IS MOVED")
	for _, words := range pageOf(r).usedUp() {
		assert.Contains(t, before, flat(words))
		assert.Contains(t, section, flat(words))
		assert.Less(t, strings.Index(section, flat(words)), strings.Index(section, "From where the train is now"))
	}
	all := setBeside(t, plan, afterMoves(example(t, "turbine"), plan, plan.Moves))
	require.True(t, all.Met())
	require.NotEmpty(t, all.UsedUp)
	assert.Contains(t, partOf(t, all, "differences"), flat(pageOf(all).usedUp()[0]))
}

// Where many places explain what was read alike the page tells a few, and how many
// more there are.
func TestManySuspects(t *testing.T) {
	_, now, r := stuckBeside(t)
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

// What to do stands before why, and where bolts sit at feet that did not go is no fault of the file.
func TestVerifySaysFirstWhatToDo(t *testing.T) {
	_, _, r := stuckBeside(t)
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
	_, _, r := stuckBeside(t)
	s := &r.Couplings[0].Conditions[0]
	s.Now.Uses = []train.Use{{Kind: train.Offset, Limit: 0.15, Share: 0.666 / 0.15}, {Kind: train.Angle, Limit: 1.2,
		Share: 0.43 / 1.2}}
	s.Now.Sum = 0.666/0.15 + 0.43/1.2
	rows := pageOf(r).tripleOf(0, s).Rows
	assert.Equal(t, "480 %, outside", rows[0][3].Text)
	assert.Equal(t, "limits added up\noffset 444 %\nangle 36 %", rows[1][3].Text)
}
