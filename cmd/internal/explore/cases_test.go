package explore_test

import (
	"fmt"
	"net/http"
	"net/url"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/testdata/families"
	"leastmove/testdata/trains"
)

// Where the file weighs moves, a difference is that of the two totals beside it, and a total elsewhere on the page is
// the same kind.
func TestDifferencesAreOfTheTotalsShown(t *testing.T) {
	s := serve(t, pair(t, "[[machine]]\n", "[[machine]]\neffort = 1.3\n"))
	page := s.ask("what", "aim", "strategy", "closest")
	numbers := func(cell string) (plain, weighted float64) {
		t.Helper()
		n := regexp.MustCompile(`[+−]?\d+\.\d+`).FindAllString(cell, -1)
		require.Len(t, n, 2, cell)
		value := func(s string) float64 {
			x, err := strconv.ParseFloat(strings.NewReplacer("−", "-", "+", "").Replace(s), 64)
			require.NoError(t, err)
			return x
		}
		return value(n[0]), value(n[1])
	}
	total := column(t, page, "total")
	base, weighed := numbers(total[0])
	other, otherWeighed := numbers(total[1])
	more, moreWeighed := numbers(column(t, page, `beside (?:<bdi>)?as filed(?:</bdi>)?`)[1])
	assert.NotEqual(t, base, other)
	assert.InDelta(t, other-base, more, 1e-9)
	assert.InDelta(t, otherWeighed-weighed, moreWeighed, 1e-9)
	assert.Contains(t, strings.ReplaceAll(page, "\u00a0", " "), "as filed</bdi>: "+total[0])
}

// An option is one of a list that the file gave: with another file its number may be another option's.
func TestOptionIsTakenBackWhenTheFileIsChanged(t *testing.T) {
	if !trains.Everything() {
		t.Skip("takes seconds: LEASTMOVE_TESTS=all")
	}
	file := example(t, "turbine")
	s := serve(t, file)
	s.ask("what", "machine", "name", "gear", "to", "hold")
	page := s.ask("what", "option", "number", "1")
	assert.Contains(t, page, `<span class="flag">--hold</span> gear <span class="flag">--relieve</span> 1</code>`)
	text, err := os.ReadFile(file)
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(file, append([]byte("# saved in an editor\n"), text...), 0o644))
	page = s.until("Option taken back: the file was changed (gear may not be moved).")
	assert.Contains(t, page, `<span class="flag">--hold</span> gear</code>`)
	page = s.settled()
	verdicts := column(t, page, "verdict")
	require.Len(t, verdicts, 3)
	assert.Equal(t, "no plan; 2 options", verdicts[1])
	assert.Equal(t, verdicts[1], verdicts[2])
	assert.NotContains(t, page, "option 1: ")
	assert.NotContains(t, page, `<span class="flag">--relieve</span> 1</code>`)
	assert.Contains(t, s.ask("what", "look", "case", "1"), `<span class="flag">--hold</span> gear</code>`)
}

// The form of moves stays while they are checked, with what was typed; what begins or ends a case leads to its heading.
func TestFormsStayAndLeadToTheCase(t *testing.T) {
	s := serve(t, pair(t))
	page := s.settled()
	assert.Contains(t, page, `<h2 id="changes" tabindex="-1">`)
	assert.Contains(t, page, `data-focus="changes"><input type="hidden" name="what" value="take">`)
	const typed = `name="up.1.0" value="0.85"`
	assert.NotContains(t, page, typed)
	code, page := s.post("do", url.Values{"what": {"moves"}, "up.1.0": {"0.85"}, "axial.1": {"-0.1"}})
	require.Equal(t, http.StatusOK, code)
	for range 2 { // at once, whether it is checked yet or not, and after
		assert.Contains(t, page, `<details id="d-moves">`)
		assert.Contains(t, page, typed)
		assert.Contains(t, page, `name="axial.1" value="-0.10"`)
		assert.Contains(t, page, `data-focus="changes"><input type="hidden" name="what" value="away">`)
		page = s.settled()
	}
	assert.Contains(t, page, "IT DOES NOT HOLD")
	assert.Contains(t, column(t, page, "total")[1], fmt.Sprintf("%.2f mm", s.byCommand(page)["total"]))
}

