package explore_test

import (
	"fmt"
	"testing"

	"github.com/chromedp/cdproto/input"
	"github.com/stretchr/testify/assert"

	"leastmove/testdata/browser"
	"leastmove/testdata/trains"
)

// lists says that the list of changes of the case that is looked at has all of some words.
func lists(all ...string) string {
	return fmt.Sprintf(`((all) => all.every((w) => document.getElementById("changes-part").innerText.includes(w)))(%s)`,
		quoted(all))
}

// quoted is a list of words in JavaScript.
func quoted(all []string) string {
	out := "["
	for _, w := range all {
		out += fmt.Sprintf("%q,", w)
	}
	return out + "]"
}

// What is typed while an answer comes stays in its field, with the focus and the caret, and is asked as it stands.
func TestWhatIsTypedStaysInBrowser(t *testing.T) {
	if !trains.Everything() {
		t.Skip("takes seconds: LEASTMOVE_TESTS=all")
	}
	s := serve(t, pair(t))
	b := browse(t, s.address)
	b.settled()
	s.desk = is[string](b, "location.href")
	b.fill("use", "5")
	b.fill("coupling.0.limit.angle", "0.48")
	b.fill("chance", "90")
	b.fill("use", "75")
	is[bool](b, `(document.activeElement.setSelectionRange(1, 1), true)`)
	s.ask("what", "machine", "name", "pump", "to", "hold") // an answer to something else
	b.until(lists("pump may not be moved"))
	b.settled()
	assert.Equal(t, []string{"use", "75", "1", "1"}, is[[]string](b, `((e) => [e.name, e.value, e.selectionStart,
		e.selectionEnd].map(String))(document.activeElement)`))
	b.fill("chance", "")
	b.fill("use", "")
	browser.Tell(t, b.Page, input.InsertText, input.InsertTextParams{Text: "75"})
	b.enter()
	b.until(lists("pump may not be moved", "at most 75 %"))
	assert.Equal(t, "0.48", is[string](b, `document.querySelector("[name='coupling.0.limit.angle']").value`),
		"what is typed into another form and not asked yet")
	b.click("#look-0")
	b.until(`document.getElementById("look-0").getAttribute("aria-current") === "true"`)
	assert.NotEqual(t, "0.48", is[string](b, `document.querySelector("[name='coupling.0.limit.angle']").value`),
		"what was typed is of the case that is left")
	assert.Empty(t, is[string](b, `document.querySelector("[name=use]").value`))
	b.fine(s)
}

// Two questions in a row, the first of which is slow to reach the server: while it is on its way there is news, and
// the second is asked. Both are there after, the second as the later one; neither is lost.
func TestNoQuestionIsLostInBrowser(t *testing.T) {
	if !trains.Everything() {
		t.Skip("takes seconds: LEASTMOVE_TESTS=all")
	}
	s := serve(t, pair(t))
	b := browse(t, s.address)
	b.settled()
	s.desk = is[string](b, "location.href")
	is[bool](b, `(() => {
		const real = window.fetch;
		window.sent = [];
		window.fetch = async (address, with_) => {
			window.sent.push(address);
			if (with_.method === "POST" && !window.held) {
				window.held = true;
				await new Promise((go) => { window.go = go; });
			}
			return real(address, with_);
		};
		return true;
	})()`)
	b.click(`[aria-label="hold pump"]`)
	b.until(`window.held`)
	asks("use", "60")(b)
	s.ask("what", "aim", "chance", "") // news: nothing is changed by it
	asks("use", "65")(b)
	is[bool](b, `(window.go(), true)`)
	b.until(lists("pump may not be moved", "at most 65 %"))
	b.settled()
	assert.Contains(t, is[string](b, `document.querySelector(".command").innerText`), "--hold pump --use 0.65")
	assert.Equal(t, 3, int(is[float64](b, `window.sent.filter((a) => a === "do").length`)))
	b.fine(s)
}

// A browser keeps six connections to one server: of many pages those that are not looked at leave theirs to the others.
func TestManyPagesInBrowser(t *testing.T) {
	if !trains.Everything() {
		t.Skip("takes seconds: LEASTMOVE_TESTS=all")
	}
	s := serve(t, example(t, "base-bound"))
	var all []*tab
	for range 7 {
		b := browse(t, s.address)
		b.settled()
		all = append(all, b)
		looked(b, false)
	}
	looked(all[0], true)
	all[0].click("#d-options button")
	all[0].until(`document.querySelector(".command").innerText.includes("--relieve 1")`)
	all[0].settled()
	all[0].fine(s)
}

// looked has a page looked at, or out of sight.
func looked(b *tab, at bool) {
	is[bool](b, fmt.Sprintf(`(() => { Object.defineProperty(document, "hidden", { value: %v, configurable: true });
		return document.dispatchEvent(new Event("visibilitychange")); })()`, !at))
}
