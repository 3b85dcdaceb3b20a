package chart

import (
	"fmt"

	"leastmove/cmd/internal/doc"
	"leastmove/cmd/internal/view"
)

// FiguresOf are the drawings of a plan by their names, as figures of a document; of a
// trade-off that of it, where there is one.
func FiguresOf(f *view.Figures, trade *view.Trade) func(name string) ([]*doc.Figure, error) {
	return func(name string) ([]*doc.Figure, error) {
		if name != "tradeoff" {
			return figures(name, Of(name, f))
		}
		if trade == nil || len(trade.Points) == 0 {
			return nil, nil
		}
		return figures(name, []Drawing{Trade(trade, nil)})
	}
}

// FiguresAfter are those of what became of the moves.
func FiguresAfter(f *view.Figures) func(name string) ([]*doc.Figure, error) {
	return func(name string) ([]*doc.Figure, error) {
		switch name {
		case "train":
			return figures(name, VerifiedTrain(f))
		case "went":
			return figures(name, Went(f))
		}
		return figures(name, Couplings(f))
	}
}

// figures are drawings under anchors that begin alike.
func figures(name string, all []Drawing) ([]*doc.Figure, error) {
	var out []*doc.Figure
	for n, d := range all {
		f := &doc.Figure{Anchor: fmt.Sprintf("%s-%d", name, n+1), Title: d.Title, Alt: d.Desc}
		parts := d.parts
		if parts == nil {
			parts = []Drawing{d}
		}
		for _, part := range parts {
			svg, err := part.Untitled()
			if err != nil {
				return nil, err
			}
			f.SVG = append(f.SVG, svg)
		}
		if d.narrow != nil {
			var err error
			if f.Narrow, err = d.narrow.Untitled(); err != nil {
				return nil, err
			}
		}
		out = append(out, f)
	}
	return out, nil
}
