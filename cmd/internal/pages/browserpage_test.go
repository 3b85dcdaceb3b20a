package pages_test

import (
	"bytes"
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/cmd/internal/cli"
	"leastmove/testdata/browser"
	"leastmove/testdata/outside"
	"leastmove/testdata/trains"
)

// pages are those that are looked at: a plan with readings and errors; after the moves a machine
// that was held. With all cases also a train without a plan, names that are hard to print, five machines, inches,
// nothing done at all, and a train that has nothing left to do.
func pages(t *testing.T) map[string]string {
	const examples = "../../../examples/"
	quiet := filepath.Join(t.TempDir(), "quiet.toml")
	require.NoError(t, os.WriteFile(quiet, []byte(quietTrain), 0o666))
	some := map[string]string{
		"readings":       written(t, examples+"turbine/before.toml"),
		"verified, held": verified(t, examples+"turbine/before.toml", examples+"turbine/after.toml"),
	}
	if trains.Everything() {
		some["impossible"] = written(t, examples+"base-bound/before.toml")
		some["hard names"] = written(t, hardNames(t))
		some["verified, met"] = verified(t, quiet, quiet)
		some["five"] = written(t, examples+"five-machines/before.toml")
		some["inches"] = written(t, examples+"reverse-dials/before.toml")
		some["verified, inches"] = verified(t, examples+"reverse-dials/before.toml", examples+"reverse-dials/before.toml")
		some["verified, hard names"] = verified(t, hardNames(t), hardNames(t))
	}
	return some
}

// quietTrain is invented, and stands as it should.
const quietTrain = `units = "mm"
title = "motor and pump"
[[machine]]
name = "motor"
height = 300
foot = [{ name = "fan end", x = 0, spread = 400 }, { name = "drive end", x = 500, spread = 400 }]
[[machine]]
name = "pump"
at = 900
height = 300
foot = [{ name = "drive end", x = 0, spread = 400 }, { name = "far end", x = 500, spread = 400 }]
[[coupling]]
name = "coupling"
from = "motor"
to = "pump"
x = 700
limit = { offset = 0.05, angle = 0.5 }
found = { v = { offset = 0.01, angle = 0 }, h = { offset = 0, angle = 0.1 } }
`

// Asked for nothing, said nothing to the console, fits its window, and can be read:
// in every width and both schemes.
func TestPageInBrowser(t *testing.T) {
	for name, path := range pages(t) {
		t.Run(name, func(t *testing.T) {
			t.Run("tidy", func(t *testing.T) { valid(t, path) })
			b := open(t, path)
			for _, scheme := range []string{"light", "dark"} {
				b.Scheme(t, scheme)
				for _, width := range []int64{360, 768, 1280}[trains.Draws(2, 0):] {
					b.Width(t, width)
					over := browser.Ask[int](t, b, `document.documentElement.scrollWidth - window.innerWidth`)
					assert.LessOrEqual(t, over, 0, "%d pixels, %s: wider than the window", width, scheme)
				}
				dim := browser.Ask[[]string](t, b, contrast)
				assert.Empty(t, dim, scheme)
			}
			faults := browser.Ask[[]string](t, b, structure)
			assert.Empty(t, faults)
			b.Lock()
			defer b.Unlock()
			assert.Equal(t, []string{"file://" + path}, b.Asked, "the page and nothing else")
			assert.Empty(t, b.Errors)
		})
	}
}

// valid has tidy find nothing wrong. It knows HTML 5 in part only: attributes of ARIA
// and what stands within a drawing it takes as they are. What it does not look at,
// headings, captions and ids, structure does.
func valid(t *testing.T, path string) {
	out, err := exec.Command(outside.Program(t, "tidy"), "-q", "-e", "-utf8", path).CombinedOutput()
	assert.NoError(t, err)
	assert.Empty(t, string(out))
}

// contrast finds text whose contrast is below AA of the Web Content Accessibility
// Guidelines 2.1, success criterion 1.4.3: 4.5, of large letters 3. Drawings are
// looked at with their inversion.
const contrast = `(() => {
	const part = (v) => { v /= 255; return v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4; };
	const light = (c) => 0.2126 * part(c[0]) + 0.7152 * part(c[1]) + 0.0722 * part(c[2]);
	const color = (s) => (s.match(/[\d.]+/g) || []).map(Number);
	const ground = (e) => {
		for (; e; e = e.parentElement) {
			const c = color(getComputedStyle(e).backgroundColor);
			if (c.length === 3 || c[3] > 0) return c;
		}
		return [255, 255, 255];
	};
	const dim = [];
	let seen = 0;
	const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
	while (walk.nextNode()) {
		const e = walk.currentNode.parentElement;
		if (!walk.currentNode.textContent.trim() || ['STYLE', 'title', 'desc'].includes(e.tagName)) continue;
		seen++;
		const style = getComputedStyle(e), drawing = e.closest('svg');
		let ink = color(drawing ? style.fill : style.color);
		if (drawing && getComputedStyle(drawing).filter.includes('invert')) ink = ink.map((v) => 255 - v);
		const a = light(ink), b = light(ground(e));
		const ratio = (Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05);
		const size = parseFloat(style.fontSize), large = size >= 24 || size >= 18.66 && Number(style.fontWeight) >= 700;
		if (!(ratio >= (large ? 3 : 4.5))) dim.push(ratio.toFixed(2) + ': ' + walk.currentNode.textContent.trim().slice(0, 40));
	}
	if (seen < 100) dim.push('only ' + seen + ' texts were looked at');
	return dim;
})()`

