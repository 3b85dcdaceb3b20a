package pages_test

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/testdata/browser"
	"leastmove/testdata/outside"
	"leastmove/testdata/trains"
)

// axe is the text of axe-core, in the version of testdata/axe/package.json:
//
//	npm ci --prefix testdata/axe
func axe(t *testing.T) string {
	text, err := os.ReadFile("../../../testdata/axe/node_modules/axe-core/axe.min.js")
	if err == nil {
		return string(text)
	}
	outside.Missing(t, "axe-core is not installed (npm ci --prefix testdata/axe)")
	return ""
}

// violations are those that axe-core calls serious or critical, with what it found them at.
const violations = `axe.run(document, {resultTypes: ['violations']}).then((found) => found.violations
	.filter((v) => ['serious', 'critical'].includes(v.impact))
	.flatMap((v) => v.nodes.slice(0, 3).map((n) => v.id + ': ' + n.html.slice(0, 160))))`

// No page that a person is handed has a serious fault by axe-core, on a desk and on a phone, light and dark: the
// report in all four views, the others light on a desk and dark on a phone; by default three of the five kinds of page,
// in one view each.
func TestPagesPassAxe(t *testing.T) {
	script := axe(t)
	const turbine = "../../../examples/turbine/before.toml"
	sheet := func(file string, flags ...string) string {
		return once(t, "sheet "+file, func(folder string) (string, error) {
			out := filepath.Join(folder, "sheet.html")
			return out, run(append([]string{"sheet", file, "-o", out}, flags...)...)
		})
	}
	type view struct {
		width  int64
		scheme string
	}
	desk, phone := view{1280, "light"}, view{400, "dark"}
	views := map[string][]view{"impossible": {desk}, "sheet": {phone}, "verify": {phone}} // much of the rest is in these
	all := map[string]func() string{
		"report":     func() string { return written(t, turbine) },
		"impossible": func() string { return written(t, "../../../examples/base-bound/before.toml") },
		"sheet":      func() string { return sheet(turbine, "--released") },
		"hold":       func() string { return sheet("../../../examples/survey/before.toml") },
		"verify":     func() string { return verified(t, turbine, "../../../examples/turbine/after.toml") },
	}
	if trains.Everything() {
		for name := range all {
			views[name] = []view{desk, phone}
		}
		views["report"] = append(views["report"], view{1280, "dark"}, view{400, "light"})
	}
	for name, views := range views {
		t.Run(name, func(t *testing.T) {
			b := open(t, all[name]())
			browser.Ask[bool](t, b, "(() => {"+script+"\n; return true; })()")
			require.True(t, browser.Ask[bool](t, b, "typeof axe === 'object'"), "axe-core runs")
			for _, v := range views {
				b.Scheme(t, v.scheme)
				b.Width(t, v.width)
				found, err := chromedp.Run(b, chromedp.Evaluate[[]string](violations, awaited))
				require.NoError(t, err)
				assert.Empty(t, found, "%d pixels, %s", v.width, v.scheme)
			}
			b.Width(t, 360)
			assert.Empty(t, browser.Ask[[]string](t, b, cutOff), "wider than a phone")
		})
	}
}

// cutOff is what a narrow screen shows only in part: what is wider than the page or its own frame, and words of
// drawings beyond their edge.
const cutOff = `(() => {
	document.querySelectorAll('details').forEach((d) => d.open = true);
	const shown = (e) => e.getBoundingClientRect().width > 0, said = (e) => e.className + ': ' + e.textContent.slice(0, 60);
	return [...document.querySelectorAll('html, .roll')].filter((e) => shown(e) && e.scrollWidth > e.clientWidth + 1).map(said)
		.concat([...document.querySelectorAll('svg text')].filter((e) => {
			const r = e.getBoundingClientRect(), s = e.closest('svg').getBoundingClientRect();
			return shown(e) && (r.left < s.left - 1 || r.right > s.right + 1);
		}).map((e) => e.textContent));
})()`

func awaited(p *runtime.EvaluateParams) {
	yes := true
	p.AwaitPromise = &yes
}
