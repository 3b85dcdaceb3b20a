package explore_test

import (
	"os"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/input"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/cmd/internal/cli"
	"leastmove/testdata/browser"
	"leastmove/testdata/trains"
)

// A tab has the page open, in one test.
type tab struct {
	*browser.Page
	t testing.TB
}

// browse opens a page in a tab.
func browse(t testing.TB, address string) *tab { return &tab{browser.Open(t, address), t} }

// is is what a piece of JavaScript comes to.
func is[T any](b *tab, script string) T {
	b.t.Helper()
	return browser.Ask[T](b.t, b.Page, script)
}

// until waits until a piece of JavaScript is true.
func (b *tab) until(script string) {
	b.t.Helper()
	for end := time.Now().Add(patience); time.Now().Before(end); time.Sleep(20 * time.Millisecond) {
		if is[bool](b, script) {
			return
		}
	}
	require.Fail(b.t, "never: "+script, is[string](b, "document.body.innerText"))
}

// settled waits until nothing is looked for any more, in no case.
func (b *tab) settled() {
	b.t.Helper()
	b.until(`!document.querySelector("[aria-busy]") && !!document.querySelector("#answer-part section") &&
		![...document.querySelectorAll(".cases td")].some((e) => /searching\)?$/.test(e.innerText))`)
}

// row is a row of the table of cases, without its head.
func (b *tab) row(head string) []string {
	b.t.Helper()
	return is[[]string](b, `[...([...document.querySelectorAll(".cases tbody tr")].find((r) =>
		r.querySelector("th").innerText === "`+head+`") || document.body).querySelectorAll("td")].map((e) => e.innerText)`)
}

// press presses a key, by the name that it has in a page.
func (b *tab) press(key, code string, number int64, text string) {
	for _, kind := range []input.DispatchKeyEventType{input.DispatchKeyEventTypeKeyDown, input.DispatchKeyEventTypeKeyUp} {
		p := input.DispatchKeyEventParams{Type: kind, Key: key, Code: code, WindowsVirtualKeyCode: number}
		if kind == input.DispatchKeyEventTypeKeyDown {
			p.Text = text
		}
		browser.Tell(b.t, b.Page, input.DispatchKeyEvent, p)
	}
}

func (b *tab) tab()   { b.press("Tab", "Tab", 9, "") }
func (b *tab) enter() { b.press("Enter", "Enter", 13, "\r") }

// to goes on by the keyboard until what has the focus is what a piece of JavaScript says.
func (b *tab) to(script string) {
	b.t.Helper()
	for range 200 {
		b.tab()
		if is[bool](b, `(() => { const e = document.activeElement; return !!e && (`+script+`); })()`) {
			return
		}
	}
	require.Fail(b.t, "the keyboard does not reach "+script)
}

func TestMain(m *testing.M) {
	if file := os.Getenv(servedAlone); file != "" {
		os.Exit(cli.Run([]string{"explore", file, "--no-open"}, os.Stdin, os.Stdout, os.Stderr))
	}
	code := m.Run()
	browser.Stop()
	os.Exit(code)
}

// By the keyboard alone: hold a machine, ask for a margin, take both back; nothing that the
// policy of the page forbids, nothing from elsewhere, no message on the console.
func TestKeyboardAloneInBrowser(t *testing.T) {
	s := serve(t, pair(t))
	b := browse(t, s.address)
	b.settled()
	b.to(`e.getAttribute("aria-label") === "hold pump"`)
	b.enter()
	b.until(`document.body.innerText.includes("pump may not be moved")`)
	b.settled()
	base := b.row("total")[0]
	assert.NotEqual(t, base, b.row("total")[1])
	assert.Equal(t, "pump: as the file has it", is[string](b, `document.activeElement.getAttribute("aria-label") || ""`),
		"the focus stays where it was")
	assert.Contains(t, is[string](b, `document.getElementById("said").innerText`), "total")
	b.to(`e.name === "use"`)
	browser.Tell(b.t, b.Page, input.InsertText, input.InsertTextParams{Text: "60"})
	b.enter()
	b.until(`document.querySelector(".command").innerText.includes("--use 0.6")`)
	b.settled()
	for range 2 {
		before := is[float64](b, `document.querySelectorAll(".changes li").length`)
		is[bool](b, `(document.querySelector(".changes button").focus(), true)`)
		b.enter()
		b.until(`document.querySelectorAll(".changes li").length < ` + string(rune('0'+int(before))))
	}
	b.settled()
	assert.Contains(t, is[string](b, `document.getElementById("said").innerText`),
		"total "+strings.ReplaceAll(base, "\u00a0", " "))
	assert.False(t, is[bool](b, `!!document.querySelector(".cases table")`), "the case went with its changes")
	b.fine(s)
}

