package trainfile

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"leastmove/train"
)

// limit reads a coupling's own limits.
func (r *reader) limit(s *section, c *train.Coupling) {
	if !s.good("limit") {
		return
	}
	l := s.sub("limit")
	c.Limit.Angle = l.number("angle", math.Inf(1))
	c.Limit.Gap = l.number("gap", math.Inf(1))
	c.Limit.EachPlane = l.on("each_plane")
	if s.has("flex") && !s.good("flex") {
		return // no telling which limits it needs
	}
	if c.Spacer {
		if l.has("offset") {
			r.fault(l.key("offset"), "a spacer coupling has no limit of the offset: its limit is the angle at each flex plane",
				"leave offset out; an offset divided by the distance between the flex planes is the angle")
		}
		if !l.tried("angle") {
			r.fault(s.key("limit"), fmt.Sprintf("limit.angle of coupling %s is missing: a coupling with flex is limited by the angle at each flex plane", quote(c.Name)),
				"write angle = ... (mrad) in [coupling.limit]")
		}
		return
	}
	c.Limit.Offset = l.number("offset", math.Inf(1))
	var missing []string
	for _, key := range []string{"offset", "angle"} {
		if !l.tried(key) {
			missing = append(missing, "limit."+key)
		}
	}
	if len(missing) > 0 {
		r.fault(s.key("limit"), fmt.Sprintf("%s of coupling %s is missing: a coupling with one engagement plane is limited by both offset and angle",
			strings.Join(missing, " and "), quote(c.Name)), "a spacer coupling has flex = [ , ] and the angle alone")
	}
}

// A band is the limits up to a speed; +Inf where it does not state one.
type band struct {
	rpm                      float64 // 1/min
	offset, angle, flexAngle float64 // mm, mrad, mrad
}

// bands are the limits by speed, ascending.
func (r *reader) bands(file *section) []band {
	var bands []band
	seen := map[float64]span{}
	for _, s := range file.subs("band") {
		b := band{
			rpm:    s.number("up_to_rpm", math.NaN()),
			offset: s.number("offset", math.Inf(1)), angle: s.number("angle", math.Inf(1)),
			flexAngle: s.number("flex_angle", math.Inf(1)),
		}
		if s.tried("offset") != s.tried("angle") || !s.tried("angle") && !s.tried("flex_angle") {
			r.fault(s.node.key, "a band needs offset and angle, or flex_angle, or all three",
				"offset and angle are for one engagement plane, flex_angle is for spacer couplings")
		}
		if first, there := seen[b.rpm]; there && s.good("up_to_rpm") {
			r.fault(s.at("up_to_rpm"), fmt.Sprintf("two bands end at %s", r.value(s, "up_to_rpm", Speed)),
				fmt.Sprintf("the first one is on line %d", r.line(first.start)))
			continue
		}
		seen[b.rpm] = s.at("up_to_rpm")
		bands = append(bands, b)
	}
	slices.SortFunc(bands, func(a, b band) int {
		switch {
		case a.rpm < b.rpm:
			return -1
		case a.rpm > b.rpm:
			return 1
		}
		return 0
	})
	return bands
}

// banded gives a coupling the limits of the band for its speed.
func (r *reader) banded(s *section, c *train.Coupling, bands []band) {
	at, name := s.node.key, quote(c.Name)
	const hint = "write [coupling.limit] with offset and angle (with flex: angle alone), or a [[band]] for its speed"
	switch {
	case s.has("rpm") && !s.good("rpm") || s.has("flex") && !s.good("flex"):
		return
	case len(bands) == 0:
		r.fault(at, fmt.Sprintf("coupling %s has no limits", name), hint)
		return
	case math.IsNaN(c.RPM):
		r.fault(at, fmt.Sprintf("coupling %s has no limits of its own, and no speed to find its band by", name),
			"give rpm at the coupling or at one of its machines, or write [coupling.limit]")
		return
	}
	for _, b := range bands {
		if !(b.rpm >= c.RPM) {
			continue
		}
		if c.Spacer {
			c.Limit.Angle = b.flexAngle
		} else {
			c.Limit.Offset, c.Limit.Angle = b.offset, b.angle
		}
		if math.IsInf(c.Limit.Angle, 1) {
			key := "offset and angle"
			if c.Spacer {
				key = "flex_angle"
			}
			r.fault(at, fmt.Sprintf("coupling %s has no limits: the band up to %s 1/min states no %s", name, figure(b.rpm), key), hint)
		}
		return
	}
	last := bands[len(bands)-1]
	if !math.IsNaN(last.rpm) {
		r.fault(at, fmt.Sprintf("coupling %s has no limits: it runs at %s 1/min, the bands end at %s 1/min", name, figure(c.RPM), figure(last.rpm)), hint)
	}
}
