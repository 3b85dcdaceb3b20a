package report

import (
	"bytes"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/optimize"
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
