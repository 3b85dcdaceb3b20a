package pages

import (
	"fmt"
	"math"

	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
)

// mostPriced is how many limits a page says the shadow price of.
const mostPriced = 5

// shadowPrices says what the limits cost that matter most.
func (t *planText) shadowPrices() {
	var items []string
	for _, w := range t.plan.ShadowPrices {
		if words := t.shadowPrice(w); words != "" && len(items) < mostPriced {
			items = append(items, words)
		}
	}
	if items == nil {
		return
	}
	t.Heading("What limits cost")
	t.Say(fmt.Sprintf("In movement (%s), largest saving first. At most: proven. About: worked out anew without whole "+
		"steps.", t.MoveUnit()))
	t.Items(items...)
}

// shadowPrice is what one limit costs; "" where it is nothing.
func (t *planText) shadowPrice(w view.ShadowPrice) string {
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
	at := s.at(w.Limit)
	if len(w.Feet) > 0 {
		at = s.Machine(w.Machine) + " " + s.FeetOf(w.Machine, w.Feet)
	}
	return words.Fill(words.PhrasesOf(w.Kind, w.Bound).More, "{at}", at, "{by}", s.withUnit(w.Kind, w.By))
}
