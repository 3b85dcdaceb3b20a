package manual

import (
	"bytes"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/cmd/internal/doc"
)

// Every file is a topic and every topic a file, with a title and what it is about.
func TestTopicsAreFiles(t *testing.T) {
	files, err := Pages.ReadDir(".")
	require.NoError(t, err)
	assert.Len(t, files, len(Topics()))
	for _, topic := range Topics() {
		page := Page(topic.Name)
		require.NotNil(t, page, topic.Name)
		assert.NotEmpty(t, page.Title, topic.Name)
		assert.Greater(t, len(page.Blocks), 2, topic.Name)
		assert.NotEmpty(t, topic.About, topic.Name)
	}
	assert.Nil(t, Page("nothing"))
}

// As text a page has all of its words, in 80 columns, and none of the marks of Markdown.
func TestPagesAsText(t *testing.T) {
	for _, topic := range Topics() {
		name := topic.Name
		var text bytes.Buffer
		require.NoError(t, Page(name).Text(&text, Width))
		for _, line := range strings.Split(text.String(), "\n") {
			assert.LessOrEqual(t, utf8.RuneCountInString(line), Width, "%s: %s", name, line)
			for _, mark := range []string{"](", "**", "```", "|---", "<!--"} {
				assert.NotContains(t, line, mark, name)
			}
		}
		flat := strings.Join(strings.Fields(text.String()), "")
		for _, line := range strings.Split(string(must(t, name)), "\n") {
			if heading, is := strings.CutPrefix(line, "## "); is {
				assert.Contains(t, flat, strings.Join(strings.Fields(plain(heading)), ""), name)
			}
		}
	}
}

func must(t *testing.T, name string) []byte {
	page, err := Pages.ReadFile(name + ".md")
	require.NoError(t, err)
	return page
}

// Each kind of block by hand.
func TestRead(t *testing.T) {
	r := &reader{lines: strings.Split(`# Title
Words of
two lines, [a page](plan.md#part), [the web](https://go.dev), **strong**.

## Part
- one
  goes on
- two
1. first

| a | b |
|---|---|
| `+"`x`"+` | 1 \| 2 |
|roll| begins no table.

`+"```toml\nkey = 1\n```"+`
![a picture](p.png)
<!-- a remark -->`, "\n")}
	r.read()
	d := r.builder.Doc
	assert.Equal(t, "Title", d.Title)
	assert.Equal(t, doc.Paragraph{
		Words: "Words of two lines, a page (help plan), the web (https://go.dev), strong."}, d.Blocks[1])
	part := d.Blocks[2].(*doc.Section)
	assert.Equal(t, "Part", part.Heading)
	blocks := slices.DeleteFunc(part.Blocks, func(b doc.Block) bool { return b == doc.Block(doc.Space{}) })
	require.Len(t, blocks, 4)
	assert.Equal(t, doc.Paragraph{Words: "[Figure: a picture.]"}, blocks[3])
	assert.Equal(t, [][]string{{"one goes on"}, {"two"}, {"first"}}, blocks[0].(*doc.List).Items)
	table := blocks[1].(*doc.Table)
	assert.Equal(t, "x", table.Rows[0][0].Text)
	assert.Equal(t, "1 | 2", table.Rows[0][1].Text)
	assert.Equal(t, []string{"key = 1"}, blocks[2].(doc.Lines).Lines)
}

// Every entry of the index leads to a page and a part that are there, and no word leads to two.
func TestIndex(t *testing.T) {
	seen := map[string]bool{}
	for _, words := range Words() {
		assert.False(t, seen[words], words)
		assert.Equal(t, key(words), words, "as it is looked up")
		seen[words] = true
		page, heading, ok := Find(words)
		require.True(t, ok, words)
		if page == "limits" {
			continue // made by the code
		}
		require.NotNil(t, Page(page), words)
		if heading != "" {
			assert.NotNil(t, Part(page, heading), "%s leads to %s of %s", words, heading, page)
		}
	}
	for _, words := range []string{"TIR", "sleeve", "backlash", "end float", "stretch", "jackshaft", "spool", "angularity",
		"thou", "pedestal", "stations", "torque", "dowel", "rolling bearing", "thermal", "closed coupling", "temperature", "cast iron", "lock out", "tight hole", "closest", "yaw",
		"reverse dials", "bolt-bound", "base-bound", "soft foot", "Soft-Foot", "gear", "tolerance", "units"} {
		_, _, ok := Find(words)
		assert.True(t, ok, words)
	}
	_, _, ok := Find("nothing of the kind")
	assert.False(t, ok)
	assert.Contains(t, Mentions("plate washer"), "help method: Other plans, limits and conflicts")
	assert.Empty(t, Mentions("xylophone"))
}

// A line of a paragraph that begins with a bar is of the paragraph, unless a table begins there.
func TestReadABarInAParagraph(t *testing.T) {
	r := &reader{lines: strings.Split("the sum of |up| +\n|axial| of each\n| a |\n|---|\n| 1 |", "\n")}
	r.read()
	blocks := slices.DeleteFunc(r.builder.Doc.Blocks, func(b doc.Block) bool { return b == doc.Block(doc.Space{}) })
	require.Len(t, blocks, 2)
	assert.Equal(t, doc.Paragraph{Words: "the sum of |up| + |axial| of each"}, blocks[0])
	assert.Equal(t, "1", blocks[1].(*doc.Table).Rows[0][0].Text)
}