// While it is searched the bar over the page says so and has the button that stops it.
func TestBarStopsTheSearch(t *testing.T) {
	file := filepath.Join(t.TempDir(), "long.toml")
	require.NoError(t, os.WriteFile(file, []byte(families.TOML("long", 5)), 0o644))
	s := serve(t, file)
	const button = `<button>Stop, and show what is known</button>`
	code, page := s.get("")
	require.Equal(t, http.StatusOK, code)
	require.Contains(t, page, "aria-busy")
	assert.Regexp(t, `<p id="said">(Looking for a plan|A plan is found; looking for (others beside it|a better one))\.</p>`, page)
	assert.Equal(t, 1, strings.Count(page, button))
	of := regexp.MustCompile(`action="stop"[^>]*><input type="hidden" name="of" value="([0-9a-f]{64})">`).FindStringSubmatch(page)
	require.NotNil(t, of)
	code, _ = s.post("stop", url.Values{"of": {of[1]}})
	assert.Equal(t, http.StatusNoContent, code)
	page = s.settled()
	assert.NotContains(t, page, button)
	assert.Regexp(t, `<p id="said">[^<]*\(search stopped`, page)
}

// A change that the file has now is none any more, and what others say of the file is of the file as it is now.
func TestChangesFollowTheFile(t *testing.T) {
	file := pair(t)
	s := serve(t, file)
	s.ask("what", "values", "machine.1.foot.0.hole", "28")
	s.ask("what", "aim", "use", "80")
	page := s.ask("what", "copy")
	assert.Contains(t, page, "pump in: hole 28 (27 in the file)")
	text, err := os.ReadFile(file)
	require.NoError(t, err)
	save := func(hole string) {
		require.NoError(t, os.WriteFile(file, []byte(strings.Replace(string(text), "27 # as", hole+" # as", 1)), 0o644))
	}
	save("26.5")
	s.until("pump in: hole 28 (26.5 in the file)")
	save("28.0")
	s.until("<bdi>80 % of limits</bdi></h2>")
	page = s.settled()
	assert.NotContains(t, page, "hole 28")
	assert.Regexp(t, `<span class="field">file read again at</span> \d\d:\d\d:\d\d<`, page)
}

// A held machine saves movement where the aim is given up for it: the table says so, with the aim of every case;
// weighted totals stand in all columns alike, and moves typed by hand have the verdict of the plan that they are of.
func TestTableSaysWhatWasGivenUp(t *testing.T) {
	s := serve(t, pair(t, "[[machine]]\nname = \"motor\"",
		"[errors]\noffset = 0.02\nangle = 0.05\nplacing = 0.02\ngrowth = 0.5\n[[machine]]\nname = \"motor\"\neffort = 1.3\nrun = { v = 0, h = 0 }",
		"name = \"pump\"\n", "name = \"pump\"\nrun = { v = 0, h = 0 }\n",
		"hole   = 27 # as drilled", "hole = 27\ntravel = { left = 0.31, right = 0.31 }"))
	page := s.ask("what", "machine", "name", "motor", "to", "hold")
	aims := column(t, page, "aim")
	assert.Equal(t, "70 %", aims[0])
	assert.Regexp(t, `^NOT MET: \d+ % instead of 70 %$`, aims[1])
	for _, total := range column(t, page, "total") {
		assert.Regexp(t, `^\d\.\d+ mm \(\d\.\d+ weighted\)$`, total)
	}
	page = s.ask("what", "look", "case", "0")
	form := []string{"what", "moves"}
	for _, m := range regexp.MustCompile(`name="((?:up|left|axial)\.[^"]*)" value="([^"]*)"`).FindAllStringSubmatch(page,
		-1) {
		form = append(form, m[1], m[2])
	}
	verdicts := column(t, s.ask(form...), "verdict")
	require.Len(t, verdicts, 3)
	assert.Regexp(t, `^(marginal|not advised) \(chance [\d.]+ %, 95 % wanted\)$`, verdicts[0])
	assert.Equal(t, verdicts[0]+"; keeps the limits and the aim", verdicts[2])
	_, page = s.get("")
	assert.Regexp(t, `(MARGINAL|NOT ADVISED): `, page)
	_, table := s.get("export/cases")
	assert.Contains(t, table, "Date")
}

// The column of the file has a name of its own as the others may.
func TestEveryCaseIsNamed(t *testing.T) {
	s := serve(t, pair(t))
	s.ask("what", "aim", "use", "80")
	s.ask("what", "name", "name", "client's way")
	s.ask("what", "look", "case", "0")
	page := s.ask("what", "name", "name", "as found in May")
	assert.Regexp(t, `<th scope="col"><bdi>as found in May</bdi></th><th scope="col"><bdi>client&#39;s way</bdi></th>`,
		page)
	assert.Contains(t, page, "beside <bdi>as found in May</bdi>")
	page = s.ask("what", "name", "name", "")
	assert.Contains(t, page, "beside <bdi>as filed</bdi>")
	assert.NotContains(t, page, "as found in May")
}
