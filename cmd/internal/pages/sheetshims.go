package pages

import (
	"fmt"
	"strings"

	"leastmove/cmd/internal/words"
)

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
	if t.work.FromThree {
		text += " Three pieces or more: thin ones between thick ones."
	}
	return strings.TrimSpace(text)
}

// anew are the packs to be made without knowing what they are made of, by thickness; ""
// for none.
func (t *order) anew() string {
	count := map[words.Number]int{}
	for _, mm := range t.work.Anew {
		count[t.Packed(mm)]++
	}
	var list []string
	for _, mm := range t.work.Anew {
		if n := t.Packed(mm); count[n] > 0 {
			list = append(list, fmt.Sprintf("%d of %s", count[n], n))
			delete(count, n)
		}
	}
	text := ""
	if list != nil {
		text = "Packs to be made, pieces not stated: " + words.And(list) + "."
	}
	if t.work.Unmeasured > 0 {
		text = strings.TrimSpace(text + fmt.Sprintf(" Packs to be measured first, not stated: %d.", t.work.Unmeasured))
	}
	return text
}
