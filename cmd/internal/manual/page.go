package manual

import (
	"regexp"
	"strings"
	"unicode/utf8"

	"leastmove/cmd/internal/doc"
)

// Width is how wide a page is as text, in columns.
const Width = 80

// Page is a page of the manual as a document; nil where there is none of that name.
func Page(name string) *doc.Doc {
	page := text(name)
	if page == "" {
		return nil
	}
	r := &reader{lines: strings.Split(page, "\n")}
	r.read()
	return &r.builder.Doc
}

// A reader makes a document of the Markdown that the manual is written in: headings of
// three levels, paragraphs, lists of one level, tables, blocks between backticks, remarks, which are left
// out, and pictures, of which text says what they show.
type reader struct {
	lines   []string
	at      int
	builder doc.Builder
	fresh   bool // a heading was the last thing read
}

func (r *reader) read() {
	for r.at < len(r.lines) {
		switch line := r.lines[r.at]; {
		case line == "" || strings.HasPrefix(line, "<!--"):
			r.at++
		case picture.MatchString(line):
			r.put(doc.Paragraph{Words: "[Figure: " + picture.FindStringSubmatch(line)[1] + ".]"})
			r.at++
		case strings.HasPrefix(line, "# "):
			r.builder.Doc.Title = plain(line[2:])
			r.at++
		case strings.HasPrefix(line, "## "):
			r.builder.Heading(plain(line[3:]))
			r.fresh = true
			r.at++
		case strings.HasPrefix(line, "### "):
			r.put(doc.Subheading{Words: plain(line[4:])})
			r.at++
		case strings.HasPrefix(line, "```"):
			r.put(r.fence())
		case strings.HasPrefix(line, "    "):
			r.put(r.indented())
		case r.atTable():
			r.put(r.table())
		case item.MatchString(line):
			r.put(r.list())
		default:
			r.put(doc.Paragraph{Words: plain(r.joined(false))})
		}
	}
}

// put adds a block, an empty line before it unless a heading is there.
func (r *reader) put(b doc.Block) {
	if !r.fresh {
		r.builder.Space()
	}
	r.fresh = false
	r.builder.Put(b)
}

// picture is a line that shows one, with the words for it.
var picture = regexp.MustCompile(`^!\[([^\]]*)\]`)

// item begins an item of a list.
var item = regexp.MustCompile(`^(- |\d+\. )`)

// begins says whether a line begins a block of its own.
func begins(line string) bool {
	return line == "" || item.MatchString(line) ||
		strings.HasPrefix(line, "#") && strings.HasPrefix(strings.TrimLeft(line, "#"), " ") ||
		strings.HasPrefix(line, "```") || strings.HasPrefix(line, "<!--") || strings.HasPrefix(line, "![")
}

// joined are the lines of a paragraph, or of an item, whose first line is there whatever it is.
func (r *reader) joined(inItem bool) string {
	words := []string{strings.TrimSpace(r.lines[r.at])}
	for r.at++; r.at < len(r.lines) && !begins(strings.TrimSpace(r.lines[r.at])) && !r.atTable(); r.at++ {
		if inItem && !strings.HasPrefix(r.lines[r.at], " ") {
			break
		}
		words = append(words, strings.TrimSpace(r.lines[r.at]))
	}
	return strings.Join(words, " ")
}

func (r *reader) list() doc.Block {
	l := &doc.List{}
	for r.at < len(r.lines) && item.MatchString(r.lines[r.at]) {
		mark := item.FindString(r.lines[r.at])
		if mark != "- " {
			l.Kind = doc.Numbers
		}
		l.Items = append(l.Items, []string{plain(strings.TrimPrefix(r.joined(true), mark))})
	}
	return l
}

// fence are the lines between two of backticks.
func (r *reader) fence() doc.Block {
	var b doc.Lines
	for r.at++; r.at < len(r.lines) && r.lines[r.at] != "```"; r.at++ {
		b.Lines = append(b.Lines, r.lines[r.at])
		b.Flush = b.Flush || utf8.RuneCountInString(r.lines[r.at]) > Width-2 // a page of the program, as it is
	}
	r.at++
	return b
}

// indented are lines that are set in by four blanks.
func (r *reader) indented() doc.Block {
	var b doc.Lines
	for ; r.at < len(r.lines) && strings.HasPrefix(r.lines[r.at], "    "); r.at++ {
		b.Lines = append(b.Lines, r.lines[r.at][4:])
	}
	return b
}

// atTable says whether a table begins: a row, and a line of strokes under it.
func (r *reader) atTable() bool {
	return strings.HasPrefix(r.lines[r.at], "|") && r.at+1 < len(r.lines) && strings.HasPrefix(r.lines[r.at+1], "|--")
}

func (r *reader) table() doc.Block {
	var rows [][]string
	for ; r.at < len(r.lines) && strings.HasPrefix(r.lines[r.at], "|"); r.at++ {
		rows = append(rows, cells(r.lines[r.at]))
	}
	if len(rows[0]) > mostColumns {
		return listed(rows)
	}
	t := &doc.Table{Columns: doc.Wides(rows[0]...), Bare: strings.Join(rows[0], "") == ""}
	for _, row := range rows[2:] {
		for len(row) < len(rows[0]) {
			row = append(row, "")
		}
		row[0] = strings.ReplaceAll(row[0], "`", "")
		t.Add(row[:len(rows[0])]...)
	}
	return t
}

// mostColumns is how many columns of words fit side by side.
const mostColumns = 6

// listed are the rows of a table that is too wide, each a line: the first cell, and the others
// behind their heads.
func listed(rows [][]string) doc.Block {
	l := &doc.List{}
	for _, row := range rows[2:] {
		var words []string
		for c := 1; c < len(row); c++ {
			words = append(words, rows[0][c]+" "+row[c])
		}
		l.Items = append(l.Items, []string{strings.TrimSpace(rows[0][0]+" "+row[0]) + ": " + strings.Join(words, "; ")})
	}
	return l
}

// cells are those of a row of a table.
func cells(line string) []string {
	const bar = "\x00"
	line = strings.ReplaceAll(strings.Trim(strings.TrimSpace(line), "|"), `\|`, bar)
	var out []string
	for _, cell := range strings.Split(line, "|") {
		out = append(out, plain(strings.TrimSpace(strings.ReplaceAll(cell, bar, "|"))))
	}
	return out
}

var (
	link   = regexp.MustCompile(`\[([^\]]*)\]\(([^)\s]*)\)`)
	strong = regexp.MustCompile(`\*\*([^*]+)\*\*`)
	page   = regexp.MustCompile(`^([a-z-]+)\.md(#.*)?$`)
)

// plain are words without the marks of Markdown. A link to another page names the topic of
// the help that has it, one to the web its address.
func plain(words string) string {
	words = link.ReplaceAllStringFunc(words, func(m string) string {
		parts := link.FindStringSubmatch(m)
		to := page.FindStringSubmatch(parts[2])
		switch {
		case to != nil:
			return parts[1] + " (help " + to[1] + ")"
		case strings.Contains(parts[2], "://"):
			return parts[1] + " (" + parts[2] + ")"
		}
		return parts[1]
	})
	return strong.ReplaceAllString(words, "$1")
}
