package explore_test

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/input"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/testdata/browser"
	"leastmove/testdata/families"
	"leastmove/testdata/trains"
)

// click clicks what a selector finds, where it is folded away after opening that.
func (b *tab) click(selector string) {
	b.t.Helper()
	require.True(b.t, is[bool](b, fmt.Sprintf(`(() => { const e = document.querySelector(%q); if (!e) return false;
		for (let d = e.closest("details"); d; d = d.parentElement.closest("details")) d.open = true;
		e.click(); return true; })()`, selector)), selector)
}

// fill types into a field, in the place of what is there.
func (b *tab) fill(name, text string) {
	b.t.Helper()
	require.True(b.t, is[bool](b, fmt.Sprintf(`(() => { const e = document.querySelector("[name='%s']"); if (!e) return false;
		e.closest("details").open = true; e.focus(); e.select(); return document.activeElement === e; })()`, name)), name)
	browser.Tell(b.t, b.Page, input.InsertText, input.InsertTextParams{Text: text})
}

// asks fills one field and asks.
func asks(name, text string) func(*tab) {
	return func(b *tab) {
		b.fill(name, text)
		b.enter()
	}
}

// clicks clicks.
func clicks(selector string) func(*tab) { return func(b *tab) { b.click(selector) } }

// get is what a link of the page gives the page itself.
func (b *tab) get(link string) string {
	b.t.Helper()
	return is[string](b, `(() => { const r = new XMLHttpRequest(); r.open("GET", "`+link+`", false); r.send();
		return r.status + " " + r.responseText; })()`)
}

// Every question, from a click to the answer: its total is that of the command beside it, the plan as JSON is
// what that command prints, and when it is undone the total is the first one again.
func TestEveryQuestionInBrowser(t *testing.T) {
	if !trains.Everything() {
		t.Skip("takes seconds: LEASTMOVE_TESTS=all")
	}
	for file, questions := range map[string][]struct {
		says string // in the list of changes
		ask  func(*tab)
		then string // on the page
	}{
		"turbine": {
			{says: "turbine may not be moved", ask: clicks(`[aria-label="hold turbine"]`)},
			{says: "at most 50 % of every coupling limit", ask: asks("use", "50")},
			{says: "a chance of 95 %", ask: asks("chance", "95")},
			{says: "make least: closest", ask: func(b *tab) {
				is[bool](b, `(() => { const e = document.querySelector("[name=strategy]"); e.value = "closest";
					return e.dispatchEvent(new Event("input", { bubbles: true })); })()`)
				b.click("#d-aim .values > button")
			}},
			{says: "make least: fewest machines", ask: clicks("#d-plans button")},
			{says: "high speed limit: angle 0.5 (0.45 in the file)", ask: asks("coupling.0.limit.angle", "0.5")},
			{says: "gear in: hole 29 (27 in the file)", ask: asks("machine.1.foot.0.hole", "29")},
			{says: "gear in: pack now 2.5 (3.0 in the file)", ask: asks("machine.1.foot.0.shim", "2.5")},
			{says: "growth at 0: up ", ask: asks("scale.machine.0.growth", "1.2")},
			{says: "offset at x = 1950: up -0.78 (-0.802 in the file)", ask: asks("coupling.0.reading.0.v", "-0.78")},
			{says: "moves typed by hand", ask: asks("up.1.0", "0.9"), then: "would mend it"},
		},
		"base-bound": {
			{says: "option 1: make 0.35 mm of room", ask: clicks(`[aria-label="take option 1"]`)},
			{says: "gear may be moved", ask: clicks(`[aria-label="free gear"]`)},
		},
	} {
		s := serve(t, example(t, file))
		b := browse(t, s.address)
		b.settled()
		s.desk = is[string](b, "location.href")
		for _, q := range questions {
			q.ask(b)
			b.until(fmt.Sprintf(`[...document.querySelectorAll(".changes li")].some((e) => e.innerText.includes(%q))`, q.says))
			b.settled()
			total := b.row("total")
			plan := s.byCommand(is[string](b, `document.querySelector(".command").innerHTML`))
			assert.Equal(t, fmt.Sprintf("%.2f\u00a0mm", plan["total"]), total[1], q.says)
			if q.then != "" {
				assert.Contains(t, is[string](b, `document.getElementById("answer-part").innerText`), q.then)
			}
			for n := is[float64](b, `document.querySelectorAll(".changes li").length`); n > 0; n-- {
				b.click(".changes button") // undo
				b.until(fmt.Sprintf(`document.querySelectorAll(".changes li").length < %v`, n))
			}
			b.until(`!document.querySelector(".tabs")`) // the case goes with its last change
			b.settled()
			if said := is[string](b, `document.getElementById("said").innerText`); total[0] != "–" {
				assert.Contains(t, said, "total "+strings.ReplaceAll(total[0], "\u00a0", " "), q.says)
			}
		}
		b.fine(s)
		s.end()
	}
}

