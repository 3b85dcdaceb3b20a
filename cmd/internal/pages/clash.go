package pages

import (
	"fmt"
	"math"

	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
)

// clash says which limits cannot hold together, in the words of the trade:
// what is said of several feet of a machine is said once.
func (t *planText) clash(layout Page) {
	t.Heading("What clashes")
	if len(t.plan.Conflict) == 0 {
		t.Say("The limits that cannot hold together were not narrowed down.")
		return
	}
	var items []string
	measured := false
	for _, g := range t.clashGroups() {
		words := t.atOdds(g.member.Limit, g.feet)
		if short := t.short(g.member); short != "" {
			words += "; " + short
			if k := g.member.Kind; len(g.feet) > 1 && t.Train.Machines[g.member.Machine].Roll && (k == view.LimitLower || k == view.LimitRaise) {
				words += " at one of them"
			}
			measured = true
		}
		items = append(items, words+lines(layout, g.places))
	}
	words := "These limits cannot hold together. It is one such set, there may be others."
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
		words += "; the ways out below were planned"
	}
	t.Say(words + ".")
}

// A clashGroup is one limit of a clash, at all feet of a machine where it is
// the same.
type clashGroup struct {
	member view.Member
	words  string
	feet   []int
	places []Place
}

func (t *planText) clashGroups() []clashGroup {
	var groups []clashGroup
next:
	for _, m := range t.plan.Conflict {
		words := t.limitAlone(m.Limit) + t.short(m)
		if m.Machine >= 0 && m.Foot >= 0 {
			for i := range groups {
				g := &groups[i]
				if g.member.Machine == m.Machine && g.member.Kind == m.Kind && g.words == words {
					g.feet, g.places = append(g.feet, m.Foot), append(g.places, t.placeOf(m.Limit))
					continue next
				}
			}
		}
		g := clashGroup{member: m, words: words, places: []Place{t.placeOf(m.Limit)}}
		if m.Foot >= 0 {
			g.feet = []int{m.Foot}
		}
		groups = append(groups, g)
	}
	return groups
}

// atOdds says how a limit stands in the way.
func (s formatter) atOdds(l view.Limit, feet []int) string {
	if l.Machine < 0 || l.Foot < 0 {
		return s.limit(l)
	}
	name, at, limit := s.Machine(l.Machine), s.FeetOf(l.Machine, feet), s.limitAlone(l)
	switch l.Kind {
	case view.LimitLower:
		if s.Train.Machines[l.Machine].Feet[l.Foot].Lower < 0 {
			return fmt.Sprintf("%s must go up at %s: %s", name, at, limit)
		}
		return fmt.Sprintf("%s is base-bound at %s: %s", name, at, limit)
	case view.LimitRaise:
		return fmt.Sprintf("%s can't go up further at %s: %s", name, at, limit)
	case view.LimitBolt:
		return fmt.Sprintf("%s is bolt-bound at %s: %s", name, at, limit)
	case view.LimitTravel:
		return fmt.Sprintf("%s can't go further sideways at %s: %s", name, at, limit)
	}
	return fmt.Sprintf("%s at %s: %s", name, at, limit)
}

// short is what a limit alone would have to give for the others of its set to
// hold.
func (s formatter) short(m view.Member) string {
	if math.IsNaN(m.Short) || math.IsInf(m.Short, 0) {
		return ""
	}
	by := m.Short
	if m.Kind == view.LimitBolt {
		return fmt.Sprintf("alone %s more each way (holes wider by %s)",
			words.With(s.upward(m.Kind, by), s.unit(m.Kind)), words.With(s.upward(m.Kind, 2*by), s.unit(m.Kind)))
	}
	return fmt.Sprintf("alone %s more", words.With(s.upward(m.Kind, by), s.unit(m.Kind)))
}

// upward is a value of a limit's kind, rounded up.
func (n formatter) upward(k view.LimitKind, v float64) words.Number {
	switch k {
	case view.LimitAngle, view.LimitFlex, view.LimitPitch, view.LimitRoll:
		return words.Ceil(v, 3)
	case view.LimitGap:
		if n.Units == view.Inches {
			return words.Ceil(v/n.Units.Length(), 4)
		}
		return words.Ceil(v, 3)
	}
	return words.Ceil(v/n.Units.Move(), n.FineDecimals)
}

// placeOf is the key of the train file that states a limit.
func (s formatter) placeOf(l view.Limit) Place {
	key := string(l.Kind)
	switch l.Kind {
	case view.LimitBolt:
		key = "hole"
	case view.LimitNozzle:
		key = "limit"
	case view.LimitOffset, view.LimitAngle, view.LimitGap:
		key = "limit." + key
	case view.LimitFlex:
		key = "limit.angle"
	case view.LimitFlat:
		return ofTrain("shims.flat")
	case view.LimitSteps:
		return ofTrain("shims.step")
	case view.LimitStock:
		if len(s.Train.Shims.Stock) == 0 {
			return ofTrain("shims.max_pieces")
		}
		return ofTrain("shims.stock")
	case view.LimitLeast:
		return ofTrain("aim.least_move")
	}
	return Place{l.Machine, l.Foot, l.Nozzle, l.Coupling, key}
}

func ofTrain(key string) Place { return Place{-1, -1, -1, -1, key} }

// line is where a key stands in the train file; 0 where that is not known.
func (p Page) line(at Place) int {
	if p.Line == nil {
		return 0
	}
	return p.Line(at)
}

// lines says where keys stand in the train file, each line once.
func lines(layout Page, places []Place) string {
	var parts []string
	said := map[int]bool{0: true}
	for _, at := range places {
		if n := layout.line(at); !said[n] {
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
