package pages

import (
	"fmt"
	"strings"

	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
)

// Unplanned says in a few lines why there are no moves, and how to go on.
func Unplanned(p *view.Plan) string {
	s := formatterFor(p)
	if !p.Explained {
		text := "no plan was found, and it was not proven that there is none"
		if p.Cut != "" {
			text += ": " + words.Clean(p.Cut)
		}
		return text + "\n  see leastmove plan FILE; --work NUMBER lets it search longer"
	}
	how := "proven"
	if p.FirstOrder {
		how = "to first order: undecided"
	}
	lines := []string{"no moves that the feet allow bring every coupling within its limits (" + how + "). These cannot " +
		"hold together:"}
	for _, m := range p.Conflict {
		lines = append(lines, "  - "+s.limit(m.Limit))
	}
	for i, r := range p.Relaxations {
		lines = append(lines, fmt.Sprintf("  option %d: %s. For its sheet: --relieve %d", i+1, s.advice(r), i+1))
	}
	if len(p.Relaxations) == 0 {
		lines = append(lines, "  no option was found; --widen looks at wider coupling limits too")
	}
	return strings.Join(append(lines, "  all of it: leastmove plan FILE"), "\n")
}