// structure finds what would mislead whoever hears the page or goes through it by
// keys.
const structure = `(() => {
	const faults = [];
	const one = (what) => { if (document.querySelectorAll(what).length !== 1) faults.push('not one ' + what); };
	['main', 'header', 'footer', 'nav', 'h1'].forEach(one);
	if (document.documentElement.lang !== 'en') faults.push('no language');
	let last = 0;
	document.querySelectorAll('h1, h2, h3, h4, h5, h6').forEach((h) => {
		const level = Number(h.tagName[1]);
		if (level > last + 1) faults.push('a level is passed over: ' + h.textContent);
		if (!h.textContent.trim()) faults.push('an empty heading');
		last = level;
	});
	const ids = new Set();
	document.querySelectorAll('[id]').forEach((e) => { if (ids.has(e.id)) faults.push('twice: ' + e.id); ids.add(e.id); });
	document.querySelectorAll('a').forEach((a) => { if (!ids.has(a.getAttribute('href').slice(1))) faults.push('leads nowhere: ' + a.href); });
	document.querySelectorAll('table').forEach((t) => {
		if (!t.caption || !t.caption.textContent.trim()) faults.push('a table without a caption');
		if (!t.querySelector('thead th[scope=col]') || !t.querySelector('tbody th[scope=row]')) faults.push('a table without headers: ' + t.caption.textContent);
		t.querySelectorAll('th').forEach((h) => { if (!h.scope) faults.push('no scope: ' + h.textContent); });
	});
	document.querySelectorAll('svg:not([aria-hidden])').forEach((s) => { if (s.getAttribute('role') !== 'img' || !s.getAttribute('aria-label')) faults.push('a drawing without words'); });
	document.querySelectorAll('.roll').forEach((r) => { if (r.scrollWidth > r.clientWidth && r.tabIndex < 0) faults.push('keys cannot move: ' + r.textContent.slice(0, 60)); });
	if (document.querySelector('script, link, img, iframe, object, [src], [onclick], [onload]')) faults.push('something that is fetched or run');
	return faults;
})()`

// Every foot and every coupling of the JSON is on the page, with the same numbers.
func TestPageHasTheNumbersOfThePlan(t *testing.T) {
	for _, file := range []string{"turbine", "five-machines", "reverse-dials"}[:trains.Draws(1, 3)] {
		t.Run(file, func(t *testing.T) {
			path := "../../../examples/" + file + "/before.toml"
			var out, stderr bytes.Buffer
			require.Zero(t, made.kept.Run([]string{"plan", path, "--format", "json"}, strings.NewReader(""), &out, &stderr))
			var plan planned
			require.NoError(t, json.Unmarshal(out.Bytes(), &plan))
			b := open(t, written(t, path))
			rows := browser.Ask[[][]string](t, b,
				`[...document.querySelectorAll('tbody tr')].map((r) => [r.closest('table').caption.textContent, ...[...r.cells].map((c) => c.textContent)])`)
			feet := 0
			for _, m := range plan.Machines {
				for _, f := range m.Feet {
					feet++
					row := find(t, rows, "Feet", m.Name, f.Name, 10)
					same(t, row[3:8], f.X, f.Y, f.Up, f.Left, f.Axial)
					if f.Pack != nil {
						same(t, row[8:10], f.Pack.Now, f.Pack.Then)
					}
				}
			}
			require.NotZero(t, feet)
			for _, c := range plan.Couplings {
				for _, s := range c.States {
					caption := c.Name + ": " + c.To + " relative to " + c.From
					before := findUnder(t, rows, caption, s.Condition, "before, true geometry")
					same(t, before[2:6], s.Found.V.Offset, s.Found.V.Angle, s.Found.H.Offset, s.Found.H.Angle)
					same(t, before[7:], s.Use.Found)
					after := findUnder(t, rows, caption, s.Condition, "after, true geometry")
					same(t, after[2:6], s.Planned.V.Offset, s.Planned.V.Angle, s.Planned.H.Offset, s.Planned.H.Angle)
					same(t, after[7:], s.Use.Planned)
				}
			}
		})
	}
}

