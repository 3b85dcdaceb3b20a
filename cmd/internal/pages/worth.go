package pages

import (
	"fmt"
	"math"

	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
)

// mostWorth is how many limits a page says the worth of.
const mostWorth = 5

// worth says what the limits cost that matter most.
func (t *planText) worth() {
	var items []string
	for _, w := range t.plan.ShadowPrices {
		if words := t.worthOf(w); words != "" && len(items) < mostWorth {
			items = append(items, words)
		}
	}
	if items == nil {
		return
	}
	t.Heading("What limits cost")
	t.Say(fmt.Sprintf("In movement (%s), dearest first. At most: proven. About: worked out anew without whole steps.", t.MoveUnit()))
	t.Items(items...)
}

// worthOf is what one limit costs; "" where it is nothing.
func (t *planText) worthOf(w view.ShadowPrice) string {
	most, wider, closer := t.Total(w.AtMost), t.Total(w.Wider), t.Total(w.Closer)
	if (most == "" || most.Zero()) && (wider == "" || wider.Zero()) {
		return ""
	}
	words := t.widened(w) + " saves "
	switch {
	case most == "":
		words += "about " + string(wider)
	case wider == "":
		words += "at most " + string(most)
	default:
		words += "at most " + string(most) + ", about " + string(wider)
	}
	switch {
	case math.IsInf(w.Closer, 1):
		words += "; as much less can't be kept within this share"
	case closer != "":
		words += "; as much less costs about " + string(closer)
	}
	return words
}

// widened is the change of a limit that was looked at.
func (s formatter) widened(w view.ShadowPrice) string {
	by := words.With(s.value(w.Kind, w.By), s.unit(w.Kind))
	if ofCoupling(w.Kind) {
		return fmt.Sprintf("%s, %s: %s more for %s", s.Coupling(w.Coupling), s.Condition(w.Condition), by, measure(w.Kind))
	}
	if w.Machine < 0 {
		return by + " more for " + string(w.Kind)
	}
	at := s.footOf(w.Limit)
	if len(w.Feet) > 0 {
		at = s.Machine(w.Machine) + " " + s.FeetOf(w.Machine, w.Feet)
	}
	switch w.Kind {
	case view.LimitLower:
		return fmt.Sprintf("%s: %s more of shims to take out", at, by)
	case view.LimitRaise:
		return fmt.Sprintf("%s: %s more that may go in", at, by)
	case view.LimitBolt:
		return fmt.Sprintf("%s: a hole wider by %s", at, by)
	case view.LimitTravel:
		return fmt.Sprintf("%s: %s more travel", at, by)
	case view.LimitFlat:
		return fmt.Sprintf("%s: %s more soft foot", at, by)
	case view.LimitPitch:
		return fmt.Sprintf("%s: %s more off level along the train", at, by)
	case view.LimitRoll:
		return fmt.Sprintf("%s: %s more off level across the train", at, by)
	case view.LimitNozzle:
		return fmt.Sprintf("%s, nozzle %s: %s more displacement", at, s.Nozzle(w.Machine, w.Nozzle), by)
	}
	return fmt.Sprintf("%s: %s more for %s", at, by, w.Kind)
}
