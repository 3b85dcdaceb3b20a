package pages

import (
	"bytes"
	"math"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/cmd/internal/doc"
	"leastmove/cmd/internal/view"
	"leastmove/testdata/trains"
	"leastmove/train"
)

func TestGoldenShortPages(t *testing.T) {
	for name, p := range handmade(t) {
		t.Run(name, func(t *testing.T) {
			page := laidOut(t, p, Page{})
			golden(t, name+".short.txt", []byte(page))
			for _, line := range strings.Split(page, "\n") {
				assert.LessOrEqual(t, utf8.RuneCountInString(line), 80, line)
				assert.Equal(t, strings.TrimRight(line, " "), line)
			}
		})
	}
}

// The short page fits one screen: 60 lines for three machines, 75 for four, 90 for five, of 80 columns.
func TestShortPageIsShort(t *testing.T) {
	for _, c := range []struct {
		file  string
		lines int
	}{{"turbine", 60}, {"survey", 75}, {"reverse-dials", 75}, {"five-machines", 90}}[:trains.Draws(2, 4)] {
		p := planFrom(t, c.file)
		warnings := make([]view.Warning, 20)
		for n := range warnings {
			warnings[n] = view.Warning{Line: n + 1, Message: strings.Repeat("a doubtful word ", 9)}
		}
		var b bytes.Buffer
		require.NoError(t, Text(&b, p, Page{Input: view.Input{Warnings: warnings}}))
		page := b.String()
		assert.LessOrEqual(t, strings.Count(page, "\n"), c.lines, page)
		for _, line := range strings.Split(page, "\n") {
			assert.LessOrEqual(t, utf8.RuneCountInString(line), 80, line)
		}
		for _, heading := range []string{"Moves", "Couplings", "Read cold", "What limits", "Other plans",
			"Check these inputs (6 of"} {
			assert.Contains(t, page, "\n"+heading)
		}
	}
}

// What a supervisor must hear at once is at the head: the gear rolls by 0.244 mrad and its shim packs leave
// 0.10 mm at the left up and as much at the right down, which is flat: a foot 0.01 mm too thick is all of it.
func TestHeadlineSaysWhatRolls(t *testing.T) {
	head, _, _ := strings.Cut(laidOut(t, rolled(t), Page{}), "\nMoves")
	head = flat(head)
	assert.Contains(t, head, "Move 1 of 3 machines: total 0.40 mm over 4 feet, largest move 0.10 mm;")
	assert.Contains(t, head, "- gear rolls by 0.244 mrad, left side up")
	assert.Contains(t, head, "condition cold start may use 150 % of the stated limits")
	assert.Contains(t, head, "soft foot at gear")
}

// Conditions that may use the same are said in one line.
func TestHeadlineNamesWidenedConditionsTogether(t *testing.T) {
	p := rolled(t)
	for k := range p.Train.Conditions {
		p.Train.Conditions[k].Use = 1.5
	}
	head, _, _ := strings.Cut(laidOut(t, p, Page{}), "\nMoves")
	assert.Equal(t, 1, strings.Count(flat(head), "may use 150 % of the stated limits"), head)
	assert.Contains(t, flat(head), "every condition may use 150 % of the stated limits")
}

// A row is a foot, or a pair that gets the same; machines that stay are named once.
func TestMovesInOneTable(t *testing.T) {
	s := laidOut(t, plannedMM(t), Page{})
	_, s, _ = strings.Cut(s, "\nMoves")
	s, _, _ = strings.Cut(s, "\nCouplings")
	s = flat(s)
	assert.Contains(t, s, "compressor drive end, both raise 0.45")
	assert.Contains(t, s, "far end, both raise 0.45")
	assert.Equal(t, 4, strings.Count(s, "raise"), "two pairs of two machines")
	assert.Contains(t, s, "Turbine: along the train 0.40 mm, toward the turbine end.")
	assert.Contains(t, s, "Held, may not be moved: gear.")
}

// The gap at a face by hand: a shaft that slopes up by 0.5 mrad opens the gap at the bottom by
// 0.5 × 240 / 1000 = 0.12 mm on 240 mm; one that points left opens it at the right.
func TestGapAtTheFace(t *testing.T) {
	p := plannedMM(t)
	c := &p.Train.Couplings[1]
	c.Targets = []train.Dial{{Kind: train.FaceDial, Radius: 120, X: math.NaN()}}
	v := view.Of(p)
	require.Len(t, v.Summary.Faces, 1)
	f, r := v.Summary.Faces[0], v.AtRest[1]
	assert.Equal(t, 240.0, f.Diameter)
	assert.InDelta(t, -0.24*r.V.Angle, f.Top, 1e-12)
	assert.InDelta(t, -0.24*r.H.Angle, f.Left, 1e-12)
	require.NotZero(t, r.V.Angle)
	side := map[bool]string{true: "at the bottom", false: "at the top"}[r.V.Angle > 0]
	assert.Contains(t, flat(laidOut(t, p, Page{})), side)
	assert.Regexp(t, `gap on 240 mm wider by [\d.]+ `+side, flat(laidOut(t, p, Page{Full: true})))
}

