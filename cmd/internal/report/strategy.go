package report

import (
	"fmt"
	"strings"

	"leastmove/optimize"
)

// asked says which machines were held or freed on the command line.
func (p *page) asked(layout Page) {
	say := func(names []string, what string) {
		if len(names) > 0 {
			p.paragraph("", fmt.Sprintf("As asked for on the command line, %s: %s.", what, clean(strings.Join(names, ", "))))
		}
	}
	say(layout.Held, "not to be moved")
	say(layout.Freed, "may be moved")
	if len(layout.Held)+len(layout.Freed) > 0 {
		p.blank()
	}
}

// byStrategy says what was made least, where that is not the total, and what is
// proven of it.
func (t *planText) byStrategy() {
	p := t.plan
	if p.Status != optimize.Planned || p.Strategy == "" || p.Strategy == optimize.LeastTotal {
		return
	}
	words := "Strategy: " + strategy(p.Strategy)
	value, bound := t.first(p)
	switch {
	case p.Strategy == optimize.RaiseOnly:
		words += ", then the least total movement: no shims come out."
	case p.Strategy == optimize.LeastPeak:
		words += fmt.Sprintf(" (%s), then the least total movement", with(value, t.moveUnit()))
	case p.Strategy == optimize.Closest:
		words += fmt.Sprintf(" (worst use %s), then the least total movement", percent(p.First))
	default:
		words += fmt.Sprintf(" (%s), then the least total movement", value)
	}
	switch {
	case p.Strategy == optimize.RaiseOnly:
	case bound == "" || bound.zero():
		words += "; that no plan has less was not proven."
	case bound.short() == value.short():
		words += "; no plan has less (proven)."
	case p.Strategy == optimize.Closest:
		words += fmt.Sprintf("; no plan is below %s %% (proven).", floor(100*p.FirstBound, 0))
	default:
		words += fmt.Sprintf("; no plan is below %s (proven).", bound)
	}
	t.paragraph("", words)
}
