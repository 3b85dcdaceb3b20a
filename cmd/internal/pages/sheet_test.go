package pages

import (
	"bytes"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/cmd/internal/planjson"
	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
	"leastmove/optimize"
	"leastmove/optimize/staging"
	"leastmove/testdata/trains"
	"leastmove/train"
)

func sheetText(t *testing.T, p *optimize.Plan, layout Page) string {
	t.Helper()
	layout.Released = true // what is held of a plan by its verdict is TestSheetHeadHasTheVerdict's
	return sheetOf(t, view.Of(p), layout)
}

func sheetUnder(t *testing.T, p *optimize.Plan, r *view.Relieved) string {
	t.Helper()
	return sheetOf(t, under(p, r), Page{})
}

func sheetOf(t *testing.T, p *view.Plan, layout Page) string {
	t.Helper()
	var err error
	layout.Number, err = planjson.NumberOf(p, &layout.Input, Texts{})
	require.NoError(t, err)
	s := Sheet(p, layout, "train.toml", nil)
	var b bytes.Buffer
	require.NoError(t, s.Markdown(&b))
	return b.String()
}

func TestSheetGolden(t *testing.T) {
	for name, p := range handmade(t) {
		if p.Moves == nil {
			continue // no sheet
		}
		t.Run(name, func(t *testing.T) { golden(t, name+".sheet.md", []byte(sheetText(t, p, Page{}))) })
	}
	t.Run("relieved", func(t *testing.T) {
		p, r := relieved(t)
		golden(t, "relieved.sheet.md", []byte(sheetUnder(t, p, r)))
	})
	t.Run("read", func(t *testing.T) {
		tr := read(t, "read.toml")
		moves := tr.Stay()
		for f := range moves[1] {
			moves[1][f].Up = 0.25
		}
		golden(t, "read.sheet.md", []byte(sheetText(t, optimize.Try(tr, moves), Page{})))
	})
}

// The turbine comes up by 0.30 and toward its own end by 0.40, and the compressor
// up by 0.45 and left: by hand from what plannedMM moves.
func TestSheetByHand(t *testing.T) {
	s := sheetText(t, plannedMM(t), Page{})
	for _, want := range []string{
		"toward the turbine end: the whole machine",
		"**raise 0.30** | 4.00 -> 4.30 |",
		"| **up 0.30** |",
		"Couplings open, and they stay open",
	} {
		assert.Contains(t, s, want)
	}
}

// Feet that are too soft to align on are put right and nothing else is moved; a
// sheet without moves says that there are none.
func TestSheetWithoutMoves(t *testing.T) {
	p := softened(t)
	require.True(t, p.Provisional())
	s := sheetText(t, p, Page{})
	assert.Contains(t, s, "SOFT FOOT FIRST")
	assert.NotContains(t, s, "Stage 1")
	assert.Contains(t, s, "read every coupling again")
	s = sheetText(t, within(t), Page{})
	assert.Contains(t, s, "NOTHING IS TO BE MOVED")
	assert.NotContains(t, s, "Stage 1")
}

// Limits and dials that no order spares are called out at the stage that passes
// them.
func TestSheetTakesCare(t *testing.T) {
	p := plannedMM(t)
	for f := range p.Moves[0] {
		p.Moves[0][f].Up, p.Moves[0][f].Left = 9, 4 // the file lets no foot go so far
	}
	s := sheetText(t, optimize.Try(p.Train, p.Moves), Page{})
	assert.Regexp(t, `TAKE CARE: in this stage turbine .* goes past its limit`, s)
	assert.Regexp(t, `TAKE CARE: a dial at .* would swing by [0-9.]+ mm, past a travel of 5.00 mm, in any order`, s)
}

func TestUnplanned(t *testing.T) {
	s := Unplanned(view.Of(impossible(t)))
	assert.Contains(t, s, "(proven). These cannot hold together:\n  - compressor drive end left: at most")
	s = Unplanned(view.Of(undecided(t)))
	assert.Contains(t, s, "it was not proven that there is none")
	assert.Contains(t, s, "--work NUMBER")
}

// A move that leaves a foot little room says how much, and one with plenty does not. By
// hand: of 31.25 mil between bolt and hole 31 are used, which rolls by 1 mil in 20 inches
// (0.05 mrad) do not change at the shim plane; of 12.5 mil of pack 12 come out.
func TestSheetLittleRoom(t *testing.T) {
	s := sheetText(t, plannedInch(t), Page{})
	assert.Contains(t, s, "| **right 31.0, river, then 0.2 to the bolt** |")
	assert.Contains(t, s, "in left | **remove 12.0, 0.5 to go** |")
	assert.Contains(t, s, "out left | **remove 12.0** |", "of 100 mil")
	s = sheetText(t, plannedMM(t), Page{})
	assert.Contains(t, s, "| **left 0.20, then no more** |", "the travel is 0.2 mm")
	p := plannedMM(t)
	for f := range p.Train.Machines[2].Feet {
		p.Train.Machines[2].Feet[f].TravelLeft = 0.215
	}
	assert.Contains(t, sheetText(t, p, Page{}), "**left 0.20, then 0.01 of its travel**", "rounded down")
}

