package doc

import (
	"bytes"
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/testdata/outside"
)

// read gives the text of a document's PDF, page by page.
func read(t *testing.T, d *Doc, p Paper) []string {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, d.PDF(&b, p))
	out := outside.Poppler(t, b.Bytes(), "pdftotext", "-layout")
	return strings.Split(strings.TrimSuffix(string(out), "\f"), "\f")
}

// boxed is a table of two columns, the second to write in.
func boxed(rows int, row string, labels ...string) *Table {
	k := &Table{Form: "k", Columns: Wides("row", "reads")}
	for n := range rows {
		k.Rows = append(k.Rows, []Cell{{Text: fmt.Sprintf(row, n)}, {Write: labels}})
	}
	return k
}

// Nothing is lost where a section is longer than a page, and pages are counted.
func TestPDFRunsOn(t *testing.T) {
	b := Builder{Doc: Doc{
		Title: "Work order: long", Short: "long", Blanks: []string{"Crew", "Date"},
		Foot: []string{"File train.toml", "plan 0123abcd"},
	}}
	b.Say("a word")
	b.Section("Long", "by")
	b.Checks([]string{"tick"})
	b.Put(boxed(150, "row-%d-", ""))
	b.Section("", "Done by")
	b.Say("the end")
	pages := read(t, &b.Doc, A4)
	require.Greater(t, len(pages), 2)
	for n, page := range pages {
		assert.Regexp(t, fmt.Sprintf(`(?m)^ *long .*date +%d of %d$`, n+1, len(pages)), page)
		assert.Regexp(t, `(?m)^ *File train.toml +plan 0123abcd$`, page)
	}
	all := strings.Join(pages, "")
	for i := range 150 {
		assert.Equal(t, 1, strings.Count(all, fmt.Sprintf("row-%d-", i)))
	}
	for _, words := range []string{"Work order: long", "Crew", "a word", "Long", "tick", "Done by", "the end"} {
		assert.Equal(t, 1, strings.Count(all, words), words)
	}
}

// A section that fits on a page is not cut.
func TestPDFKeepsSectionsWhole(t *testing.T) {
	b := Builder{Doc: Doc{Title: "sections"}}
	for i := range 20 {
		b.Section(fmt.Sprintf("section-%d-", i))
		b.Put(boxed(7, fmt.Sprintf("row-%d-%%d-", i), "left", "right"))
	}
	for _, paper := range []Paper{A4, Letter} {
		pages := read(t, &b.Doc, paper)
		assert.Greater(t, len(pages), 1)
		for _, page := range pages {
			for i := range 20 {
				first, last := fmt.Sprintf("section-%d-", i), fmt.Sprintf("row-%d-6-", i)
				assert.Equal(t, strings.Contains(page, first), strings.Contains(page, last), first)
			}
		}
	}
}

// The last section, where a document is signed, is on the page of the one before it, however many stand above.
func TestPDFSignsNoBlankPage(t *testing.T) {
	alone := 0
	for rows := range 24 {
		b := Builder{Doc: Doc{Title: "signed"}}
		b.Put(boxed(4+rows, "row-%d-", "left", "right"))
		b.Section("")
		b.ShortChecks([]string{"tags off-"})
		b.Section("", "Done by")
		pages := read(t, &b.Doc, A4)
		last := pages[len(pages)-1]
		assert.Contains(t, last, "Done by")
		assert.Contains(t, last, "tags off-", "%d rows", 4+rows)
		if !strings.Contains(last, "row-") {
			alone++
		}
	}
	assert.Positive(t, alone, "some do not fit below the rows")
}

// An empty document is a page.
func TestPDFOfNothing(t *testing.T) {
	assert.Len(t, read(t, &Doc{}, A4), 1)
}

// Short checks stand side by side as long as they fit, and none is lost.
func TestPDFChecksSideBySide(t *testing.T) {
	b := Builder{Doc: Doc{Title: "checks"}}
	b.ShortChecks([]string{"one-", "two-", strings.Repeat("long word ", 40) + "end-", "three-"})
	page := read(t, &b.Doc, A4)[0]
	assert.Regexp(t, `one- +two-`, page)
	assert.Contains(t, page, "end-")
	assert.Regexp(t, `(?m)^ *three-`, page)
}

// Every kind of block is on paper; what stands about names is not, and a letter that
// the font lacks is replaced and owned up to.
func TestPDFOfEachBlock(t *testing.T) {
	d := full()
	d.Blocks = append(d.Blocks, Paragraph{Words: "\u538b"})
	pages := read(t, d, A4)
	assert.Len(t, pages, 2, "a page ends where it is told to")
	all := strings.Join(strings.Fields(strings.Join(pages, " ")), " ")
	after := -1
	for _, words := range []string{
		"Work order", "Before all.", "Moves (provisional)", "Left is left of <pump>.", "motor: held", "foot shims", "a 1: 2",
		"running", "share 3", "machine station up, planned",
		"motor drive end 0.1", "motor far end 0.2",
		"• one", "1. first", "of the first", "tick", "quick box", "More", "folded", "HOLD", "not before", "engineer",
		"units: mm", "Done by", "a=b", "File train.toml plan 12", "First: the end.", "End", "x", "\ufffd",
		"\ufffd stands for a letter that the font of this sheet does not have",
	} {
		at := strings.Index(all[max(0, after):], words)
		if assert.GreaterOrEqual(t, at, 0, words) {
			after = max(0, after) + at
		}
	}
	assert.NotContains(t, all, Isolate)
}

