package trainfile

import (
	"fmt"
	"math"

	"leastmove/train"
	"leastmove/train/spelling"
)

// warnRims warns of two rims whose shafts would reach past each other, stations
// that have changed places, and says whether it did.
func (r *reader) warnRims(c couplingPart) bool {
	last, first := math.Inf(-1), math.Inf(1)
	at := -1
	for i, d := range c.coupling.Dials {
		switch {
		case d.Kind != train.RimDial:
		case d.OnFrom && d.X > last:
			last, at = d.X, i
		case !d.OnFrom:
			first = math.Min(first, d.X)
		}
	}
	if list := c.section.subs("reading"); last > first && at < len(list) && list[at].good("x") {
		r.warn(list[at].at("x"), fmt.Sprintf("the rim on the shaft before coupling %s is at %s, past the rim on the "+
			"shaft after it, at %s", spelling.Quote(c.coupling.Name), r.show(last, Length), r.show(first, Length)),
			"did the two stations change places, or the two shafts in on?")
		return true
	}
	return false
}

// oneShaft faults two rims on one shaft with the coupling between them, reverse dials of which one is given the wrong
// shaft: a shaft ends at its coupling, so that nothing of it is on the other side. dials are without fault. False if
// it did.
func (r *reader) oneShaft(t *train.Train, s *section, c *train.Coupling, dials []instrument) bool {
	if !s.good("x") || s.has("flex") && !s.good("flex") || r.unknown || c.From.Machine >= c.To.Machine {
		return true
	}
	// Within a quarter of the spacer from its flex plane, a rim is at that hub.
	planes := c.Planes()
	first, last := planes[0], planes[len(planes)-1]
	first, last = first+(last-first)/4, last-(last-first)/4
	for _, onFrom := range [...]bool{true, false} {
		low, high := -1, -1
		for i := range dials {
			d := dials[i]
			if d.Kind != train.RimDial || d.OnFrom != onFrom {
				continue
			}
			if d.X < first && (low < 0 || d.X < dials[low].X) {
				low = i
			}
			if d.X > last && (high < 0 || d.X > dials[high].X) {
				high = i
			}
		}
		if low < 0 || high < 0 {
			continue
		}
		end, other, wrong := c.To, c.From, low
		if onFrom {
			end, other, wrong = c.From, c.To, high
		}
		r.fault(dials[wrong].section.at("on"), fmt.Sprintf("the rims at %s and at %s are both on %s, and coupling %s is "+
			"between them, at %s", r.show(dials[low].X, Length), r.show(dials[high].X, Length),
			spelling.Quote(t.ShaftName(end)), spelling.Quote(c.Name), r.planesShown(c)),
			fmt.Sprintf("no shaft reaches past its coupling: write on = %q for the rim at %s; else check x of the rims and of "+
				"the coupling", t.ShaftName(other), r.show(dials[wrong].X, Length)))
		return false
	}
	return true
}

// planesShown are the stations at which a coupling gives way.
func (r *reader) planesShown(c *train.Coupling) string {
	if c.Spacer {
		return r.show(c.Flex[0], Length) + " to " + r.show(c.Flex[1], Length)
	}
	return r.show(c.X, Length)
}