// Soft foot that packs leave on purpose is told where the packs are made, and the stop at
// the end is above it by two steps of a dial. By hand: four feet at the corners, of which
// one is 0.4 mil higher, leave residuals of 0.1 and leverages of 3/4, so 0.4 mil at each;
// with 1.6 mil it is 1.6, and the stop 2.6 in place of 2.
func TestSheetSoftOnPurpose(t *testing.T) {
	const mil = train.Mil
	for _, c := range []struct {
		up         float64 // mil
		note, stop string
	}{
		{0.1, "", "more than 2.0 mil is soft: stop."},
		{0.4, "0.4 too thick at 5, 8 and 0.4 too thin at 6, 7.", "more than 2.0 mil is soft: stop."},
		{1.6, "1.6 too thick at 5, 8 and 1.6 too thin at 6, 7 (tightening: 2.6 at most).",
			"more than 2.0 mil, or than its stage says, is soft: stop."},
	} {
		p := plannedInch(t)
		for f := range p.Moves[1] {
			p.Moves[1][f] = train.FootMove{Up: -5 * mil}
		}
		p.Moves[1][0].Up += c.up * mil
		s := sheetText(t, optimize.Try(p.Train, p.Moves), Page{})
		assert.Contains(t, s, c.stop)
		if c.note == "" {
			assert.NotContains(t, s, "on purpose")
			continue
		}
		assert.Contains(t, s, "Left soft on purpose, not to be shimmed: "+c.note)
	}
}

// Where next to nothing is left of a coupling's limits the sheet says so in words. By hand: 3 mil high, and 0.1 mil
// left of 3.1. With 4 there is (sqrt(2 · 4² - 3²) - 3) / 2 = 0.898 left, less than the 1 mil that a reading tells.
func TestSheetAcceptanceOfNothing(t *testing.T) {
	p := within(t)
	p.Train.Couplings[0].Found = train.Misalignment{V: train.Tilt{Offset: 3 * train.Mil}}
	for _, limit := range []float64{3.1, 2.9, 4} { // mil
		p.Train.Couplings[0].Limit.Offset = limit * train.Mil
		s := sheetText(t, optimize.Try(p.Train, p.Train.Stay()), Page{})
		assert.Contains(t, s, "motor coupling: ±1.0 mil, ±0.05 mrad")
		assert.Equal(t, limit < 4, strings.Contains(s, "NO MARGIN at \"motor coupling\": this plan uses up"))
	}
}

// The verdict stands in the head. A plan that is marginal or not advised ends at one hold box, and has its moves and
// stages below that box only where the engineer has released it.
func TestSheetHeadHasTheVerdict(t *testing.T) {
	p := plannedMM(t)
	head, _, _ := strings.Cut(sheetText(t, p, Page{}), "## Before")
	assert.Contains(t, head, "NOT JUDGED: the file does not state how good its readings are.")
	assert.NotContains(t, head, "HOLD")
	trains.Stated(p.Train)
	p.Train.Errors = train.Errors{Offset: 0.02, Growth: 0.2}
	for _, c := range []struct {
		chance     float64
		says, hold string
	}{
		{0.3479, "NOT ADVISED: 34.7 % chance of ending within all limits (95 % wanted).", "HOLD: this plan is not advised"},
		{0.85, "MARGINAL: 85.0 % chance of ending within all limits (95 % wanted).", "HOLD: this plan is marginal"},
		{0.96, "CARRY OUT: 96.0 % chance of ending within all limits (95 % wanted).", ""},
	} {
		p.Probability = &optimize.Probability{Within: c.chance, Draws: 20_000}
		for _, released := range []bool{false, true} {
			s := sheetOf(t, view.Of(p), Page{Released: released})
			assert.Equal(t, 1, strings.Count(s, c.says), "once")
			head, _, _ := strings.Cut(s, "## Before")
			assert.Contains(t, head, c.says)
			assert.Equal(t, min(1, len(c.hold)), strings.Count(s, "HOLD"))
			assert.Contains(t, s, c.hold)
			shown := released || c.hold == ""
			for _, words := range []string{"## Stage 1 of", "raise 0.30", "Released by"} {
				assert.Equal(t, shown, strings.Contains(s, words), "%s %g", words, c.chance)
			}
			assert.Equal(t, !shown, strings.Contains(s, "NOTHING IS TO BE MOVED YET"))
			if shown {
				assert.Less(t, strings.Index(s, c.hold), strings.Index(s, "## Stage"))
			}
		}
		head, _, _ = strings.Cut(flat(textOf(t, p, Page{})), "Couplings")
		assert.Contains(t, head, c.says)
	}
}

