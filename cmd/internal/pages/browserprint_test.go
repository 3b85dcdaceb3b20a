package pages_test

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/cmd/internal/cli"
	"leastmove/testdata/browser"
	"leastmove/testdata/families"
	"leastmove/testdata/outside"
	"leastmove/testdata/trains"
)

// largest is the train file with the longest report of those that are looked at anyway; with all settings that of five
// machines.
func largest() string {
	return "../../../examples/" + []string{"turbine", "five-machines"}[trains.Draws(0, 1)] + "/before.toml"
}

// Printed on A4 and on Letter every figure is whole: all its words stand on the
// sheet of its caption, or where it goes on in parts on that before too.
func TestPrintsWholeFigures(t *testing.T) {
	pdftotext := outside.Program(t, "pdftotext")
	const dials = "../../../examples/reverse-dials/before.toml"
	for _, paper := range []struct {
		name string
		size chromedp.PaperSize
		file string
	}{{"A4", chromedp.PaperA4, largest()}, {"Letter", chromedp.PaperLetter, largest()},
		{"dials, Letter", chromedp.PaperLetter, dials},
		{"eight machines", chromedp.PaperA4, drawn(t, "long", 501)}}[:trains.Draws(1, 4)] {
		t.Run(paper.name, func(t *testing.T) {
			b := open(t, written(t, paper.file))
			sheets, _ := printed(t, pdftotext, b, paper.size)
			figures := browser.Ask[[][]string](t, b,
				`[...document.querySelectorAll('figure')].map((f) => [f.className, f.querySelector('figcaption').textContent, ...[...f.querySelectorAll('svg:not(.narrow) text')].map((e) => e.textContent)])`)
			require.GreaterOrEqual(t, len(figures), 6)
			for n, f := range figures {
				caption := strings.SplitAfter(f[1], ".")[0]
				require.Equal(t, fmt.Sprintf("Figure %d.", n+1), caption)
				sheet := ""
				for n, lines := range sheets {
					if s := strings.Join(lines, "\n"); strings.Contains(s, caption) {
						if sheet = s; f[0] == "parts" && n > 0 {
							sheet = strings.Join(sheets[n-1], "\n") + "\n" + s
						}
					}
				}
				require.NotEmpty(t, sheet, caption)
				for _, words := range f[2:] {
					for _, word := range strings.Fields(words) { // turned ones are on lines of their own
						assert.Contains(t, sheet, word, caption)
					}
				}
			}
			fits := browser.Ask[[]string](t, b, fmt.Sprintf(`[...document.querySelectorAll('svg text')].filter((e) => {
				const r = e.getBoundingClientRect(), s = e.closest('svg').getBoundingClientRect();
				return r.left < s.left - 1 || r.right > s.right + 1 || r.top < s.top - 1 || r.bottom > s.bottom + %d;
			}).map((e) => e.textContent)`, 1))
			assert.Empty(t, fits, "words that leave their drawing")
		})
	}
}

// printed are the sheets of a page on paper, line by line without what stands at the foot of each; feet are those.
func printed(t *testing.T, pdftotext string, b *browser.Page, size chromedp.PaperSize) (sheets [][]string,
	feet []string) {
	t.Helper()
	pdf, err := chromedp.Run(b, chromedp.PrintToPDF(chromedp.PDFPaper(size)))
	require.NoError(t, err)
	file := filepath.Join(t.TempDir(), "report.pdf")
	require.NoError(t, os.WriteFile(file, pdf, 0o666))
	text, err := exec.Command(pdftotext, "-raw", file, "-").Output()
	require.NoError(t, err)
	running := regexp.MustCompile(`, plan [0-9a-f]{8}( \d+ of \d+)?$`)
	all := strings.Split(strings.TrimSuffix(string(text), "\f"), "\f")
	for n, s := range all {
		var lines []string
		at := fmt.Sprintf("%d of %d", n+1, len(all))
		for line := range strings.Lines(s) {
			line = strings.Join(strings.Fields(line), " ")
			switch {
			case running.MatchString(line):
				feet = append(feet, line)
			case line != "" && line != at:
				lines = append(lines, line)
			}
		}
		sheets = append(sheets, lines)
	}
	return sheets, feet
}

// drawn is the train file of a drawn train.
func drawn(t *testing.T, family string, seed uint64) string {
	return once(t, fmt.Sprint(family, seed), func(folder string) (string, error) {
		file := filepath.Join(folder, "train.toml")
		return file, os.WriteFile(file, []byte(families.TOML(family, seed)), 0o666)
	})
}

