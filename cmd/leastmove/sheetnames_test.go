package main

import (
	"encoding/json"
	"encoding/xml"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/testdata/outside"
	"leastmove/testdata/trains"
)

// Names that break things, each of another kind.
const (
	script = `<script>alert("1")</script> & | *b* [x](y)`
	hebrew = "מדחס"
	han    = "压缩机"
)

// odd writes the three-machine example with such names, and with some of 200
// letters.
func odd(t *testing.T) string {
	text, err := os.ReadFile("../../examples/turbine/before.toml")
	require.NoError(t, err)
	s := string(text)
	change := func(old, new string) {
		require.Contains(t, s, old)
		s = strings.ReplaceAll(s, old, new)
	}
	change(`"turbine"`, fmt.Sprintf("%q", script))
	change("{ turbine = 0.3 }", fmt.Sprintf("{ %q = 0.3 }", script))
	change(`"compressor"`, `"`+hebrew+`"`)
	change(`"drive end"`, `"`+strings.Repeat("w", 200)+`"`)
	change(`"far end"`, `"`+strings.TrimSpace(strings.Repeat("long name ", 20))+`"`)
	change(`"low speed"`, `"`+strings.Repeat("M", 200)+`"`)
	change(`"high speed"`, `"`+han+`"`)
	change(`"steam turbine, gear and compressor (invented example)"`, `"`+strings.Repeat("title ", 33)+`"`)
	path := filepath.Join(t.TempDir(), "odd.toml")
	require.NoError(t, os.WriteFile(path, []byte(s), 0o666))
	return path
}

// A name is text and nothing else, in every form.
func TestSheetOfOddNames(t *testing.T) {
	file := odd(t)
	html := sheetOf(t, file, "html")
	assert.NotContains(t, strings.ToLower(html), "<script")
	assert.Contains(t, html, `&lt;script&gt;alert(&#34;1&#34;)&lt;/script&gt; &amp; | *b* [x](y)`)
	for _, name := range []string{hebrew, han, strings.Repeat("w", 200), strings.Repeat("M", 200)} {
		assert.Contains(t, html, name)
	}
	assert.NotContains(t, html, "http", "it needs nothing from elsewhere")

	md := sheetOf(t, file, "md")
	assert.NotContains(t, md, "<script")
	assert.Contains(t, md, `&lt;script>alert("1")&lt;/script> &amp; \| \*b\* \[x\](y)`)
	for _, name := range []string{hebrew, han, strings.Repeat("w", 200), strings.Repeat("M", 200)} {
		assert.Contains(t, md, name)
	}
}

// On paper long names are wrapped and keep to the page, right-to-left names read
// right, and letters without a glyph are replaced and owned up to.
func TestSheetPDFOfOddNames(t *testing.T) {
	pdf := sheetOf(t, odd(t), "pdf")
	text := outside.Poppler(t, pdf, "pdftotext", "-raw")
	flat := strings.Join(strings.Fields(text), "")
	assert.Contains(t, flat, strings.Join(strings.Fields(script), ""))
	assert.Contains(t, flat, hebrew, "in the order in which it is read")
	assert.Contains(t, flat, strings.Repeat("\uFFFD", 3), "the font has none of "+han)
	assert.Contains(t, flat, "standsforaletterthatthefontofthissheetdoesnothave")
	assert.Contains(t, flat, strings.Repeat("M", 200), "in the text above the stages")
	assert.Contains(t, flat, strings.Repeat("w", 20))

	var doc struct {
		Pages []struct {
			Width  float64 `xml:"width,attr"`
			Height float64 `xml:"height,attr"`
			Words  []struct {
				Left   float64 `xml:"xMin,attr"`
				Right  float64 `xml:"xMax,attr"`
				Bottom float64 `xml:"yMax,attr"`
				Top    float64 `xml:"yMin,attr"`
				Text   string  `xml:",chardata"`
			} `xml:"word"`
		} `xml:"body>doc>page"`
	}
	boxes := outside.Poppler(t, pdf, "pdftotext", "-bbox")
	decoder := xml.NewDecoder(strings.NewReader(boxes))
	decoder.Strict = false
	decoder.Entity = xml.HTMLEntity
	require.NoError(t, decoder.Decode(&doc))
	require.NotEmpty(t, doc.Pages)
	const margin = 9 / 25.4 * 72 // pt
	words := 0
	for _, p := range doc.Pages {
		for _, w := range p.Words {
			words++
			assert.GreaterOrEqual(t, w.Left, margin-1, w.Text)
			assert.LessOrEqual(t, w.Right, p.Width-margin+1, w.Text)
			assert.GreaterOrEqual(t, w.Top, margin-3, w.Text)
			assert.LessOrEqual(t, w.Bottom, p.Height-margin+3, w.Text)
		}
	}
	assert.Greater(t, words, 300)
}

// The same file gives the same bytes, with no time of day in them.
func TestSheetIsTheSameEveryTime(t *testing.T) {
	file := "../../examples/turbine/before.toml"
	if trains.Everything() {
		file = "../../examples/five-machines/before.toml"
	}
	for _, format := range []string{"pdf", "md", "html"}[:trains.Draws(1, 3)] {
		first := sheetOf(t, file, format)
		for range trains.Draws(1, 3) {
			require.True(t, first == runNow("sheet", file, "--format", format, "--released").out, format)
		}
	}
}

// What a sheet calls its plan is the number of the plan as JSON: how its SHA-256 begins, but for what is beside
// the plan.
func TestSheetNamesItsPlan(t *testing.T) {
	w := runOnce("plan", "../../examples/turbine/before.toml", "--use", "0.8", "--format", "json")
	require.Zero(t, w.code)
	var plan struct{ Number string }
	require.NoError(t, json.Unmarshal([]byte(w.out), &plan))
	require.Regexp(t, "^[0-9a-f]{8}$", plan.Number)
	assert.Contains(t, sheetOf(t, "../../examples/turbine/before.toml", "md", "--use", "0.8"),
		"plan "+plan.Number+" (number of leastmove plan")
	assert.NotContains(t, sheetOf(t, "../../examples/turbine/before.toml", "md"),
		"plan "+plan.Number+" (number of leastmove plan",
		"another plan has another number")
}
