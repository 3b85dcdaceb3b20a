package pages

import (
	"strings"

	"leastmove/cmd/internal/sheet"
)

// voidWords head the sheet of such a plan.
const voidWords = "PROVISIONAL: the hold point below comes first. After it every coupling is read again and the train is planned anew. The stages here were worked out from readings taken before: they show what the work is for, and are not for use."

// hold is what is to be done and signed for before anything is moved, where a plan
// needs a relief.
func (t *order) hold() {
	r := t.plan.Relieved
	if r == nil {
		return
	}
	without := "Without this the moves are not possible. "
	if len(t.work.Stages) == 0 {
		without = "Without this the limits are not kept. "
	}
	b := sheet.Block{
		Heading: "HOLD POINT: not without the engineer", Fields: []string{"engineer", "time"},
		Text: []string{without + strings.Join(t.reliefCautions(r.Edits), " ")},
	}
	b.Ticks = append(b.Ticks, "Engineer has signed above.")
	if t.work.Void {
		b.Ticks = append(b.Ticks, "Lifting plan in hand; pipes supported or disconnected.")
	}
	for _, g := range t.editGroups(r.Edits) {
		b.Ticks = append(b.Ticks, capital(t.edit(g))+".")
	}
	if t.work.Void {
		b.Ticks = append(b.Ticks,
			"After that: soft foot and pipe strain again, as above.",
			"All bolts tight: every coupling read again, here and in the file, and planned anew. Readings taken before are void.")
		b.Tables = t.again()
	}
	t.add(b)
}
