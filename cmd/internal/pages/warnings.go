package pages

import (
	"fmt"

	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
)

// warnings lists what to check in the train file.
func (p *page) warnings(layout Page) {
	if len(layout.Warnings) == 0 {
		return
	}
	p.Heading("Check these inputs")
	var items []string
	for _, w := range layout.Warnings {
		text := warned(w)
		if w.Hint != "" {
			text += "; " + words.Clean(w.Hint)
		}
		items = append(items, text)
	}
	p.Items(items...)
}

// warned is a warning with its place.
func warned(w view.Warning) string {
	text := fmt.Sprintf("line %d: %s", w.Line, words.Clean(w.Message))
	if w.File != "" {
		text = words.Clean(w.File) + ", " + text
	}
	return text
}
