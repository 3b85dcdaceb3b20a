package pages

import (
	"slices"
	"strings"

	"leastmove/cmd/internal/sheet"
	"leastmove/optimize"
)

// disturbs says whether what a relief changes may shift a machine: work at feet, base
// or bolts, or letting go what was held. Readings taken before it are void then.
func disturbs(edits []optimize.Edit) bool {
	return slices.ContainsFunc(edits, func(e optimize.Edit) bool {
		return e.Coupling < 0 && slices.Contains([]string{"hole", "bolt", "cut", "raise", "hold"}, e.Key)
	})
}

// void says that the moves are only to show what a relief is for.
func (t *order) void() bool {
	return t.plan.Relieved != nil && disturbs(t.plan.Relieved.Edits)
}

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
	if len(t.staging.Stages) == 0 {
		without = "Without this the limits are not kept. "
	}
	b := sheet.Block{
		Heading: "HOLD POINT: not without the engineer", Fields: []string{"engineer", "time"},
		Text: []string{without + strings.Join(t.reliefCautions(r.Edits), " ")},
	}
	b.Ticks = append(b.Ticks, "Engineer has signed above.")
	if t.void() {
		b.Ticks = append(b.Ticks, "Lifting plan in hand; pipes supported or disconnected.")
	}
	for _, g := range t.editGroups(r.Edits) {
		b.Ticks = append(b.Ticks, capital(t.edit(g))+".")
	}
	if t.void() {
		b.Ticks = append(b.Ticks,
			"After that: soft foot and pipe strain again, as above.",
			"All bolts tight: every coupling read again, here and in the file, and planned anew. Readings taken before are void.")
		b.Tables = t.again()
	}
	t.add(b)
}