// A case with changed values, as the links of the page give it: the train file with its comments, and what the
// commands make of that.
func TestFilesOfACaseInBrowser(t *testing.T) {
	if !trains.Everything() {
		t.Skip("takes seconds: LEASTMOVE_TESTS=all")
	}
	file := pair(t)
	s := serve(t, file)
	b := browse(t, s.address)
	b.settled()
	asks("scale.machine.0.growth", "1.2")(b)
	b.until(`document.querySelectorAll(".changes li").length > 1`)
	b.settled()
	b.fill("use", "60")
	b.enter()
	b.until(`document.querySelector(".command").innerText.includes("--use 0.6")`)
	b.settled()
	line := words(t, is[string](b, `document.querySelector(".command").innerText`))
	at := filepath.Join(t.TempDir(), line[2])
	assert.Equal(t, line[2], is[string](b, `document.querySelector("#out-part [href='export/toml']").download`))
	text, ok := strings.CutPrefix(b.get("export/toml"), "200 ")
	require.True(t, ok)
	require.NoError(t, os.WriteFile(at, []byte(text), 0o644))
	was, err := os.ReadFile(file)
	require.NoError(t, err)
	assert.Equal(t, strings.Count(string(was), "#"), strings.Count(text, "#"), "comments")
	flags := line[3:]
	for what, command := range map[string][]string{
		"json": {"plan", at, "--format", "json"}, "txt": {"plan", at}, "html": {"report", at},
	} {
		_, out, said := run(append(command, flags...)...)
		require.NotEmpty(t, out, said)
		got, ok := strings.CutPrefix(b.get("export/"+what), "200 ")
		require.True(t, ok, what)
		out = strings.ReplaceAll(out, filepath.Base(at), filepath.Base(file))
		assert.Equal(t, strings.Split(out, "\n"), strings.Split(got, "\n"), what)
	}
	s.desk = is[string](b, "location.href")
	code, order := s.get("export/pdf")
	assert.Equal(t, 200, code)
	assert.True(t, strings.HasPrefix(order, "%PDF-"))
	b.fine(s)
}

// A search that takes seconds says how far it is, and shows what is known when it is stopped; a newer question ends an
// older one.
func TestSearchIsStoppedInBrowser(t *testing.T) {
	if !trains.Everything() {
		t.Skip("takes seconds: LEASTMOVE_TESTS=all")
	}
	file := filepath.Join(t.TempDir(), "long.toml")
	require.NoError(t, os.WriteFile(file, []byte(families.TOML("twelve", 2009)), 0o644)) // twelve machines
	s := serve(t, file)
	b := browse(t, s.address)
	begun := `!!document.querySelector("#stop-part button")`
	b.until(begun)
	b.until(`/^(Best plan|This plan is found|Looking for a (better )?plan).*, [0-9.]+m?s$/.test(document.getElementById("told").innerText)`)
	b.click("#stop-part button")
	b.until(`document.getElementById("answer-part").innerText.startsWith("Stopped: this is what was known by then.")`)
	assert.NotContains(t, is[string](b, `document.body.innerText`), "fault of the program")
	b.until(`!!document.querySelector("[name='use']")`)
	asks("use", "60")(b)
	asks("use", "65")(b)
	b.until(`document.querySelector(".command").innerText.includes("--use 0.65") && ` + begun)
	b.click("#stop-part button")
	b.until(`document.getElementById("answer-part").innerText.startsWith("Stopped: ")`)
	b.fine(s)
}

// Six cases stand side by side, on a phone too, and there is no seventh; a file that can't be used any more is said
// beside them, with the cure.
func TestSixCasesInBrowser(t *testing.T) {
	if !trains.Everything() {
		t.Skip("takes seconds: LEASTMOVE_TESTS=all")
	}
	file := pair(t)
	s := serve(t, file)
	b := browse(t, s.address)
	b.settled()
	uses := []string{"95", "90", "85", "80", "75", "60"}
	for n, use := range uses {
		if n > 0 {
			b.click("#another")
			b.until(fmt.Sprintf(`document.querySelectorAll(".tabs [id^=look]").length === %d`, n+2))
		}
		asks("use", use)(b)
		b.until(fmt.Sprintf(`(document.querySelector(".tabs [aria-current]") || document.body).innerText === "%s %% of limits"`,
			use))
	}
	b.settled()
	assert.Len(t, b.row("share of limit"), 1+len(uses))
	assert.True(t, is[bool](b, `document.getElementById("another").disabled`))
	b.Width(t, 400)
	assert.LessOrEqual(t, is[float64](b, `document.documentElement.scrollWidth`), 400.)
	text, err := os.ReadFile(file)
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(file, []byte(strings.Replace(string(text), "title", "titel", 1)), 0o644))
	b.until(`(document.querySelector("[role=alert]") || document.body).innerText.includes('did you mean "title"?')`)
	assert.Len(t, b.row("total"), 1+len(uses))
	require.NoError(t, os.WriteFile(file, text, 0o644))
	b.until(`!document.querySelector("[role=alert]")`)
	b.fine(s)
}
