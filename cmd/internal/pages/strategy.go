package pages

import (
	"fmt"
	"strings"

	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
)

// asked says which machines were asked to be held or freed.
func (p *page) asked(layout Page) {
	say := func(names []string, what string) {
		if len(names) > 0 {
			p.Say(fmt.Sprintf("As asked, %s: %s.", what, words.Clean(strings.Join(names, ", "))))
		}
	}
	say(layout.Held, "not to be moved")
	say(layout.Freed, "may be moved")
	if len(layout.Held)+len(layout.Freed) > 0 {
		p.Space()
	}
}

// byStrategy says what was made least, where that is not the total, and what is
// proven of it.
func (t *planText) byStrategy() {
	p := t.plan
	if p.Status != view.Planned || p.Strategy == "" || p.Strategy == view.LeastTotal {
		return
	}
	text := "Strategy: " + strategy(p.Strategy)
	value, bound := t.Measured(p.FirstIn, p.First, p.FirstBound)
	switch {
	case p.Strategy == view.RaiseOnly:
		text += ", then the least total movement: no shims come out."
	case p.Strategy == view.Minimax:
		text += fmt.Sprintf(" (%s), then the least total movement", words.With(value, t.MoveUnit()))
	case p.Strategy == view.Closest:
		text += fmt.Sprintf(" (largest share %s), then the least total movement", words.Percent(p.First))
	default:
		text += fmt.Sprintf(" (%s), then the least total movement", value)
	}
	switch {
	case p.Strategy == view.RaiseOnly:
	case p.Early:
		text += "."
	case bound == "" || bound.Zero():
		text += "; that no plan has less was not proven."
	case bound.Short() == value.Short():
		text += "; no plan has less (proven)."
	case p.Strategy == view.Closest:
		text += fmt.Sprintf("; no plan is below %s %% (proven).", words.Floor(100*p.FirstBound, 0))
	default:
		text += fmt.Sprintf("; no plan is below %s (proven).", bound)
	}
	t.Say(text)
}
