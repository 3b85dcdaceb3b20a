package explore_test

import (
	"fmt"
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
	after, err := rewrite.Open(read(t, "../../../examples/turbine/after.toml"))
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

// One mistyped number is marked, and all that was typed stays; so does a field that was left empty among others.
func TestWhatWasReadStays(t *testing.T) {
	s := serve(t, pair(t, "name = \"pump\"\n", "name = \"pump\"\nhold = true\n"))
	page := s.settled()
	assert.Contains(t, page, `<th scope="col">offset up and down, mm</th>`)
	form := url.Values{"stage": {"0"}, "read.coupling.0.found.v.offset": {"-0.80.2"},
		"read.coupling.0.found.v.angle": {""}, "read.coupling.0.found.h.offset": {"0.37 left"},
		"read.coupling.0.found.h.angle": {"low 0.1"}}
	_, page = s.post("read", form)
	assert.Contains(t, page, "is no number")
	for _, name := range []string{"v.offset", "v.angle", "h.offset", "h.angle"} {
		field := regexp.MustCompile(`<input name="read\.coupling\.0\.found\.` + name + `"[^>]*>`).FindString(page)
		assert.Contains(t, field, `value="`+form.Get("read.coupling.0.found."+name)+`"`)
		assert.Equal(t, name != "h.offset", strings.Contains(field, `aria-invalid="true"`), field)
	}
}

// In the browser, by the work order's own figures: after stage 1 go on; after the last, where one move did not go,
// stop, with what verify says of it; and plan anew from there.
func TestWorkIsFollowedInBrowser(t *testing.T) {
	if !trains.Everything() {
		t.Skip("takes seconds: LEASTMOVE_TESTS=all")
	}
	file := example(t, "turbine")
	_, order, _ := run("sheet", file, "--released", "--format", "md")
	after, err := rewrite.Open(read(t, "../../../examples/turbine/after.toml"))
	require.NoError(t, err)
	s := serve(t, file)
	b := browse(t, s.address)
	b.settled()
	stage := regexp.MustCompile(`(?s)## Stage 1 of 3.*?## Stage 2`).FindString(order)
	at := regexp.MustCompile(`at x = \d+ \| \*\*([\d.]+) (high|low)\*\*.*?\*\*([\d.]+) (left|right)\*\*`).FindAllStringSubmatch(stage, -1)
	require.Len(t, at, 2, stage)
	sign := map[string]string{"high": "", "low": "-", "left": "", "right": "-"}
	for n, r := range at {
		b.fill(fmt.Sprintf("read.coupling.0.reading.%d.v", n), sign[r[2]]+r[1])
		b.fill(fmt.Sprintf("read.coupling.0.reading.%d.h", n), sign[r[4]]+r[3])
	}
	b.enter()
	said := func(word string) {
		b.until(`document.getElementById("said").innerText.startsWith("` + word + `")`)
	}
	said("GO ON")
	assert.NotContains(t, is[string](b, `document.getElementById("answer-part").innerText`), "did not go")
	b.click(`#answer-part [value=leave] ~ button`)
	b.until(`!!document.querySelector("#answer-part h2") && !document.querySelector("#answer-part [value=leave]")`)

	is[bool](b, `(() => { const e = document.querySelector("[name=stage]"); e.value = "2";
		return e.dispatchEvent(new Event("input", { bubbles: true })); })()`)
	for _, name := range is[[]string](b, `[...document.querySelectorAll("[name^='read.']")].map((e) => e.name)`) {
		b.fill(name, after.Value(strings.Split(strings.TrimPrefix(name, "read."), ".")...))
	}
	b.enter()
	said("STOP")
	text := strings.ReplaceAll(is[string](b, `document.getElementById("answer-part").innerText`), "\u00a0", " ")
	assert.Contains(t, text, "it was to go left 0.22")
	assert.Contains(t, text, "did not go")
	accepted := regexp.MustCompile(`±[0-9.]+ mm(, ±[0-9.]+ mrad)?`).FindAllString(text, -1)
	require.NotEmpty(t, accepted)
	for _, a := range accepted {
		assert.Contains(t, order, a)
	}
	b.click(`#answer-part [value=anew] ~ button`)
	b.until(`document.getElementById("changes").innerText === "after stage 3"`)
	b.settled()
	s.desk = is[string](b, "location.href")
	plan := s.byCommand(is[string](b, `document.querySelector(".command").innerHTML`))
	assert.Equal(t, fmt.Sprintf("%.2f\u00a0mm", plan["total"]), b.row("total")[1])
	assert.InDelta(t, 2*0.22, plan["total"], 1e-9, "the side move that was missed, at two feet")
	b.fine(s)
}

// While readings that were sent are held against the plan the page says so.
func TestReadingsSentShowAsWorkingInBrowser(t *testing.T) {
	if !trains.Everything() {
		t.Skip("takes seconds: LEASTMOVE_TESTS=all")
	}
	s := serve(t, pair(t))
	b := browse(t, s.address)
	b.settled()
	is[bool](b, `(() => {
		const real = window.fetch;
		window.fetch = async (address, with_) => {
			if (address === "read") await new Promise((go) => { window.go = go; });
			return real(address, with_);
		};
		return true;
	})()`)
	b.fill("read.coupling.0.found.v.offset", "0.80.2")
	b.enter()
	b.until(`!!window.go`)
	assert.Equal(t, []string{"Holding the readings against the work order.", "true"}, is[[]string](b,
		`[document.getElementById("said").innerText, document.getElementById("answer-part").getAttribute("aria-busy")]`))
	is[bool](b, `(window.go(), true)`)
	b.until(`document.getElementById("said").innerText.includes("is no number")`)
	assert.False(t, is[bool](b, `document.getElementById("answer-part").hasAttribute("aria-busy")`))
	b.fine(s)
}

// The button writes the changed values into the file, with its comments, and the page follows.
func TestSaveInBrowser(t *testing.T) {
	if !trains.Everything() {
		t.Skip("takes seconds: LEASTMOVE_TESTS=all")
	}
	file := pair(t)
	was := read(t, file)
	s := serve(t, file)
	b := browse(t, s.address)
	b.settled()
	asks("machine.1.foot.0.hole", "28")(b)
	b.until(lists("pump in: hole 28 (27 in the file)"))
	b.settled()
	assert.Equal(t, string(was), string(read(t, file)), "nothing is written unasked")
	b.click(`#out-part form[action=save] button`)
	b.until(`document.getElementById("said").innerText.startsWith("pair.toml is written.")`)
	assert.Equal(t, strings.Replace(string(was), "27 # as drilled", "28 # as drilled", 1), string(read(t, file)))
	b.until(lists("No change: as the file has it."))
	b.settled()
	assert.False(t, is[bool](b, `!!document.querySelector("#out-part form[action=save]")`))
	b.fine(s)
}

func read(t *testing.T, file string) []byte {
	text, err := os.ReadFile(file)
	require.NoError(t, err)
	return text
}
