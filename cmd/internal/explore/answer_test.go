package explore_test

import (
	"fmt"
	"net/http"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/testdata/trains"
)

// What stands on the page is what the command beside it prints, for every kind of question.
func TestPageSaysWhatTheCommandPrints(t *testing.T) {
	file := pairOrTurbine(t)
	s := serve(t, file)
	same := func(page string, at int) {
		t.Helper()
		plan := s.byCommand(page)
		total, ok := plan["total"].(float64)
		require.True(t, ok)
		assert.Contains(t, column(t, page, "total")[at], fmt.Sprintf("%.2f mm", total))
	}
	assert.Contains(t, s.settled(), fmt.Sprintf("total %.2f mm", s.byCommand(s.settled())["total"]))
	page := s.ask("what", "values", "coupling.0.limit.angle", "0.45", "machine.1.foot.0.hole", "40",
		"scale.machine.0.growth", "1.2")
	assert.Contains(t, page, "(changed)")
	assert.Contains(t, page, "growth at 0: up ", "times 1.2")
	same(page, 1)
	s.ask("what", "look", "case", "0")
	page = s.ask("what", "moves", "up.1.0", "0.85", "up.1.1", "0.65", "up.1.2", "0.6", "up.1.3", "0.4")
	assert.Contains(t, page, "IT DOES NOT HOLD")
	same(page, 2)
	if trains.Everything() {
		s.ask("what", "look", "case", "0")
		same(s.ask("what", "machine", "name", "compressor", "to", "hold"), 3)
		s.ask("what", "look", "case", "0")
		same(s.ask("what", "aim", "strategy", "least-total", "use", "50", "chance", ""), 4)
		s.ask("what", "look", "case", "0")
		same(s.ask("what", "aim", "strategy", "closest"), 5)
	}
}

func TestOptionIsTaken(t *testing.T) {
	s := serve(t, example(t, "base-bound"))
	page := s.settled()
	assert.Contains(t, page, "With an option")
	page = s.ask("what", "option", "number", "1")
	plan := s.byCommand(page)
	assert.Equal(t, "planned", plan["status"])
	assert.Contains(t, column(t, page, "total")[1], fmt.Sprintf("%.2f", plan["total"]))
}

// The gear can't be moved: what that costs. An option that releases it after all gives the plan of the file, and
// every option has a case of its own.
func TestOptionsOfAHeldMachineStandSideBySide(t *testing.T) {
	if !trains.Everything() {
		t.Skip("takes seconds: LEASTMOVE_TESTS=all")
	}
	s := serve(t, example(t, "turbine"))
	page := s.ask("what", "machine", "name", "gear", "to", "hold")
	assert.Contains(t, page, "No plan; 2 options.")
	assert.Contains(t, page, "no work order: there is nothing to carry out")
	assert.NotContains(t, page, "export/pdf")
	assert.Contains(t, page, "As asked, not to be moved: gear.")
	assert.Contains(t, page, "which is held. With that", "the file has no line that holds it")
	s.ask("what", "option", "number", "1")
	s.ask("what", "look", "case", "1")
	s.ask("what", "option", "number", "2")
	code, table := s.get("export/cases") // to be handed on, when all are answered
	assert.Equal(t, http.StatusOK, code)
	page = s.settled()
	total := column(t, page, "total")
	require.Len(t, total, 4)
	assert.Equal(t, total, column(t, table, "total"))
	assert.Equal(t, "–", total[1])
	assert.Equal(t, total[0], total[3])
	assert.Contains(t, column(t, page, "asked for")[3], "option 2: release gear, which is held")
	assert.Equal(t, "planned", s.byCommand(page)["status"])
	code, table = s.get("export/cases-pdf")
	assert.Equal(t, http.StatusOK, code)
	assert.True(t, strings.HasPrefix(table, "%PDF-"))
}

// Why a question is refused stands in the strip that stays in view, too.
func TestWhatIsRefusedIsSaidInView(t *testing.T) {
	s := serve(t, pair(t))
	page := s.ask("what", "aim", "strategy", "least-total", "use", "", "chance", "95")
	assert.Contains(t, page, `<p id="said">This can&#39;t be answered: --assure: the train file does not say how good`)
}
