// Package htmlpage writes a study, or what became of a plan, as one page that stands
// by itself: it asks for nothing from anywhere, needs no script, and prints. What it says comes from
// package report and what it draws from package chart; this package puts them in
// order and works nothing out.
package htmlpage

import (
	_ "embed"
	"fmt"
	"html/template"
	"io"
	"regexp"
	"strings"

	"leastmove/cmd/internal/report"
	"leastmove/cmd/internal/words"
)

//go:embed page.html
var pageText string

//go:embed page.css
var pageStyle string

// A File is what the title block says of the train file.
type File struct {
	Name    string // without its folder
	Text    []byte
	Sum     string // SHA-256, in hexadecimal
	Program string // that wrote the page, with its version
}

// A page is what the template is filled with.
type page struct {
	Title   string
	Kind    string  // of page: "alignment plan"
	Fields  []field // of the title block
	Program string  // that wrote it
	Style   template.CSS
	Parts   []part
}

// A field of the title block.
type field struct {
	Name, Value string
	IsName      bool // the value is a name, with its own direction
}

// A part is what stands under a heading of its own in the contents.
type part struct {
	ID       string
	Number   string // "3", of the appendix "B"
	Heading  string
	Mark     string   // beside the heading: what the part depends on; "": nothing
	Lead     []string // said before all else
	Figures  []figure
	Sections []section
	Static   string   // what the template has itself: "equations", "file"
	Lines    []string // of the train file, for "file"
	Divide   string   // what begins with the part; "": nothing
	// Cautions is the number of the part with the cautions, where the page has one and this
	// part leads to it.
	Cautions  string
	Cautioned bool // it leads to them
}

// A section is one of a part. Where it is the only one its heading is the part's.
type section struct {
	report.Section
	Lower bool // headings within it are a level lower
}

// Write writes the page of a study.
func Write(w io.Writer, study *report.Study, layout report.Page, file File) error {
	p, err := pageOf(study, layout, file)
	if err != nil {
		return err
	}
	return p.write(w)
}

func (p *page) write(w io.Writer) error {
	t, err := template.New("page").Funcs(template.FuncMap{
		"words": escaped, "bare": words.Bare, "right": right, "wide": wide, "short": short, "inc": func(n int) int { return n + 1 },
	}).Parse(pageText)
	if err != nil {
		return err
	}
	return t.Execute(w, p)
}

// escaped is a text for HTML. Names are as they are, and keep their own direction;
// outside them a number stays with its unit, and arrows and flags stay whole.
func escaped(s string) template.HTML {
	var out strings.Builder
	// A number and its unit, and what it may be off by.
	tie := regexp.MustCompile(`(\d) (mm|mil|mrad|inch|%)|(±) (\d)`)
	flag := regexp.MustCompile(`--[a-z]+`)
	for n, piece := range strings.Split(s, words.Isolate) {
		name, rest, named := strings.Cut(piece, words.Resume)
		if n == 0 || !named {
			name, rest = "", piece
		} else {
			out.WriteString("<bdi>" + template.HTMLEscapeString(name) + "</bdi>")
		}
		rest = tie.ReplaceAllString(strings.ReplaceAll(rest, " -> ", " → "), "$1$3\u00a0$2$4")
		out.WriteString(flag.ReplaceAllString(template.HTMLEscapeString(rest), `<span class="flag">$0</span>`))
	}
	return template.HTML(out.String())
}

// right says whether a column of a table is flush right.
func right(t *report.Table, column int) bool { return t.Right != nil && t.Right[column] }

// wideTable is the number of columns from which on a table may not fit a phone, so
// that the keyboard must be able to move it.
const wideTable = 5

func wide(t *report.Table) bool { return len(t.Header) >= wideTable }

// short says whether a table is to stay on one sheet of paper.
func short(t *report.Table) bool { return len(t.Rows) <= shortTable }

const shortTable = 12

// numbered gives the parts of the appendix letters and the others numbers.
func numbered(parts, appendix []part) []part {
	for n := range parts {
		parts[n].Number = fmt.Sprint(n + 1)
	}
	for n := range appendix {
		appendix[n].Number = string(rune('A' + n))
	}
	all := append(parts, appendix...)
	for n := range all {
		for k := range all {
			if all[n].Cautioned && all[k].ID == "cautions" {
				all[n].Cautions = all[k].Number
			}
		}
	}
	k := 0
	for n := range all {
		for f := range all[n].Figures {
			k++
			all[n].Figures[f].Number = k
		}
	}
	return all
}
