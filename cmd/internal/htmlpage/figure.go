package htmlpage

import (
	"bytes"
	"fmt"
	"html/template"
	"regexp"

	"leastmove/cmd/internal/chart"
	"leastmove/cmd/internal/words"
)

// A figure is a drawing within the page.
type figure struct {
	ID     string
	Number int
	Title  string
	SVG    template.HTML
}

func figureOf(id string, d chart.Drawing) (figure, error) {
	svg, err := d.Untitled()
	if err != nil {
		return figure{}, err
	}
	return inline(id, d.Title, svg), nil
}

// inline makes a drawing a part of the page: without what only a file needs, and
// with words for those who do not see it.
func inline(id, title string, svg []byte) figure {
	start := bytes.Index(svg, []byte("<svg"))
	end := start + bytes.IndexByte(svg[start:], '>') + 1
	box := regexp.MustCompile(`viewBox="[^"]*"`).Find(svg[start:end])
	label := template.HTMLEscapeString(words.Bare(title))
	open := fmt.Sprintf(`<svg class="drawing" %s role="img" aria-label="%s. The numbers are in the tables."><title>%s</title><desc>The numbers of this drawing are in the tables of the page.</desc>`,
		box, label, label)
	return figure{ID: id, Title: title, SVG: template.HTML(open + string(svg[end:]))}
}
