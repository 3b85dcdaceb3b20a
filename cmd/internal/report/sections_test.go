package report

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What a page says comes out as data with nothing lost: a caption stays with the
// one table that it names, several tables get their own, lists stay together.
func TestSectioned(t *testing.T) {
	p := &page{}
	p.heading("Moves")
	p.paragraph("", "Left is left.")
	p.caption("", "motor: held")
	p.blank()
	p.caption("", "pump")
	p.grid(grid{rows: [][]string{{"foot", "shims"}, {"a", "1"}, {"", "2"}}, wraps: make([]bool, 2)})
	p.caption("", "coupling")
	p.grid(grid{rows: [][]string{{"running", "before"}, {"use", "3"}, {"", ""}, {"cold", "before"}, {"use", "4"}}, wraps: make([]bool, 2)})
	p.list([]string{"one", "two"})
	p.paragraph("", "Then:")
	p.item("1. ", "first")
	p.item("   ", "of the first")
	p.grid(grid{rows: [][]string{{"machine", "foot", "up"}, {"pump", "a", "1"}}, wraps: make([]bool, 3), names: 2})

	s := sectioned(p.said)
	require.NotNil(t, s)
	assert.Equal(t, "Moves", s.Heading)
	require.Len(t, s.Blocks, 10)
	assert.Equal(t, "Left is left.", s.Blocks[0].Words)
	assert.Equal(t, "motor: held", s.Blocks[1].Heading)
	pump := s.Blocks[2].Table
	assert.Equal(t, "pump", pump.Caption)
	assert.Equal(t, [][]string{{"a", "1: 2"}}, pump.Rows, "a row without a name goes on with the one above")
	assert.Equal(t, "coupling", s.Blocks[3].Heading, "two tables follow: it is over both")
	assert.Equal(t, "running", s.Blocks[4].Table.Caption)
	assert.Equal(t, []string{"", "before"}, s.Blocks[4].Table.Header)
	assert.Equal(t, "cold", s.Blocks[5].Table.Caption)
	assert.Equal(t, &List{Items: [][]string{{"one"}, {"two"}}}, s.Blocks[6].List)
	assert.Equal(t, &List{Ordered: true, Items: [][]string{{"first", "of the first"}}}, s.Blocks[8].List)
	last := s.Blocks[9].Table
	assert.Equal(t, 2, last.Names)
	assert.Equal(t, "Moves", last.Caption)
	assert.True(t, last.Implied)

	assert.Nil(t, sectioned(nil), "nothing said, no section")
}
