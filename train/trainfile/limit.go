package trainfile

import (
	"fmt"
	"math"
	"strings"

	"leastmove/train"
	"leastmove/train/spelling"
)

// limit reads a coupling's own limits.
func (r *reader) limit(s *section, c *train.Coupling) {
	if !s.good("limit") {
		return
	}
	l := s.sub("limit")
	c.Limit.Angle = l.numberOr("angle", math.Inf(1))
	c.Limit.Gap = l.number("gap")
	c.Limit.EachPlane = l.on("each_plane")
	c.Limit.Combined = l.text("combined") == "sum"
	if s.has("flex") && !s.good("flex") {
		return // no telling which limits it needs
	}
	if l.good("published") {
		r.published(l, c)
	}
	if c.Spacer {
		if l.has("offset") {
			r.fault(l.key("offset"), "a spacer coupling has no limit of the offset: its limit is the angle at each flex plane",
				"leave offset out; an offset divided by the distance between the flex planes is the angle")
		}
		if !l.tried("angle") && !l.tried("published") {
			r.fault(s.key("limit"), fmt.Sprintf("limit.angle of coupling %s is missing: a coupling with flex is limited by "+
				"the angle at each flex plane", spelling.Quote(c.Name)),
				"write angle = ... (mrad) in [coupling.limit]")
		}
		return
	}
	c.Limit.Offset = l.numberOr("offset", math.Inf(1))
	if l.has("published") {
		return
	}
	var missing []string
	for _, key := range []string{"offset", "angle"} {
		if !l.tried(key) {
			missing = append(missing, "limit."+key)
		}
	}
	if len(missing) > 0 {
		r.fault(s.key("limit"), fmt.Sprintf("%s of coupling %s is missing: a coupling with one engagement plane is "+
			"limited by both offset and angle",
			strings.Join(missing, " and "), spelling.Quote(c.Name)), "a spacer coupling has flex = [ , ] and the angle alone")
	}
}

// spacerAngle in mrad is the published limit at each flex plane of a spacer
// coupling: half a mil for each inch between them (Jackson, The Practical Vibration
// Primer, 1979, alignment by proximity probes; 5 µm for each cm).
const spacerAngle = 0.5

// published is the limit that a book has, where the file asks for it.
func (r *reader) published(l *section, c *train.Coupling) {
	switch {
	case !c.Spacer:
		r.fault(l.key("published"), fmt.Sprintf("published is \"spacer\", and coupling %s has no flex planes",
			spelling.Quote(c.Name)),
			"the published half mil for each inch is for spacer couplings: give flex = [ , ], or offset and angle")
	case l.has("angle"):
		r.fault(l.key("published"), fmt.Sprintf("the limit of coupling %s is given twice: angle and published",
			spelling.Quote(c.Name)), "leave one of them out")
	default:
		c.Limit.Angle = spacerAngle
	}
}
