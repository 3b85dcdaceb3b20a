package doc

import (
	"bytes"
	_ "embed"
	"fmt"
	"html/template"
	"io"
	"strings"
)

var (
	//go:embed screen.css
	screenStyle string
	//go:embed paper.css
	paperStyle string
)

// HTML writes the document as a page for the screen that stands by itself: it asks for
// nothing from anywhere, needs no script, and prints.
func (d *Doc) HTML(w io.Writer) error {
	h := newHTML(d)
	h.head(screenStyle+running(d.Running), `<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="color-scheme" content="light dark">
`)
	h.put(`<a class="skip" href="#contents">Skip to the contents</a>
<header id="top">
<h1 dir="auto">%s</h1>
`, h.words(d.Title))
	h.facts(d.Facts, "block")
	h.put("</header>\n<main>\n")
	h.blanks(d.Blanks)
	h.blocks(d.Blocks, 2)
	h.put("</main>\n<footer>\n<p>%s</p>\n</footer>\n</body>\n</html>\n", h.words(strings.Join(d.Foot, ", ")))
	_, err := h.WriteTo(w)
	return err
}

// running is the rule that has words at the foot of every printed page.
func running(words string) string {
	if words = Bare(words); words == "" {
		return ""
	}
	const most = 110 // letters that fit on the line
	if all := []rune(words); len(all) > most {
		words = string(all[:most]) + "…"
	}
	return "@page { @bottom-left { content: \"" + inStyle(words) + "\"; font: 8pt sans-serif; } }\n"
}

// inStyle is words as a string of a style sheet has them.
func inStyle(words string) string {
	var out strings.Builder
	for _, r := range words {
		if strings.ContainsRune("\\\"<>&", r) || r < ' ' {
			fmt.Fprintf(&out, "\\%x ", r)
			continue
		}
		out.WriteRune(r)
	}
	return out.String()
}

// Sheet writes the document as HTML that prints on a paper as the PDF does.
func (d *Doc) Sheet(w io.Writer, p Paper) error {
	h := newHTML(d)
	h.paper = true
	style := strings.NewReplacer("PAPER", p.name(), "STATE", inStyle(Bare(d.State))).Replace(paperStyle)
	h.head(style, `<meta name="viewport" content="width=device-width">
`)
	first := 0
	for first < len(d.Blocks) {
		if _, is := d.Blocks[first].(*Section); is {
			break
		}
		first++
	}
	h.put("<section>\n<h1>%s</h1>\n", h.words(d.Title))
	h.facts(d.Facts, "facts")
	h.blanks(d.Blanks)
	h.blocks(d.Blocks[:first], 2)
	h.put("</section>\n")
	h.blocks(d.Blocks[first:], 2)
	h.put("<footer>%s</footer>\n</body>\n</html>\n", h.words(strings.Join(d.Foot, ", ")))
	_, err := h.WriteTo(w)
	return err
}

// Fragment writes the blocks of the document alone, as a part of a page that has the style
// of Style. Headings begin at a level.
func (d *Doc) Fragment(w io.Writer, level int) error {
	h := newHTML(d)
	h.blanks(d.Blanks)
	h.blocks(d.Blocks, level)
	_, err := h.WriteTo(w)
	return err
}

// Style is the style sheet of pages for the screen.
func Style() string { return screenStyle }

// An html is a page under way.
type html struct {
	bytes.Buffer
	doc     *Doc
	paper   bool
	numbers map[string]string // of sections, by their anchors
	figures int               // that were written
}

func newHTML(d *Doc) *html {
	h := &html{doc: d, numbers: map[string]string{}}
	n, appendix := 0, false
	for _, b := range d.Blocks {
		switch b := b.(type) {
		case Appendix:
			n, appendix = 0, true
		case *Section:
			switch n++; {
			case !d.Numbered:
				h.numbers[b.Anchor] = ""
			case appendix:
				h.numbers[b.Anchor] = string(rune('A' + n - 1))
			default:
				h.numbers[b.Anchor] = fmt.Sprint(n)
			}
		}
	}
	return h
}

func (h *html) put(format string, values ...any) { fmt.Fprintf(h, format, values...) }

func (h *html) head(style, metas string) {
	h.put("<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta "+
		"charset=\"utf-8\">\n%s<title>%s</title>\n<style>\n%s</style>\n</head>\n<body>\n",
		metas, escaped(Bare(either(h.doc.Name, h.doc.Title))), style)
}

func (h *html) contents() {
	h.put("<nav aria-labelledby=\"contents\">\n<h2 id=\"contents\">Contents</h2>\n<ul>\n" +
		"<li><a href=\"#top\">Top of the page</a></li>\n")
	for _, b := range h.doc.Blocks {
		if s, is := b.(*Section); is && s.Anchor != "" {
			h.put("<li><a href=\"#%s\">%s<span>%s</span></a></li>\n", s.Anchor, h.number(s.Anchor), h.words(s.Heading))
		}
	}
	h.put("</ul>\n</nav>\n")
}

// number is a section's, before its heading.
func (h *html) number(anchor string) string {
	if n := h.numbers[anchor]; n != "" && anchor != "" {
		return `<span class="number">` + n + `</span> `
	}
	return ""
}

func (h *html) section(s *Section, level int) {
	anchor, id := "", ""
	if s.Anchor != "" {
		anchor, id = fmt.Sprintf(` id="%s" aria-labelledby="%s-heading"`, s.Anchor, s.Anchor),
			fmt.Sprintf(` id="%s-heading"`, s.Anchor)
	}
	folded := s.Folded && !h.paper && s.Heading != ""
	if folded {
		heading := h.number(s.Anchor) + h.words(s.marked())
		if s.Elsewhere != "" {
			heading += "<span class=\"where\">: " + h.words(s.Elsewhere) + "</span>"
		}
		h.put("<details%s>\n<summary><span class=\"heading\" role=\"heading\" aria-level=\"%d\"%s>%s</span></summary>\n",
			class("part", when(s.Elsewhere != "", "elsewhere")), level, id, heading)
		defer h.put("</details>\n")
	}
	h.put("<section%s>\n", anchor)
	heading := ""
	if s.Heading != "" {
		heading = fmt.Sprintf("<h%d%s>%s%s</h%d>", level, id, h.number(s.Anchor), h.words(s.marked()), level)
	}
	switch {
	case folded:
		h.blanks(s.Blanks)
	case heading != "" && h.paper:
		h.put("<div class=\"top\">%s", heading)
		h.blanks(s.Blanks)
		h.put("</div>\n")
	case heading != "":
		h.put("%s\n", heading)
		h.blanks(s.Blanks)
	default:
		h.blanks(s.Blanks)
	}
	h.blocks(s.Blocks, level+1)
	h.put("</section>\n")
}

func escaped(s string) string { return template.HTMLEscapeString(s) }
