package explore_test

import (
	"net/http"
	"net/url"
	"os"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/testdata/trains"
	"leastmove/train/trainfile/rewrite"
)

// The readings of the example after its moves, one of which did not go: the page finds it, as
// verify does, and plans from there.
func TestWorkIsFollowed(t *testing.T) {
	if !trains.Everything() {
		t.Skip("takes seconds: LEASTMOVE_TESTS=all")
	}
	s := serve(t, example(t, "turbine"))
	page := s.settled()
	stages := regexp.MustCompile(`<option value="(\d)"[^>]*>(Stage \d of (\d)[^<]*)<`).FindAllStringSubmatch(page, -1)
	require.NotEmpty(t, stages)
	last := stages[len(stages)-1]
	text, err := os.ReadFile("../../../examples/turbine/after.toml")
	require.NoError(t, err)
	after, err := rewrite.Open(text)
	require.NoError(t, err)
	form := url.Values{"stage": {last[1]}}
	names := regexp.MustCompile(`name="read\.([^"]*)"`).FindAllStringSubmatch(page, -1)
	require.Len(t, names, 13)
	for _, n := range names {
		form.Set("read."+n[1], after.Value(regexp.MustCompile(`\.`).Split(n[1], -1)...))
	}
	code, page := s.post("read", form)
	require.Equal(t, http.StatusOK, code)
	assert.Contains(t, page, "STOP: a coupling is not where this stage should bring it.")
	assert.Contains(t, page, "it was to go left 0.22")
	assert.Contains(t, page, "did not go")
	// What a coupling may be off by is what the work order says of it.
	_, sheet, _ := run("sheet", "../../../examples/turbine/before.toml", "--released", "--format", "md")
	accepted := regexp.MustCompile(`<td[^>]*>(±[0-9][^<]*)</td>`).FindAllStringSubmatch(page, -1)
	require.GreaterOrEqual(t, len(accepted), 2)
	for _, a := range accepted {
		assert.Contains(t, sheet, strings.TrimSuffix(strings.ReplaceAll(a[1], "\u00a0", " "), " *"))
	}
	page = s.ask("what", "anew")
	plan := s.byCommand(page)
	assert.InDelta(t, 2*0.22, plan["total"], 1e-9, "the side move that was missed, at two feet")
	assert.NotContains(t, page, "Write the changed values")

	// Nothing, part of it, and what can't be.
	s.ask("what", "look", "case", "0")
	_, page = s.post("read", url.Values{"stage": {"0"}})
	assert.Contains(t, page, "Type what was read")
	_, page = s.post("read", url.Values{"stage": {"0"}, "read.coupling.0.found.gap": {"400"}})
	assert.Contains(t, page, "there is nothing typed")
	form.Set("read.coupling.0.reading.0.v", "high")
	_, page = s.post("read", form)
	assert.Contains(t, page, "is no number")
	form.Set("read.coupling.0.reading.0.v", "0.1")
	form.Set("stage", "99")
	_, page = s.post("read", form)
	assert.Contains(t, page, "no such stage")
}

// A coupling that reads as the plan has it after the only machine's packs: go on, and done.
func TestWorkGoesOn(t *testing.T) {
	s := serve(t, pair(t, "name = \"pump\"\n", "name = \"pump\"\nhold = true\n"))
	page := s.settled()
	stages := regexp.MustCompile(`<option value="(\d)"[^>]*>Stage \d of 1, `).FindAllString(page, -1)
	require.Len(t, stages, 1, "one machine, packs and then sideways")
	rest := s.byCommand(page)["couplings"].([]any)[0].(map[string]any)["rest"].(map[string]any)
	at := func(plane, key string) string {
		return regexp.MustCompile(`[^0-9.-]`).ReplaceAllString(jsonOf(t, rest[plane].(map[string]any)[key]), "")
	}
	form := url.Values{
		"stage":                          {"0"},
		"read.coupling.0.found.v.offset": {at("v", "offset")}, "read.coupling.0.found.v.angle": {at("v", "angle")},
		"read.coupling.0.found.h.offset": {"0.5"}, "read.coupling.0.found.h.angle": {"0"},
	}
	_, page = s.post("read", form)
	assert.Contains(t, page, "STOP", "the packs alone are not all of it")
	form.Set("read.coupling.0.found.h.offset", at("h", "offset"))
	form.Set("read.coupling.0.found.h.angle", at("h", "angle"))
	_, page = s.post("read", form)
	assert.Contains(t, page, "DONE")
}