// With an option the sheet ends at one hold point: it has no moves. Where that disturbs the readings they are taken
// again.
func TestSheetHoldPoint(t *testing.T) {
	p, r := relieved(t)
	s := sheetUnder(t, p, r)
	after := -1
	for _, words := range []string{
		"Locked out, tagged out", "ONE bolt at a time", "HOLD POINT: not without the engineer",
		"Lifting as the site has agreed it; pipes supported or disconnected", "Make 0.35 mm of room", "soft foot and pipe strain again",
		"Readings taken before are void", "read every coupling again",
	} {
		at := strings.Index(s, words)
		assert.Greater(t, at, after, words)
		after = at
	}
	assert.Equal(t, 1, strings.Count(s, "HOLD POINT"))
	for _, words := range []string{"Stage 1", "raise 0", "remove 0", "rovisional"} {
		assert.NotContains(t, s, words, "nothing that the crew must not use")
	}

	r.Edits = []optimize.Edit{{Machine: 2, Foot: -1, Coupling: -1, Key: "roll", To: 1}}
	s = sheetUnder(t, p, r)
	assert.Contains(t, s, "HOLD POINT")
	assert.NotContains(t, s, "Stage 1")
	assert.NotContains(t, s, "read every coupling again", "no machine is touched by it")
}

// A plan that leaves nothing of a coupling's limits says so before the first stage, at
// the stages of the machines on both sides of it and at the end: "low speed" is between
// gear, which stays, and compressor.
func TestSheetNothingInHand(t *testing.T) {
	p := plannedMM(t)
	s := sheetText(t, p, Page{})
	assert.NotContains(t, s, "NO MARGIN")
	reading := &p.Planned.Couplings[1][0]
	for n := range reading.Uses {
		reading.Uses[n].Limit = 1e-9
	}
	s = sheetText(t, p, Page{})
	const want = "NO MARGIN at \"low speed\": this plan uses up the limits there. Not for carrying " +
		"out before the engineer says so."
	stages := strings.Split(s, "\n## ")
	var at []string
	for _, block := range stages {
		if strings.Contains(block, want) {
			heading, _, _ := strings.Cut(block, "\n")
			at = append(at, heading)
		}
	}
	assert.Equal(t, []string{"Read every coupling, cold and at standstill",
		"Stage 2 of 2, compressor: packs, then sideways",
		"All stages done: tighten, and read everything again"}, at)
}

// Packs of which the file has no pieces are among what to have at hand, and those of
// which it has not even the height are to be measured.
func TestSheetPacksToMake(t *testing.T) {
	p := plannedMM(t)
	assert.Contains(t, sheetText(t, p, Page{}), "Packs to be made, pieces not stated: 4 of 3.45 and 4 of 4.30.",
		"3.00 + 0.45, 4.00 + 0.30")
	for f := range p.Train.Machines[2].Feet {
		p.Train.Machines[2].Feet[f].Pack = math.NaN()
		p.Moves[2][f].Up = -0.1
	}
	assert.Contains(t, sheetText(t, p, Page{}), "Packs to be made, pieces not stated: 4 of 4.30. Packs to be "+
		"measured first, not stated: 4.")
}

// Shaft ends are told as a crew reads them, and what that is rounded by comes off what
// they may be off by: by hand, 400.23 is 0.02 from 400.25, and 0.08 - 0.02 = 0.06 is a step of 0.05. Less than a step
// is not asked for.
func TestSheetShaftEnds(t *testing.T) {
	g := &order{formatter: formatterFor(view.Of(plannedMM(t)))}
	w := &view.WorkCoupling{AcceptanceTolerance: staging.AcceptanceTolerance{Gap: 0.08}}
	n, off := g.Apart(400.23)
	assert.Equal(t, words.Number("400.25"), n)
	assert.InDelta(t, 0.02, off, 1e-9)
	assert.Equal(t, "±0.05 mm", g.endsWithin(w, 400.23))
	w.Gap = 0.06
	assert.Equal(t, "no room: the engineer decides", g.endsWithin(w, 400.23))
	inches := words.Numbers{Units: train.Inches}
	n, _ = inches.Apart(15.7512 * 25.4)
	assert.Equal(t, words.Number("15.752"), n)
}