// Of every train, on A4 and on Letter (by default of one on A4): at most twelve sheets, each with its plan's number;
// none is nearly blank, and none ends with a heading.
func TestPrintsFewFullSheets(t *testing.T) {
	pdftotext := outside.Program(t, "pdftotext")
	files := []string{"../../../examples/base-bound/before.toml"}
	if trains.Everything() {
		for _, name := range []string{"turbine", "five-machines", "reverse-dials", "survey"} {
			files = append(files, "../../../examples/"+name+"/before.toml")
		}
		files = append(files, drawn(t, "long", 5), dressed(t, 501)) // seven machines, and eight
	}
	for _, file := range files {
		b := open(t, written(t, file))
		headings := browser.Ask[[]string](t, b,
			`[...document.querySelectorAll('details:not(.elsewhere) > summary, h2, h3')].map((e) => e.textContent.trim())`)
		require.Greater(t, len(headings), 10)
		number := browser.Ask[string](t, b, `document.querySelector('.field').textContent`)
		require.Regexp(t, `^plan [0-9a-f]{8}$`, number)
		for n, size := range []chromedp.PaperSize{chromedp.PaperA4, chromedp.PaperLetter}[:trains.Draws(1, 2)] {
			name := []string{"A4", "Letter"}[n]
			sheets, feet := printed(t, pdftotext, b, size)
			assert.LessOrEqual(t, len(sheets), 12, "%s, %s", file, name)
			require.Len(t, feet, len(sheets), "%s, %s", file, name)
			for n, lines := range sheets {
				assert.Contains(t, feet[n], number)
				require.NotEmpty(t, lines, "%s, %s: sheet %d", file, name, n+1)
				assert.Greater(t, len(lines), 20, "%s, %s: sheet %d is nearly blank", file, name, n+1)
				last := lines[len(lines)-1]
				assert.False(t, slices.ContainsFunc(headings, func(h string) bool {
					return strings.Join(strings.Fields(h), " ") == last
				}), "%s, %s: a heading alone at the foot of sheet %d: %s", file, name, n+1, last)
			}
		}
	}
}

// The same file gives the same page, and it is small.
func TestSamePage(t *testing.T) {
	file := "../../../examples/" + []string{"base-bound", "turbine"}[trains.Draws(0, 1)] + "/before.toml"
	first, err := os.ReadFile(written(t, file))
	require.NoError(t, err)
	anew := filepath.Join(t.TempDir(), "report.html")
	code := cli.Run([]string{"report", file, "-o", anew}, strings.NewReader(""), io.Discard, io.Discard)
	require.Equal(t, 3*trains.Draws(1, 0), code, "by default there is no plan")
	again, err := os.ReadFile(anew)
	require.NoError(t, err)
	assert.True(t, bytes.Equal(first, again))
	assert.Less(t, len(first), 1_500_000)
	assert.NotContains(t, string(first), "http://www.w3.org/1999/xlink")
	assert.NotContains(t, string(first), `\u20`, "no character is written as its number")
}

// Without a script: parts are folded until a link leads into one, the moves of another plan come into view with
// its button, and no drawing is wider than a phone where one stands for it.
func TestReportFoldsAndSwitches(t *testing.T) {
	b := open(t, written(t, largest()))
	b.Width(t, 700)
	assert.Empty(t, browser.Ask[[]string](t, b, `(() => {
		const parts = [...document.querySelectorAll('details.part')];
		parts.forEach((d) => d.open = true);
		const out = [...document.querySelectorAll('.roll')].filter((e) => e.scrollWidth > e.clientWidth + 1 &&
			(e.tabIndex < 0 || !e.getAttribute('aria-label'))).map((e) => e.textContent.slice(0, 80));
		parts.forEach((d) => d.open = false);
		return out;
	})()`), "what is scrolled sideways has a name and can be reached by keys")
	b.Width(t, 400)
	assert.Empty(t, browser.Ask[[]string](t, b, `[...document.querySelectorAll('.choice label')].filter((l) =>
		l.getClientRects().length !== 1 || getComputedStyle(l, '::before').borderRadius !== '50%').map((l) => l.textContent)`),
		"a button is on the line of its label")
	assert.Greater(t, browser.Ask[int](t, b, `document.querySelectorAll('details.part').length`), 10)
	assert.Zero(t, browser.Ask[int](t, b, `document.querySelectorAll('details.part[open]').length`))
	browser.Ask[bool](t, b, `document.querySelector('nav a[href="#packs"]').click() || true`)
	assert.Equal(t, 1, browser.Ask[int](t, b, `document.querySelectorAll('details.part[open]').length`),
		"the link opens its part")
	shown := `[...document.querySelectorAll('.option')].map((o) => getComputedStyle(o).display !== 'none')`
	options := browser.Ask[[]bool](t, b, shown)
	require.Len(t, options, browser.Ask[int](t, b, `document.querySelectorAll('.choice input').length`))
	require.GreaterOrEqual(t, len(options), 2)
	assert.Equal(t, []bool{true, false}, options[:2])
	browser.Ask[bool](t, b, `document.getElementById('moves-of-2').click() || true`)
	assert.Equal(t, []bool{false, true}, browser.Ask[[]bool](t, b, shown)[:2])
	over := browser.Ask[int](t, b,
		`(() => { const r = document.querySelector('#moves-1 .roll'); return r.scrollWidth - r.clientWidth; })()`)
	assert.LessOrEqual(t, over, 0, "machines stand below one another")
}
