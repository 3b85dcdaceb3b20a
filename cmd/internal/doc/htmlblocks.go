package doc

import (
	"bytes"
	"fmt"
	"regexp"
	"strings"
)

// blocks are those whose headings have some level.
func (h *html) blocks(blocks []Block, level int) {
	for _, b := range joined(blocks) {
		switch b := b.(type) {
		case *Section:
			h.section(b, level)
		case Subheading:
			h.put("<h%d>%s</h%d>\n", level, h.words(b.Words), level)
		case Paragraph:
			if h.paper {
				h.put("<p><bdi>%s</bdi></p>\n", h.words(b.Words))
			} else {
				h.put("<p>%s</p>\n", h.words(b.Words))
			}
		case *List:
			h.list(b)
		case Facts:
			h.facts(b, "facts")
		case Blanks:
			h.blanks(b)
		case *Table:
			h.table(b)
		case *Figure:
			h.figure(b)
		case *Fold:
			open := ""
			if b.Open {
				open = " open"
			}
			h.put("<details%s>\n<summary>%s</summary>\n", open, h.words(b.Heading))
			h.blocks(b.Blocks, level+1)
			h.put("</details>\n")
		case *Choice:
			h.choice(b, level)
		case *Hold:
			h.put("<div class=\"hold\">\n<h%d>%s</h%d>\n", level, h.words(b.Heading), level)
			h.blanks(b.Blanks)
			h.blocks(b.Blocks, level+1)
			h.put("</div>\n")
		case Lines:
			h.lines(b)
		case See:
			if n, there := h.numbers[b.Anchor]; there {
				if n != "" {
					n = ", part " + n
				}
				h.put("<p>%s <a href=\"#%s\">%s%s</a>.</p>\n", h.words(b.Before), b.Anchor, h.words(b.Words), n)
			}
		case Contents:
			h.contents()
		case Appendix:
			h.put("<div class=\"divide\"><p>%s</p></div>\n", h.words(b.Words))
		case PageBreak:
			h.put("<div class=\"break\"></div>\n")
		case Space:
		}
	}
}

var (
	// A number and its unit, and what it may be off by.
	tie  = regexp.MustCompile(`(\d) (mm|mil|mrad|inch|%)|(±) (\d)`)
	flag = regexp.MustCompile(`--[a-z]+`)
)

// words escapes a text. Names are as they are, and keep their own direction; outside them a number stays with its
// unit, and flags stay whole.
func (h *html) words(s string) string {
	var out strings.Builder
	for n, piece := range strings.Split(typeset(s), Isolate) {
		name, rest, named := strings.Cut(piece, Resume)
		if n == 0 || !named {
			name, rest = "", piece
		} else {
			out.WriteString("<bdi>" + escaped(name) + "</bdi>")
		}
		rest = tie.ReplaceAllString(rest, "$1$3\u00a0$2$4")
		out.WriteString(flag.ReplaceAllString(escaped(rest), `<span class="flag">$0</span>`))
	}
	return out.String()
}

func (h *html) list(l *List) {
	tag := map[ListKind]string{Bullets: "ul", Numbers: "ol"}[l.Kind]
	open := tag
	switch l.Kind {
	case Checks:
		tag, open = "ul", `ul class="check"`
	case Short:
		tag, open = "ul", `ul class="check side"`
	}
	h.put("<%s>\n", open)
	for _, item := range l.Items {
		h.put("<li>")
		if len(item) == 1 {
			h.put("%s", h.words(item[0]))
		} else {
			for _, words := range item {
				h.put("<p>%s</p>", h.words(words))
			}
		}
		h.put("</li>\n")
	}
	h.put("</%s>\n", tag)
}

// facts are rows of a name and what it is.
func (h *html) facts(facts []Fact, class string) {
	if len(facts) == 0 {
		return
	}
	h.put("<ul class=\"%s\">\n", class)
	for _, f := range facts {
		value := h.words(f.Value)
		if f.IsName {
			value = "<bdi>" + escaped(f.Value) + "</bdi>"
		}
		h.put("<li><span class=\"field\">%s</span> %s</li>\n", h.words(f.Name), value)
	}
	h.put("</ul>\n")
}

// blanks are labels, each with a line to write on.
func (h *html) blanks(labels []string) {
	if len(labels) == 0 {
		return
	}
	h.put("<div class=\"fields\">")
	for _, label := range labels {
		h.put("<span>%s<i></i></span>", h.words(label))
	}
	h.put("</div>\n")
}

func (h *html) lines(b Lines) {
	if !b.Numbered {
		h.put("<pre class=\"sum\">%s</pre>\n", escaped(strings.Join(b.Lines, "\n")))
		return
	}
	h.put("<pre class=\"file\" dir=\"ltr\">")
	for n, line := range b.Lines {
		h.put("<span class=\"row\"><span class=\"number\">%d</span> %s</span>", n+1, escaped(line))
	}
	h.put("</pre>\n")
}

// figure is a drawing as a part of the page: without what only a file needs, and
// with words for those who do not see it, which its first part has for all of them.
func (h *html) figure(f *Figure) {
	h.figures++
	title, alt := escaped(Bare(f.Title)), escaped(Bare(f.Alt))
	words := fmt.Sprintf(`role="img" aria-label="%s. %s"><title>%s</title><desc>%s</desc>`, title, alt, title, alt)
	drawing := func(svg []byte, class, words string) string {
		start := bytes.Index(svg, []byte("<svg"))
		end := start + bytes.IndexByte(svg[start:], '>') + 1
		box := regexp.MustCompile(`viewBox="[^"]*"`).Find(svg[start:end])
		return fmt.Sprintf(`<svg class="%s" %s %s%s`, class, box, words, svg[end:])
	}
	kind, all := "drawing", ""
	if f.Narrow != nil {
		kind = "drawing wide"
	}
	for n, svg := range f.SVG {
		said := words
		if n > 0 {
			said = `aria-hidden="true">`
		}
		all += drawing(svg, kind, said)
	}
	if f.Narrow != nil {
		all += drawing(f.Narrow, "drawing narrow", words)
	}
	h.put("<figure id=\"%s\"%s>\n<div class=\"roll\" tabindex=\"0\" role=\"region\" aria-label=\"figure "+
		"%d\">\n%s</div>\n<figcaption>Figure %d. %s</figcaption>\n</figure>\n",
		f.Anchor, class(when(len(f.SVG) > 1, "parts")), h.figures, all, h.figures, h.words(f.Title))
}

// choice has a button for each option, which shows its part without a script.
func (h *html) choice(c *Choice, level int) {
	if h.paper {
		return
	}
	h.put("<fieldset class=\"choice\">\n<legend>%s</legend>\n", h.words(c.Legend))
	options := c.Options[:min(len(c.Options), MostOptions)]
	for n, o := range options {
		checked := ""
		if n == 0 {
			checked = " checked"
		}
		h.put("<input type=\"radio\" name=\"%s\" id=\"%s-%d\"%s><label for=\"%s-%d\">%s</label>\n", c.Anchor, c.Anchor, n+1,
			checked, c.Anchor, n+1, h.words(o.Label))
	}
	for _, o := range options {
		h.put("<div class=\"option\">\n")
		h.blocks(o.Blocks, level)
		h.put("</div>\n")
	}
	h.put("</fieldset>\n")
}