// After the moves too every number of the JSON is on the page: what was read, and
// what each coupling was and was to be.
func TestPageHasTheNumbersAfter(t *testing.T) {
	const before, now = "../../../examples/turbine/before.toml",
		"../../../examples/turbine/after.toml"
	path := verified(t, before, now)
	var out, stderr bytes.Buffer
	require.Equal(t, 3, cli.Run([]string{"verify", filepath.Join(filepath.Dir(path), "plan.json"), now, "--format",
		"json"}, strings.NewReader(""), &out, &stderr))
	var doc struct {
		Couplings []struct {
			Name, From, To string
			States         []struct {
				Condition              string
				Before, Planned, After struct {
					V, H struct{ Offset, Angle json.Number }
				}
			}
		}
	}
	require.NoError(t, json.Unmarshal(out.Bytes(), &doc))
	b := open(t, path)
	tables := browser.Ask[[]string](t, b,
		`[...document.querySelectorAll('#couplings table')].map((t) => t.caption.textContent + ' ' + [...t.rows].map((r) => [...r.cells].map((c) => c.textContent).join(' ')).join(' '))`)
	n := 0
	for _, c := range doc.Couplings {
		for _, s := range c.States {
			require.Less(t, n, len(tables))
			assert.True(t, strings.HasPrefix(tables[n], s.Condition), tables[n])
			for _, is := range []struct {
				V, H struct{ Offset, Angle json.Number }
			}{s.Before, s.Planned, s.After} {
				for _, number := range []json.Number{is.V.Offset, is.V.Angle, is.H.Offset, is.H.Angle} {
					require.NotEmpty(t, number)
					assert.Contains(t, tables[n], strings.TrimPrefix(number.String(), "-"))
				}
			}
			n++
		}
	}
	assert.Len(t, tables, n)
	require.Greater(t, n, 2)
	names := browser.Ask[[]string](t, b,
		`[...document.querySelectorAll('figure svg:not([aria-hidden])')].map((s) => s.querySelector('title').textContent)`)
	assert.Len(t, names, 8, "where feet went, the couplings, from the side and from above, wide and narrow each")
}

// planned is what of a plan in JSON must be on the page.
type planned struct {
	Machines []struct {
		Name string
		Feet []struct {
			Name                  string
			X, Y, Up, Left, Axial json.Number
			Pack                  *struct{ Now, Then json.Number }
		}
	}
	Couplings []struct {
		Name, From, To string
		States         []struct {
			Condition      string
			Use            struct{ Found, Planned json.Number }
			Found, Planned struct {
				V, H struct{ Offset, Angle json.Number }
			}
		}
	}
}

// find is the row of a foot in the table of a caption that has so many columns, with the foot's own y where the row is
// of both feet of a pair.
func find(t *testing.T, rows [][]string, caption, machine, foot string, columns int) []string {
	pair, right := strings.CutSuffix(foot, " right")
	for _, r := range rows {
		if len(r) != columns+1 || r[0] != caption || r[1] != machine {
			continue
		}
		if r[2] == foot {
			return r
		}
		if y, both := strings.CutPrefix(r[4], "±\u00a0"); both && r[2] == strings.TrimSuffix(pair, " left")+", both" {
			if r = slices.Clone(r); right {
				y = "-" + y
			}
			r[4] = y
			return r
		}
	}
	t.Fatalf("no row of %s %s under %q", machine, foot, caption)
	return nil
}

// findUnder is the row of a name under a condition, which the first of its rows says, without the condition.
func findUnder(t *testing.T, rows [][]string, caption, condition, name string) []string {
	under := ""
	for _, r := range rows {
		if !strings.HasPrefix(r[0], caption+",") || len(r) != 9 {
			continue
		}
		if r[1] != "" {
			under = r[1]
		}
		if under == condition && r[2] == name {
			return r[1:]
		}
	}
	t.Fatalf("no row %q under %q, %s", name, caption, condition)
	return nil
}

// same compares numbers as they are printed, but for zeros at their end.
func same(t *testing.T, cells []string, numbers ...json.Number) {
	t.Helper()
	for n, number := range numbers {
		var cell json.Number
		require.NoError(t, json.Unmarshal([]byte(cells[n]), &cell), cells[n])
		got, err := cell.Float64()
		require.NoError(t, err)
		want, err := number.Float64()
		require.NoError(t, err)
		assert.Equal(t, want, got)
	}
}

// On a phone each box of a sheet stands beside the reading that belongs in it, and its train fits.
func TestSheetOnAPhone(t *testing.T) {
	const file = "../../../examples/reverse-dials/before.toml"
	b := open(t, once(t, "sheet "+file, func(folder string) (string, error) {
		out := filepath.Join(folder, "sheet.html")
		return out, run("sheet", file, "-o", out)
	}))
	b.Width(t, 400)
	apart := browser.Ask[[]string](t, b, `[...document.querySelectorAll("td.write")].filter((box) => {
		const before = box.previousElementSibling.getBoundingClientRect();
		return before.height > 0 && Math.abs(before.bottom - box.getBoundingClientRect().bottom) > 1;
	}).map((box) => box.parentElement.textContent)`)
	assert.Empty(t, apart)
	letters := browser.Ask[float64](t, b, `(() => {
		const text = [...document.querySelectorAll("svg.narrow text")];
		return Math.min(...text.map((e) => e.getBoundingClientRect().height));
	})()`)
	assert.Greater(t, letters, 9., "pixels")
}