// Beside the angles after the moves stands the gap, where a diameter is stated.
func TestGapAtTheFaceAfterTheMoves(t *testing.T) {
	_, _, r := stuckBeside(t)
	s := &r.Couplings[0].Conditions[0]
	s.Now.V.Angle, s.Now.H.Angle, s.Planned.V.Angle = 0.5, -0.25, math.NaN()
	const row = "gap on 240 mm, wider by"
	named := func() int {
		return slices.IndexFunc(pageOf(r).tripleOf(0, s).Rows, func(c []doc.Cell) bool { return c[0].Text == row })
	}
	require.Equal(t, -1, named())
	r.Train.Couplings[0].Targets = []train.Dial{{Kind: train.FaceDial, Radius: 120, X: math.NaN()}}
	require.GreaterOrEqual(t, named(), 0)
	cells := pageOf(r).tripleOf(0, s).Rows[named()]
	assert.Equal(t, "not known", cells[2].Text)
	assert.Equal(t, "0.120 at the bottom\n0.060 at the left", cells[3].Text)
}

// Parts that are asked for are on the page, in its order, and no others; each part of the full page
// has a name.
func TestPartsByName(t *testing.T) {
	s := laidOut(t, plannedMM(t), Page{Show: []string{"limits", "moves"}})
	assert.Less(t, strings.Index(s, "\nMoves\n"), strings.Index(s, "\nWhat limits the plan\n"))
	assert.Equal(t, 2, strings.Count(s, "\n---"))
	assert.Contains(t, laidOut(t, plannedMM(t), Page{Show: []string{"chance"}}),
		"There is nothing of this for this plan (chance).")
	for name, p := range handmade(t) {
		names, about := PlanParts()
		require.Len(t, about, len(names))
		for _, line := range strings.Split(textOf(t, p, Page{}), "\n---") {
			heading := line[strings.LastIndex("\n"+line, "\n"):]
			if !strings.Contains(textOf(t, p, Page{}), heading+"\n---") {
				continue
			}
			assert.Contains(t, laidOut(t, p, Page{Show: names}), heading, name)
		}
	}
}

// A verdict has its reason and the next step.
func TestVerdictInWords(t *testing.T) {
	p := plannedMM(t)
	p.Train.Errors = train.Errors{Offset: 0.02}
	for i := range p.Train.Machines {
		p.Train.Machines[i].Growth.Worked = true
	}
	for _, c := range []struct {
		within float64
		want   string
	}{
		{0.96, "CARRY OUT: 96.0 % chance of ending within all limits (95 % wanted)."},
		{0.949, "MARGINAL: 94.9 % chance"}, {0.79, "NOT ADVISED: 79.0 % chance"},
	} {
		v := view.Of(p)
		v.Verdict.Chance, v.Verdict.Wanted = c.within, 0.95
		v.Verdict.Reason = map[bool]view.VerdictReason{true: view.ChanceKept, false: view.ChanceShort}[c.within >= 0.95]
		if c.within < 0.8 {
			v.Verdict.Reason = view.ChanceLow
		}
		v.Verdict.Next = nil
		var b bytes.Buffer
		require.NoError(t, Text(&b, v, Page{}))
		assert.Contains(t, flat(b.String()), c.want)
	}
	p.Train.Errors = train.Errors{}
	assert.Contains(t, flat(laidOut(t, p, Page{})), "NOT JUDGED: the file does not state how good its readings are. "+
		"Next: state [errors]")
}

// Where no plan exists the options stand before the conflict.
func TestOptionsBeforeTheConflict(t *testing.T) {
	s := laidOut(t, advised(t), Page{})
	options, conflict := strings.Index(s, "\nOptions\n"), strings.Index(s, "\nConflict\n")
	require.Positive(t, options)
	assert.Less(t, options, conflict)
	assert.NotContains(t, s, "Lock out")
}

// A chance that was not reached is the answer: no moves that would be carried out.
func TestNoMovesWhereTheChanceIsNotReached(t *testing.T) {
	p := assured(t)
	p.ChanceConstraint.Reached = false
	s := laidOut(t, p, Page{})
	assert.Contains(t, flat(s), "NOT REACHED: a chance of 95 %")
	assert.NotContains(t, s, "\nMoves")
	assert.Contains(t, flat(s), "with a plan that moves 2 of 4 machines, total 5.40 mm")
	assert.Contains(t, s, "- half the error of growth and journal shift of compressor: 98.0 %")
}

// A line that is too long ends at a clause, else at a word.
func TestOneLine(t *testing.T) {
	text := &planText{page: page{width: 42}, formatter: formatterOf(read(t, "mm.toml"))}
	assert.Equal(t, "short", text.oneLine("short"))
	assert.Equal(t, "the limits may be exceeded here", text.oneLine("the limits may be exceeded here; and more of it"))
	assert.Equal(t, "one two three four five six seven ...",
		text.oneLine("one two three four five six seven eight nine ten"))
}
