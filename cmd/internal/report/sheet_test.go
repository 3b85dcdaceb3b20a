package report

import (
	"bytes"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/optimize"
	"leastmove/train"
)

func sheetText(t *testing.T, p *optimize.Plan, layout Page) string {
	t.Helper()
	s, err := Sheet(p, layout, "train.toml")
	require.NoError(t, err)
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
		golden(t, "relieved.sheet.md", []byte(sheetText(t, p, Page{Relieved: r})))
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
	assert.Regexp(t, `TAKE CARE: after this stage turbine .* is past its limit`, s)
	assert.Regexp(t, `TAKE CARE: a dial at .* would swing by [0-9.]+ mm, past a travel of 5.00 mm, in any order`, s)
}

func TestUnplanned(t *testing.T) {
	s := Unplanned(impossible(t))
	assert.Contains(t, s, "(proven). These cannot hold together:\n  - compressor drive end left: at most")
	s = Unplanned(undecided(t))
	assert.Contains(t, s, "it was not proven that there is none")
	assert.Contains(t, s, "--work NUMBER")
}

// A move that leaves a foot little room says how much, and one with plenty does not. By
// hand: of 31.25 mil between bolt and hole 31 are used, which rolls by 1 mil in 20 inches
// (0.05 mrad) do not change at the shim plane; of 12.5 mil of pack 12 come out.
func TestSheetLittleRoom(t *testing.T) {
	s := sheetText(t, plannedInch(t), Page{})
	assert.Contains(t, s, "| in | **right 31.0, river, then 0.2 to the bolt** |")
	assert.Contains(t, s, "| in left | **remove 12.0, 0.5 to go** |")
	assert.Contains(t, s, "| out left | **remove 12.0** |", "of 100 mil")
	s = sheetText(t, plannedMM(t), Page{})
	assert.Contains(t, s, "| far end | **left 0.20, then no more** |", "the travel is 0.2 mm")
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
		{0.4, "packs are 0.4 proud at in left, out right and 0.4 short at in right, out left.", "more than 2.0 mil is soft: stop."},
		{1.6, "packs are 1.6 proud at in left, out right and 1.6 short at in right, out left.", "At gear stop at over 2.6 mil: its packs leave up to 1.6, and reading a dial twice takes 1.0."},
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
		assert.Contains(t, s, "Soft foot left on purpose, not to be shimmed away: "+c.note)
	}
}

// Where next to nothing is left of a coupling's limits the sheet says so in words and
// has no number. By hand: 3 mil high, and 0.1 mil left of 3.1.
func TestSheetGateOfNothing(t *testing.T) {
	p := within(t)
	p.Train.Couplings[0].Found = train.Misalignment{V: train.Tilt{Offset: 3 * train.Mil}}
	for _, c := range []struct {
		limit float64 // mil
		has   string
	}{
		{3.1, "| no room ........ no room ........ |"},
		{2.9, "| no room ........ no room ........ |"},
		{4, "±0.89 ........ ±0.044 ........ |"}, // (sqrt(2 · 4² - 3²) - 3) / 2 = 0.898; less 1e-4 of 4
	} {
		p.Train.Couplings[0].Limit.Offset = c.limit * train.Mil
		s := sheetText(t, optimize.Try(p.Train, p.Train.Stay()), Page{})
		assert.Contains(t, s, c.has)
		assert.Equal(t, c.limit < 4, strings.Contains(s, "At \"motor coupling\" next to nothing is left"))
	}
}

// The chance of ending within limits stands in the head.
func TestSheetHeadHasTheChance(t *testing.T) {
	p := plannedMM(t)
	assert.NotContains(t, sheetText(t, p, Page{}), "chance")
	p.Sure = &optimize.Chance{Within: 0.3479, Draws: 20_000}
	const want = "With the errors that the file states the chance that all couplings are within all of their limits is 34.7 %."
	head, _, _ := strings.Cut(sheetText(t, p, Page{}), "## Before")
	assert.Contains(t, head, want)
	head, _, _ = strings.Cut(flat(textOf(t, p, Page{})), "Moves")
	assert.Contains(t, head, want)
}
