package pages

import (
	"fmt"
	"strings"

	"leastmove/cmd/internal/doc"
	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
)

// warmUp is a table of the worst state of each coupling in warm-up, between the conditions.
func (p *page) warmUp(s formatter, warm []view.Transient, when string) {
	g := doc.Table{Caption: "In warm-up between the conditions, each machine cold or hot by itself: the worst of each " +
		"coupling " + when + ", as a share of the stated limits. " + s.warmLimit(),
		Columns: []doc.Column{doc.Wide("coupling"), doc.Number("of its limit"), doc.Wide("governed by"), doc.Wide("with")}}
	for i := range warm {
		g.Add(s.Coupling(i), words.Percent(warm[i].Worst()), view.Governs(&warm[i].Reading), s.warming(i, &warm[i]))
	}
	p.Space()
	p.Table(g)
}

// warmLimit says whether warm-up is limited.
func (s formatter) warmLimit() string {
	if s.Train.Between == nil {
		return "It is no limit (aim.transient makes it one)."
	}
	return "At most " + words.Percent(s.Train.Aim.Transient) + " may be used (aim.transient)."
}

// andWarmUp follows the conditions where warm-up is limited too.
func (s formatter) andWarmUp() string {
	if s.Train.Between == nil {
		return ""
	}
	return " and in warm-up"
}

// warmShort names couplings that pass their limits in warm-up, in one line.
func (s formatter) warmShort(warm []view.Transient) []string {
	var each []string
	for i := range warm {
		if warm[i].Worst() > 1+view.Fair {
			each = append(each, fmt.Sprintf("%s at %s (%s)", s.Coupling(i), words.Percent(warm[i].Worst()),
				s.warming(i, &warm[i])))
		}
	}
	if each == nil {
		return nil
	}
	return []string{"over limits (ask makers) in warm-up: " + words.And(each)}
}

// warming is a state of warm-up: how far the two machines of coupling i have grown, and whether its shafts have shifted
// in their bearings.
func (s formatter) warming(i int, w *view.Transient) string {
	c, machines := &s.Train.Couplings[i], s.Train.Machines
	from, to := &machines[c.From.Machine].Shafts[c.From.Shaft], &machines[c.To.Machine].Shafts[c.To.Shaft]
	text := s.warmth(c.From.Machine, w.From) + ", " + s.warmth(c.To.Machine, w.To)
	switch {
	case w.From == (view.Warmth{}) && w.To == w.From:
		text = "both cold"
	case w.From == (view.Warmth{Share: 1}) && w.To == w.From:
		text = "both hot"
	}
	switch {
	case from.Run == (view.Shift{}) && to.Run == (view.Shift{}):
		return text
	case w.Run == 0:
		return text + ", at rest"
	}
	return text + ", turning"
}

// warmth is how far a machine has grown.
func (s formatter) warmth(m int, w view.Warmth) string {
	switch {
	case w.Own != "":
		return s.Machine(m) + " as in " + s.Name(w.Own)
	case w.Share == 0:
		return s.Machine(m) + " cold"
	case w.Share == 1:
		return s.Machine(m) + " hot"
	}
	return s.Machine(m) + " at " + strings.TrimSpace(words.Percent(w.Share)) + " of its growth"
}
