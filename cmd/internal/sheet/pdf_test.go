package sheet

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// read gives the text of a sheet's PDF, page by page.
func read(t *testing.T, s *Sheet, p Paper) []string {
	t.Helper()
	if _, err := exec.LookPath("pdftotext"); err != nil {
		if os.Getenv("LEASTMOVE_REFEREES") == "required" {
			require.FailNow(t, "the referees are required", "pdftotext of poppler-utils is missing")
		}
		t.Skip("left out: what stands in the PDF: there is no pdftotext (poppler-utils)")
	}
	path := filepath.Join(t.TempDir(), "sheet.pdf")
	var b bytes.Buffer
	require.NoError(t, s.PDF(&b, p))
	require.NoError(t, os.WriteFile(path, b.Bytes(), 0o666))
	out, err := exec.Command("pdftotext", "-layout", path, "-").Output()
	require.NoError(t, err)
	return strings.Split(strings.TrimSuffix(string(out), "\f"), "\f")
}

// Nothing is lost where a block is longer than a page, and pages are counted.
func TestPDFRunsOn(t *testing.T) {
	s := &Sheet{Title: "long", Source: "train.toml", Plan: "0123abcd"}
	k := Table{Form: "k", Head: []string{"row", "reads"}}
	for i := range 150 {
		k.Rows = append(k.Rows, []Cell{{Text: fmt.Sprintf("row-%d-", i)}, {Write: []string{""}}})
	}
	s.Blocks = []Block{
		{Heading: "Work order", Large: true, Fields: []string{"Crew", "Date"}, Text: []string{"a word"}},
		{Heading: "Long", Fields: []string{"by"}, Ticks: []string{"tick"}, Tables: []Table{k}},
		{Fields: []string{"Done by"}, Text: []string{"the end"}},
	}
	pages := read(t, s, A4)
	require.Greater(t, len(pages), 2)
	for n, page := range pages {
		assert.Contains(t, page, fmt.Sprintf("%d of %d", n+1, len(pages)))
		assert.Contains(t, page, "File train.toml")
		assert.Contains(t, page, "plan 0123abcd")
		assert.Contains(t, page, "date")
	}
	all := strings.Join(pages, "")
	for i := range 150 {
		assert.Equal(t, 1, strings.Count(all, fmt.Sprintf("row-%d-", i)))
	}
	for _, words := range []string{"Crew", "a word", "Long", "tick", "Done by", "the end"} {
		assert.Contains(t, all, words)
	}
}

// A block that fits on a page is not cut.
func TestPDFKeepsBlocksWhole(t *testing.T) {
	s := &Sheet{Title: "blocks"}
	for i := range 20 {
		k := Table{Form: "k", Head: []string{"row", "reads"}}
		for n := range 7 {
			k.Rows = append(k.Rows, []Cell{{Text: fmt.Sprintf("row-%d-%d-", i, n)}, {Write: []string{"left", "right"}}})
		}
		s.Blocks = append(s.Blocks, Block{Heading: fmt.Sprintf("block-%d-", i), Tables: []Table{k}})
	}
	for _, paper := range []Paper{A4, Letter} {
		for _, page := range read(t, s, paper) {
			for i := range 20 {
				assert.Equal(t, strings.Contains(page, fmt.Sprintf("block-%d-", i)), strings.Contains(page, fmt.Sprintf("row-%d-6-", i)), "block %d", i)
			}
		}
	}
}

// An empty sheet is a page.
func TestPDFOfNothing(t *testing.T) {
	assert.Len(t, read(t, &Sheet{Title: "nothing"}, A4), 1)
}

// Short ticks stand side by side as long as they fit, and none is lost.
func TestPDFBoxesSideBySide(t *testing.T) {
	s := &Sheet{Title: "boxes", Blocks: []Block{{Boxes: []string{"one-", "two-", strings.Repeat("long word ", 40) + "end-", "three-"}}}}
	page := read(t, s, A4)[0]
	assert.Regexp(t, `one- +two-`, page)
	assert.Contains(t, page, "end-")
	assert.Regexp(t, `(?m)^ *three-`, page)
}