// fine says that nothing went wrong on the page.
func (b *tab) fine(s *served) {
	b.Lock()
	defer b.Unlock()
	errors := slices.DeleteFunc(slices.Clone(b.Errors), func(e string) bool { return strings.Contains(e, "favicon") })
	assert.Empty(b.t, errors)
	for _, address := range b.Asked {
		assert.True(b.t, strings.HasPrefix(address, s.origin) || address == "about:blank", address)
	}
}

// On a phone and on a desk nothing is wider than the page; every field has a name that is
// read aloud; in the dark ink and paper change places.
func TestPageFitsInBrowser(t *testing.T) {
	if !trains.Everything() {
		t.Skip("takes seconds: LEASTMOVE_TESTS=all")
	}
	s := serve(t, example(t, "turbine"))
	b := browse(t, s.address)
	b.settled()
	b.click(`[aria-label="hold turbine"]`)
	b.until(`document.querySelectorAll("#cases-part tbody tr").length > 0`)
	b.settled()
	for _, width := range []int64{400, 1280} {
		b.Width(t, width)
		is[bool](b, `(document.querySelectorAll("details").forEach((d) => { d.open = true; }), true)`)
		assert.LessOrEqual(t, is[float64](b, `document.documentElement.scrollWidth`), float64(width))
		tops := is[[]float64](b, `["said", "cases-part", "changes-part", "answer-part", "ask-part", "out-part"].map((id) =>
			document.getElementById(id).getBoundingClientRect().top)`)
		if width == 400 {
			assert.IsIncreasing(t, tops, "verdict, cases, what was asked, the plan, what else can be asked, files")
		} else {
			assert.Equal(t, tops[2], tops[3], "the plan is beside what was asked")
		}
	}
	bare := is[[]string](b, `[...document.querySelectorAll("main input:not([type=hidden]), main select, main button")]
		.filter((e) => !(e.getAttribute("aria-label") || e.innerText || (e.labels && e.labels.length)))
		.map((e) => e.outerHTML)`)
	assert.Empty(t, bare)
	ids := is[[]string](b, `[...document.querySelectorAll("[id]")].map((e) => e.id)`)
	slices.Sort(ids)
	assert.Len(t, slices.Compact(slices.Clone(ids)), len(ids), "%v", ids)
	b.Scheme(t, "dark")
	assert.Equal(t, "rgb(0, 0, 0)", is[string](b, `getComputedStyle(document.body).backgroundColor`))
	b.fine(s)
}

// Two pages of one train each have their own questions; a file that is saved reaches both; the
// button ends the program, and the pages say so.
func TestTwoPagesInBrowser(t *testing.T) {
	if !trains.Everything() {
		t.Skip("takes seconds: LEASTMOVE_TESTS=all")
	}
	file := example(t, "base-bound")
	s := serve(t, file)
	one, two := browse(t, s.address), browse(t, s.address)
	one.settled()
	two.settled()
	is[bool](one, `(document.querySelector("#d-options button").click(), true)`)
	one.until(`document.querySelector(".command").innerText.includes("--relieve 1")`)
	one.settled()
	assert.NotContains(t, is[string](two, `document.querySelector(".command").innerText`), "--relieve")
	text, err := os.ReadFile(file)
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(file, []byte(strings.Replace(string(text), `title = "`, `title = "saved: `, 1)),
		0o644))
	for _, b := range []*tab{one, two} {
		b.until(`document.querySelector("h1").innerText.startsWith("saved: ")`)
		b.settled()
		b.fine(s)
	}
	s.end()
	one.until(`document.getElementById("said").innerText.includes("has ended")`)
}
