package pages

import (
	"fmt"
	"strings"

	"leastmove/cmd/internal/doc"
	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
)

// packs says which pieces go out and in under each foot, and what to have at
// hand for that.
func (t *planText) packs() {
	if len(t.plan.Packs) == 0 && len(t.plan.Shims) == 0 {
		return
	}
	t.Heading("Shim packs")
	if len(t.plan.Packs) > 0 {
		words := fmt.Sprintf("Pieces in %s, from the base up.", t.MoveUnit())
		if len(t.plan.Soft) > 0 {
			words += " Out and in are counted from the shim packs as the file has them: what fills a gap is among what goes in."
		}
		t.Say(words)
		g := doc.Table{Columns: []doc.Column{doc.Wide("machine"), doc.Wide("foot"), doc.Wide("out"), doc.Wide("in"),
			doc.Wide("then")}, Names: 2}
		for _, p := range t.plan.Packs {
			g.Add(t.packRow(p)...)
		}
		t.Table(g)
	}
	if len(t.plan.Shims) > 0 {
		var list []string
		for _, s := range t.plan.Shims {
			list = append(list, fmt.Sprintf("%d of %s", s.Count, words.With(t.Piece(s.Thickness), t.MoveUnit())))
		}
		t.Say("To have at hand: " + words.And(list) + ".")
	}
}

func (t *planText) packRow(p view.Pack) []string {
	then := t.pieces(p.Then, "none")
	if p.Now == nil && p.Then == nil {
		then = "not stated"
	}
	return []string{t.Machine(p.Machine), t.Foot(p.Machine, p.Foot), t.pieces(p.Out, "none"), t.pieces(p.In, "none"), then}
}

// pieces are shims of mm on one another.
func (s formatter) pieces(mm []float64, none string) string {
	if len(mm) == 0 {
		return none
	}
	words := make([]string, len(mm))
	for i, v := range mm {
		words[i] = string(s.Piece(v))
	}
	return strings.Join(words, " + ")
}
