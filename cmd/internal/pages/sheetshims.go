package pages

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"leastmove/cmd/internal/words"
	"leastmove/optimize"
	"leastmove/optimize/staging"
)

// fromThree is how many pieces a pack has that has any between others.
const fromThree = 3

// shims are what to have at hand: pieces from the stock, and packs of which the file
// does not have the pieces; "" for none.
func (t *order) shims() string {
	var list []string
	for _, s := range t.plan.Shims {
		list = append(list, fmt.Sprintf("%d of %s", s.Count, t.Piece(s.Thickness)))
	}
	text := ""
	if list != nil {
		text = "Shims to have at hand: " + words.And(list) + "."
	}
	if anew := t.anew(); anew != "" {
		text += " " + anew
	}
	if slices.ContainsFunc(t.plan.Packs, func(p optimize.Pack) bool { return len(p.Then) >= fromThree }) {
		text += " Packs are listed from the base up; with three or more pieces, thin ones between thick ones."
	} else if len(t.plan.Packs) > 0 {
		text += " Packs are listed from the base up."
	}
	return strings.TrimSpace(text)
}

// anew are the packs to be made without knowing what they are made of, by thickness; ""
// for none.
func (t *order) anew() string {
	count, measured := map[words.Number]int{}, 0
	var sizes []float64
	for n := range t.staging.Stages {
		s := &t.staging.Stages[n]
		if s.Work != staging.Packing {
			continue
		}
		for f := range s.Moves {
			change := t.PackChange(s.Machine, f, s.Moves[f])
			_, _, then := t.packPieces(s.Machine, f)
			switch pack := change.Then; {
			case then != "" || t.Moved(change.By()).Zero():
			case math.IsNaN(pack):
				if change.By() < 0 {
					measured++
				}
			default:
				if count[t.Packed(pack)] == 0 {
					sizes = append(sizes, pack)
				}
				count[t.Packed(pack)]++
			}
		}
	}
	slices.Sort(sizes)
	var list []string
	for _, mm := range sizes {
		list = append(list, fmt.Sprintf("%d of %s", count[t.Packed(mm)], t.Packed(mm)))
	}
	text := ""
	if list != nil {
		text = "Packs to be made, pieces not stated: " + words.And(list) + "."
	}
	if measured > 0 {
		text = strings.TrimSpace(text + fmt.Sprintf(" Packs to be measured first, not stated: %d.", measured))
	}
	return text
}

// packPieces are what goes out of and into the pack of a foot and what it is then made
// of; "" where there is none or it is not known.
func (t *order) packPieces(m, f int) (out, in, then string) {
	for _, p := range t.plan.Packs {
		if p.Machine == m && p.Foot == f {
			return t.pieces(p.Out, ""), t.pieces(p.In, ""), t.pieces(p.Then, "")
		}
	}
	return "", "", ""
}
