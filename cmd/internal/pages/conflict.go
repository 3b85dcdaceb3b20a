package pages

import (
	"fmt"
	"math"

	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
)

// conflict says which limits cannot hold together, in the words of the trade:
// what is said of several feet of a machine is said once.
func (t *planText) conflict(layout Page) {
	t.Heading("Conflict")
	if len(t.plan.Conflict) == 0 {
		t.Say("The limits that cannot hold together were not narrowed down.")
		return
	}
	var items []string
	measured := false
	for _, g := range t.conflictGroups() {
		words := t.atOdds(g.member.Limit, g.feet)
		if short := t.short(g.member); short != "" {
			words += "; " + short
			if len(g.feet) > 1 && t.Train.Machines[g.member.Machine].Roll && g.member.Kind.Info().SetBy == view.SetByUp {
				words += " at one of them"
			}
			measured = true
		}
		items = append(items, words+lines(layout, g.places))
	}
	words := "These limits cannot hold together" + t.order() + ". It is one such set, there may be others."
	if measured {
		words += " After \"alone\": how much more that limit alone would have to give for the others of this set to hold."
	}
	t.Say(words)
	t.Items(items...)
	if words := t.parted(); words != "" {
		t.Say(words)
	}
	if !measured {
		return
	}
	words = "Giving that much may bring the next set of limits into play"
	if len(t.plan.Relaxations) > 0 {
		words += "; the options were planned"
	}
	t.Say(words + ".")
}

// order says that a statement holds to first order, where no more is proven.
func (t *planText) order() string {
	if t.plan.FirstOrder {
		return " (to first order)"
	}
	return ""
}

// A conflictGroup is one limit of a conflict, at all feet of a machine where it is
// the same.
type conflictGroup struct {
	member view.Member
	words  string
	feet   []int
	places []view.Place
}

func (t *planText) conflictGroups() []conflictGroup {
	var groups []conflictGroup
next:
	for _, m := range t.plan.Conflict {
		words := t.stated(m.Limit) + t.short(m)
		if m.Machine >= 0 && m.Foot >= 0 {
			for i := range groups {
				g := &groups[i]
				if g.member.Machine == m.Machine && g.member.Kind == m.Kind && g.member.Condition == m.Condition &&
					g.words == words {
					g.feet, g.places = append(g.feet, m.Foot), append(g.places, view.PlaceOf(t.Train, m.Limit))
					continue next
				}
			}
		}
		g := conflictGroup{member: m, words: words, places: []view.Place{view.PlaceOf(t.Train, m.Limit)}}
		if m.Foot >= 0 {
			g.feet = []int{m.Foot}
		}
		groups = append(groups, g)
	}
	return groups
}

// atOdds says how a limit stands in the way.
func (s formatter) atOdds(l view.Limit, feet []int) string {
	if l.Foot < 0 {
		return s.limit(l)
	}
	phrases, _ := s.phrases(l)
	return words.Fill(phrases.Conflict, "{machine}", s.Machine(l.Machine), "{feet}", s.FeetOf(l.Machine, feet)+s.hot(l)) +
		": " + s.stated(l)
}

// short is what a limit alone would have to be relaxed for the others of its set to
// hold.
func (s formatter) short(m view.Member) string {
	if math.IsNaN(m.Short) || math.IsInf(m.Short, 0) {
		return ""
	}
	by := func(v float64) string { return words.With(s.LimitUp(m.Kind, v), s.LimitUnit(m.Kind)) }
	return words.Fill(words.PhrasesOf(m.Kind, 0).Alone, "{by}", by(m.Short), "{twice}", by(2*m.Short))
}

// lines says where keys stand in the train file, each line once.
func lines(layout Page, places []view.Place) string {
	var parts []string
	said := map[int]bool{0: true}
	for _, at := range places {
		if n := layout.LineOf(at); !said[n] {
			said[n] = true
			parts = append(parts, fmt.Sprint(n))
		}
	}
	switch len(parts) {
	case 0:
		return ""
	case 1:
		return " (line " + parts[0] + ")"
	}
	return " (lines " + words.And(parts) + ")"
}
