package doc

import (
	"bytes"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// full is a document with one of each block.
func full() *Doc {
	b := &Builder{Mark: "provisional"}
	b.Say("Before all.")
	b.Heading("Moves")
	b.Say("Left is left of " + Isolate + "<pump>" + Resume + ".")
	b.Subheading("motor: held")
	b.Space()
	pump := Table{Caption: "pump", Columns: []Column{Wide("foot"), Number("shims")}}
	pump.Add("a", "1\n2")
	b.Table(pump)
	for _, condition := range []string{"running", "cold"} {
		k := Table{Caption: condition, Form: "coupling", Columns: []Column{Wide(""), Fixed("before")}}
		k.Add("share", "3")
		b.Table(k)
	}
	grouped := Table{Columns: []Column{Wide("machine"), Wide("station"), {Head: "up, planned", Brief: "planned"}},
		Names: 2, Grouped: true}
	grouped.Add("motor", "drive end", "0.1")
	grouped.Add("motor", "far end", "0.2")
	b.Table(grouped)
	b.Items("one", "two")
	b.Put(&List{Kind: Numbers, Items: [][]string{{"first", "of the first"}}},
		&List{Kind: Checks, Items: [][]string{{"tick"}}},
		&List{Kind: Short, Items: [][]string{{"quick"}, {"box"}}})
	b.Put(&Fold{Heading: "More", Blocks: []Block{Paragraph{Words: "folded"}}},
		&Hold{Heading: "HOLD", Blanks: []string{"engineer"}, Blocks: []Block{Paragraph{Words: "not before"}}},
		Facts{{Name: "units", Value: "mm"}}, Blanks{"Done by"}, Lines{Lines: []string{"a = b"}}, PageBreak{},
		See{Before: "First:", Anchor: "end", Words: "the end"},
		&Figure{Anchor: "f-1", Title: "What to move", Alt: "Numbers are in the tables.",
			SVG: [][]byte{[]byte(`<?xml?><svg width="1" viewBox="0 0 1 1"><g/></svg>`)}})
	b.Heading("End")
	b.now.Anchor, b.now.Mark = "end", ""
	b.Table(Table{Columns: []Column{Wide("coupling"), Fixed("reads")}, Bare: true,
		Rows: [][]Cell{{{Text: "x", Bold: true}, {Write: []string{"±0.1", ""}}}}})
	b.Doc.Title, b.Doc.Foot, b.Doc.Numbered = "Work order", []string{"File train.toml", "plan 12"}, true
	return &b.Doc
}

// A figure in parts may go on on the next sheet; its words are said once.
func TestFigureInParts(t *testing.T) {
	b := &Builder{}
	b.Put(&Figure{Anchor: "f-1", Title: "Rows", Alt: "Two.", SVG: [][]byte{[]byte(`<svg viewBox="0 0 1 1"><a/></svg>`),
		[]byte(`<svg viewBox="0 0 2 2"><b/></svg>`)}})
	var page bytes.Buffer
	require.NoError(t, b.Doc.HTML(&page))
	assert.Contains(t, page.String(), `<figure id="f-1" class="parts">`)
	assert.Contains(t, page.String(), `aria-label="Rows. Two."><title>Rows</title><desc>Two.</desc><a/></svg>`+
		`<svg class="drawing" viewBox="0 0 2 2" aria-hidden="true"><b/></svg>`)
}

// What is set in type has an arrow that begins no line; text keeps its two characters, and names are as they are.
func TestArrow(t *testing.T) {
	b := &Builder{}
	b.Say("4.50 -> 4.30 at " + Isolate + "a -> b" + Resume + ", 1 -> 2")
	assert.Equal(t, "4.50\u00a0→\u00a04.30 at a -> b, 1\u00a0→\u00a02",
		Bare(typeset("4.50 -> 4.30 at "+Isolate+"a -> b"+Resume+", 1 -> 2")))
	var text, page bytes.Buffer
	require.NoError(t, b.Doc.Text(&text, 80))
	assert.Contains(t, text.String(), "4.50 -> 4.30 at a -> b, 1 -> 2")
	require.NoError(t, b.Doc.HTML(&page))
	assert.Contains(t, page.String(), "4.50\u00a0→\u00a04.30 at <bdi>a -&gt; b</bdi>, 1\u00a0→\u00a02")
}

// A cell of a wide table says what its column is, for screens on which rows are laid out by themselves.
func TestCellsOfWideTablesSayTheirColumn(t *testing.T) {
	for columns, marked := range map[int]bool{4: false, 5: true} {
		k := Table{Columns: []Column{Wide("machine")}}
		row := []string{"pump"}
		for n := range columns - 1 {
			k.Columns, row = append(k.Columns, Number(string(rune('a'+n)))), append(row, "1")
		}
		k.Add(row...)
		b := &Builder{}
		b.Table(k)
		var page bytes.Buffer
		require.NoError(t, b.Doc.HTML(&page))
		assert.Equal(t, marked, strings.Contains(page.String(), `data-head="a"`), "%d columns", columns)
	}
}

func TestText(t *testing.T) {
	var b bytes.Buffer
	require.NoError(t, full().Text(&b, 40))
	assert.Equal(t, `Work order
Before all.

Moves (provisional)
-------------------
Left is left of <pump>.
motor: held

pump
  foot  shims
  a         1
            2
  running  before
  share    3

  cold     before
  share    3
  station      planned
  motor
  - drive end  0.1
  - far end    0.2
- one
- two
1. first
   of the first
[ ] tick
[ ] quick
[ ] box

More
----
folded

HOLD
----
engineer ................
not before
units: mm
Done by ................
  a = b

First: the end.
Figure: What to move

End
---
  x  ±0.1 ........ ........

File train.toml, plan 12
`, b.String())
}

func TestMarkdown(t *testing.T) {
	var b bytes.Buffer
	require.NoError(t, full().Markdown(&b))
	for _, want := range []string{
		"# Work order\n\nBefore all.\n\n## Moves (provisional)\n\nLeft is left of &lt;pump>.\n",
		"\npump\n\n| foot | shims |\n|---|---:|\n| a | 1: 2 |\n",
		"\nrunning\n\n|  | before |", "| motor | drive end | 0.1 |\n| motor | far end | 0.2 |\n",
		"- one\n- two\n", "1. first\n\n   of the first\n", "- [ ] tick\n", "```\na = b\n```",
		"| coupling | reads |\n|---|---|\n| **x** | ±0.1 ........ ........ |\n", "\nFile train.toml, plan 12\n",
	} {
		assert.Contains(t, b.String(), want)
	}
}

func TestHTML(t *testing.T) {
	var b bytes.Buffer
	require.NoError(t, full().HTML(&b))
	for _, want := range []string{
		"<title>Work order</title>", "Left is left of <bdi>&lt;pump&gt;</bdi>.", "<h3>motor: held</h3>",
		`<caption>pump</caption>`, `<th scope="row">a</th><td class="right">1: 2</td>`,
		"<caption>running</caption>", `<th scope="row">motor</th><th scope="row">far end</th><td>0.2</td>`,
		"<ul>\n<li>one</li>\n<li>two</li>\n</ul>", "<ol>\n<li><p>first</p><p>of the first</p></li>\n</ol>",
		"<details>\n<summary>More</summary>\n<p>folded</p>\n</details>", `<div class="hold">`,
		`First: <a href="#end">the end, part 2</a>.`, `<h2 id="end-heading"><span class="number">2</span> End</h2>`,
		`<svg class="drawing" viewBox="0 0 1 1" role="img" aria-label="What to move. Numbers are in the tables.">`,
		"<figcaption>Figure 1. What to move</figcaption>", `<td class="write"><span>±0.1</span><span></span></td>`,
	} {
		assert.Contains(t, b.String(), want)
	}
	assert.NotContains(t, b.String(), Isolate)
}

// What paper has elsewhere is its heading and where it is; the screen has all of it, and a table that is on it alone.
func TestPartsOfTheScreen(t *testing.T) {
	table := &Table{Caption: "readings", Screen: true, Columns: []Column{Wide("at")}}
	table.Add("12")
	d := &Doc{Title: "Plan", Blocks: []Block{
		&Section{Anchor: "file", Heading: "The file", Folded: true, Elsewhere: "9 lines, on the screen", Blocks: []Block{
			Paragraph{Words: "line 1"}, table}},
		&Section{Anchor: "rest", Heading: "The rest", Folded: true},
	}}
	var b bytes.Buffer
	require.NoError(t, d.HTML(&b))
	page := b.String()
	assert.Contains(t, page, `<details class="part elsewhere">`)
	assert.Contains(t, page, `>The file<span class="where">: 9 lines, on the screen</span></span></summary>`)
	assert.Contains(t, page, "<p>line 1</p>")
	assert.Contains(t, page, `<div class="roll screen">`)
	assert.Equal(t, 1, strings.Count(page, `<details class="part">`), "the rest is printed")
}

// A link to what is not there is left out.
func TestSeeNothing(t *testing.T) {
	var b bytes.Buffer
	require.NoError(t, (&Doc{Title: "x",
		Blocks: []Block{See{Before: "First:", Anchor: "end", Words: "the end"}}}).HTML(&b))
	assert.NotContains(t, b.String(), "First:")
}

// Tables of one form without captions are one, with all rows and one head.
func TestJoined(t *testing.T) {
	one := func(text string) *Table {
		return &Table{Form: "k", Columns: []Column{Wide("row")}, Rows: [][]Cell{{{Text: text}}}}
	}
	var b bytes.Buffer
	require.NoError(t, (&Doc{Blocks: []Block{one("a"), one("b"), Paragraph{Words: "and"}, one("c")}}).Markdown(&b))
	assert.Equal(t, 2, strings.Count(b.String(), "| row |"))
	assert.Contains(t, b.String(), "| a |\n| b |\n\nand\n")
}

// A choice has a button for each option on the screen, names all in text, and is not on paper.
func TestChoice(t *testing.T) {
	d := &Doc{Title: "Plans", Blocks: []Block{&Section{Anchor: "a", Heading: "Folded", Folded: true, Blocks: []Block{
		&Choice{Anchor: "of", Legend: "Moves of", Options: []Option{
			{"one", []Block{Paragraph{Words: "raise 1"}}}, {"two", []Block{Paragraph{Words: "raise 2"}}}}}}}}}
	var page, text, sheet bytes.Buffer
	require.NoError(t, d.HTML(&page))
	assert.Contains(t, page.String(), `<input type="radio" name="of" id="of-1" checked><label for="of-1">one</label>`)
	assert.Contains(t, page.String(), `<input type="radio" name="of" id="of-2"><label for="of-2">two</label>`)
	assert.Contains(t, page.String(), `<details class="part">`)
	require.NoError(t, d.Text(&text, 60))
	assert.Contains(t, text.String(), "Moves of: two")
	require.NoError(t, d.Sheet(&sheet, A4))
	assert.NotContains(t, sheet.String(), "raise 1")
	assert.NotContains(t, sheet.String(), "details")
}
