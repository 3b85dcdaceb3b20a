package explore_test

import (
	"regexp"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestChangesAreTakenBackOneByOne(t *testing.T) {
	s := serve(t, pair(t))
	s.settled()
	first := column(t, s.ask("what", "machine", "name", "pump", "to", "hold"), "total")[0]
	page := s.ask("what", "aim", "use", "60", "strategy", "least-total")
	ids := regexp.MustCompile(`name="id" value="(\d+)"`).FindAllStringSubmatch(page, -1)
	require.Len(t, ids, 2)
	page = s.ask("what", "undo", "id", ids[0][1])
	assert.Contains(t, page, `<code>leastmove plan pair.toml <span class="flag">--use</span> 0.6</code>`)
	s.ask("what", "name", "name", "kept") // a case that has a name stays without a change
	page = s.ask("what", "undo", "id", ids[1][1])
	assert.Equal(t, []string{first, first}, column(t, page, "total"))
	// One that was started by a question goes with its last one, and leaves others as they are.
	s.ask("what", "look", "case", "0")
	page = s.ask("what", "aim", "use", "60")
	assert.Len(t, column(t, page, "total"), 3)
	page = s.ask("what", "aim", "use", "", "chance", "90")
	assert.Len(t, column(t, page, "total"), 3)
	assert.Contains(t, page, `<span class="flag">--assure</span> 0.9</code>`)
	page = s.ask("what", "aim", "chance", "")
	assert.Len(t, column(t, page, "total"), 2)
	// A value that is typed as the file has it is no change.
	page = s.ask("what", "values", "machine.1.foot.0.hole", "40")
	assert.Contains(t, page, "hole 40")
	page = s.ask("what", "values", "machine.1.foot.0.hole", "")
	assert.NotContains(t, page, "hole 40")
}

func TestSixCasesStandSideBySide(t *testing.T) {
	s := serve(t, pair(t))
	for n, use := range []string{"95", "90", "85", "80", "75", "60"} {
		s.ask("what", "look", "case", "0")
		page := s.ask("what", "aim", "use", use)
		s.ask("what", "name", "name", "use "+use)
		assert.Len(t, column(t, page, "total"), n+2)
	}
	page := s.settled()
	assert.Contains(t, page, "use 95")
	shares := column(t, page, "share of limit")
	assert.Len(t, shares, 7)
	assert.NotContains(t, shares, "–")
	s.ask("what", "look", "case", "0")
	page = s.ask("what", "aim", "use", "50")
	assert.Contains(t, page, "take one away first")
	assert.Len(t, column(t, page, "total"), 7)
}