// HTML for paper has the size of the paper, and is laid out as the PDF is: room to write
// beside headings, and no head above tables that need none.
func TestSheet(t *testing.T) {
	b := Builder{Doc: Doc{
		Title: "Work order: <x>", Blanks: []string{"Crew"}, Foot: []string{"File train.toml", "plan 12"},
	}}
	b.Say("A word.")
	b.Section("Stage 1", "by", "time")
	b.Checks([]string{"tick"})
	bare := boxed(1, "row-%d-", "left", "right")
	bare.Bare = true
	b.Put(bare)
	b.Section("", "Done by")
	b.ShortChecks([]string{"one", "two"})
	var out bytes.Buffer
	require.NoError(t, b.Doc.Sheet(&out, Letter))
	for _, want := range []string{
		"<title>Work order: &lt;x&gt;</title>", "@page { size: Letter;",
		"<section>\n<h1>Work order: &lt;x&gt;</h1>\n<div class=\"fields\"><span>Crew<i></i></span></div>\n" +
			"<p><bdi>A word.</bdi></p>\n</section>\n",
		"<div class=\"top\"><h2>Stage 1</h2>" +
			"<div class=\"fields\"><span>by<i></i></span><span>time<i></i></span></div>\n</div>\n",
		"<ul class=\"check\">\n<li>tick</li>\n</ul>\n<div class=\"roll\">\n<table>\n<tbody>\n" +
			"<tr><th scope=\"row\" class=\"short\">row-0-</th>" +
			"<td class=\"write\"><span>left</span><span>right</span></td></tr>",
		"<section>\n<div class=\"fields\"><span>Done by<i></i></span></div>\n" +
			"<ul class=\"check side\">\n<li>one</li>\n<li>two</li>\n</ul>\n</section>\n",
		"<footer>File train.toml, plan 12</footer>",
	} {
		assert.Contains(t, out.String(), want)
	}
}

// Sections are cut between tables where that is a page fewer: the rest goes on under the heading and the heads of its
// columns, and what joins a table stays with it.
func TestPDFCutsSectionsToSaveAPage(t *testing.T) {
	b := Builder{Doc: Doc{Title: "cuts"}}
	for i := range 3 {
		b.Section(fmt.Sprintf("section-%d-", i))
		for j := range 3 {
			k := boxed(3, fmt.Sprintf("row-%d-%d-%%d-", i, j), "left", "right")
			k.Columns = Wides("numbered", "reads")
			k.Caption, k.Form = fmt.Sprintf("table-%d-%d-", i, j), "one"
			b.Put(k)
			join := boxed(1, fmt.Sprintf("join-%d-%d-%%d-", i, j), "left", "right")
			join.Form, join.Joins, join.Bare = "two", true, true
			b.Put(join)
		}
	}
	pages := read(t, &b.Doc, A4)
	require.Len(t, pages, 2, "whole they are three")
	all := strings.Join(pages, "")
	continued := 0
	for _, page := range pages {
		continued += strings.Count(page, ", continued")
		for i := range 3 {
			for j := range 3 {
				table, join := fmt.Sprintf("table-%d-%d-", i, j), fmt.Sprintf("join-%d-%d-0-", i, j)
				assert.Equal(t, strings.Contains(page, table), strings.Contains(page, join), table)
				assert.Equal(t, 1, strings.Count(all, table))
			}
		}
	}
	assert.Positive(t, continued)
	heads := strings.Count(all, "numbered")
	assert.Equal(t, 3+continued, heads, "each part of a section has the heads of its columns once")
}

// Two rows of a paired table stand side by side where they fit: what tells them apart is above them, their labels
// beside them; where they do not fit each has a line of its own, with all of it.
func TestPDFPairs(t *testing.T) {
	paired := func(number string) string {
		b := Builder{Doc: Doc{Title: "pairs"}}
		k := &Table{Caption: "dials", Form: "pair", Paired: true, Columns: Wides("dial", "top", "reads", "low", "reads")}
		for _, name := range []string{"A\nnear", "B\nfar", "C\nlast"} {
			k.Rows = append(k.Rows, []Cell{{Text: name}, {Text: number}, {Write: []string{""}}, {Text: number},
				{Write: []string{""}}})
		}
		b.Put(k)
		return read(t, &b.Doc, A4)[0]
	}
	page := paired("0.5")
	assert.Regexp(t, `dials +A: near; B: far; C: last`, page)
	assert.Regexp(t, `top +reads +low +reads +top +reads +low +reads`, page)
	assert.Regexp(t, `(?m)^ *A +0.5 +0.5 +B +0.5 +0.5$`, page)
	assert.Regexp(t, `(?m)^ *C +0.5 +0.5$`, page)
	assert.NotContains(t, page, "dial ")
	page = paired("0.5 and some words more")
	assert.Regexp(t, `(?m)^ *B: far +0.5`, page)
	assert.NotContains(t, page, "A: near; B")
}

// Two boxes in a cell have their labels over them in place of the column's head.
func TestPDFLabelsBoxes(t *testing.T) {
	pages := read(t, &Doc{Title: "T", Blocks: []Block{boxed(2, "row %d", "left foot", "right foot")}}, A4)
	assert.Regexp(t, `left foot +right foot`, pages[0])
	assert.NotContains(t, pages[0], "reads")
	assert.Contains(t, read(t, &Doc{Title: "T", Blocks: []Block{boxed(2, "row %d", "")}}, A4)[0], "reads")
}

// A column is not made narrower than its longest word as long as another can be.
func TestPDFBreaksNoWord(t *testing.T) {
	f := form{widths: []float64{60, 50, 70}, words: []float64{10, 45.4, 12}, boxes: []int{0, 0, 0},
		bold: []bool{false, true, false}}
	f.fit(100)
	assert.InDelta(t, 100, f.widths[0]+f.widths[1]+f.widths[2], 1e-9)
	assert.GreaterOrEqual(t, f.widths[1], 45.4)
}