// Acceptance is in figures that a crew reads, rounded down, less what printed numbers are rounded by: by hand, 0.0294
// and 0.0587 less half of 0.001.
func TestSheetAcceptance(t *testing.T) {
	p := view.Of(plannedMM(t))
	g := &order{formatter: formatterFor(p), work: &view.WorkOrder{Couplings: make([]view.WorkCoupling, 2)}}
	w := &g.work.Couplings[0]
	*w = view.WorkCoupling{AcceptOffset: 0.0294, AcceptAngle: 0.0587}
	assert.Equal(t, "±0.02 mm, ±0.05 mrad", g.accepted(0))
	w.AcceptOffset, w.AcceptAngle, w.EngineerDecides = 0.02, 0.05, true
	assert.Equal(t, "±0.02 mm, ±0.05 mrad *", g.accepted(0))
	*w = view.WorkCoupling{AcceptDials: 0.0359, Instruments: []view.Instrument{{Dial: &train.Dial{Kind: train.RimDial}}}}
	assert.Equal(t, "dials ±0.03 mm, at 6 twice that", g.accepted(0))
}

// Within what it may be off by the crew goes on; after the last stage it is done. What was not read is no part of it.
func TestStageWordGoesOn(t *testing.T) {
	plan := view.Of(plannedMM(t))
	stages := []view.WorkStage{{Stage: &staging.Stage{Machine: 0}}, {Stage: &staging.Stage{Machine: 1}}}
	c := &view.StageCheck{Order: &view.WorkOrder{Plan: plan, Stages: stages}, GoOn: true,
		Couplings: []view.StageCoupling{{Read: true, Within: true}, {Read: true, Within: true}}}
	word := func() string { return StageWord(c, &view.Verified{}) }
	assert.Contains(t, word(), "GO ON with the next stage: every coupling")
	c.Couplings[1].Read = false // not at the machine of the stage
	assert.Contains(t, word(), "GO ON with the next stage: what was read")
	assert.Contains(t, word(), `Not all were read; not read: "`+plan.Train.Couplings[1].Name+`"`)
	c.Stage = 1
	assert.Contains(t, word(), `READ ON: `)
	assert.Contains(t, word(), `Not read: "`+plan.Train.Couplings[1].Name+`".`)
	c.Couplings[1].Read = true
	assert.Contains(t, word(), "DONE")
}

// Nothing was moved: after the first stage the row that is off is marked, and the reading that is off most is named; a
// coupling that was not read is neither right nor wrong. Limits are no word of it.
func TestStageSaysWhichRowIsOff(t *testing.T) {
	work := view.Order(view.Of(plannedMM(t)))
	require.Greater(t, len(work.Stages), 1)
	read := make([]bool, len(work.Couplings))
	at := min(work.Stages[0].Stage.Machine, len(read)-1)
	read[at] = true
	c := work.CheckStage(0, work.Train, read, read)
	require.False(t, c.GoOn)
	var b strings.Builder
	require.NoError(t, StageDoc(c, &view.Verified{}).Text(&b, 160))
	text := b.String()
	assert.NotContains(t, strings.ToLower(text), "limit")
	assert.Contains(t, text, "against the work order")
	marks := map[bool]string{true: "OK", false: "OFF"}
	k := &c.Couplings[at]
	assert.Regexp(t, ` up .* `+marks[k.Up]+`\n`, text)
	assert.Regexp(t, ` left .* `+marks[k.Left]+`\n`, text)
	for i := range c.Couplings {
		if i != at {
			assert.Regexp(t, work.Train.Couplings[i].Name+` .*not read.*not read`, text)
		}
	}
}

// Each page says what the plan is, where it is not simply to be carried out.
func TestSheetStateOnEachPage(t *testing.T) {
	state := func(p *view.Plan) string { return Sheet(p, Page{Released: true}, "train.toml", nil).State }
	p := plannedMM(t)
	assert.Equal(t, "NOT JUDGED", state(view.Of(p)))
	trains.Stated(p.Train)
	p.Train.Errors = train.Errors{Offset: 0.02, Growth: 0.2}
	for chance, want := range map[float64]string{0.35: "NOT ADVISED", 0.85: "MARGINAL", 0.96: ""} {
		p.Probability = &optimize.Probability{Within: chance, Draws: 20_000}
		assert.Equal(t, want, state(view.Of(p)))
	}
	assert.Equal(t, "PROVISIONAL", state(view.Of(softened(t))))
	q, r := relieved(t)
	assert.Equal(t, "HOLD POINT", state(under(q, r)))
}
