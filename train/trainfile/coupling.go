package trainfile

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"leastmove/train"
	"leastmove/train/spelling"
	"leastmove/train/trainfile/tree"
)

// A couplingPart is a coupling and the section that it came from.
type couplingPart struct {
	section  *section
	coupling train.Coupling
	joined   bool // both ends name a shaft
}

func (r *reader) couplings(t *train.Train, file *section) []couplingPart {
	var parts []couplingPart
	names := map[string]tree.Span{}
	bands := r.outside(file)
	for _, s := range file.subs("coupling") {
		r.unique(names, s, "name", s.text("name"), "coupling")
		c := train.Coupling{
			Name: s.text("name"),
			X:    s.number("x"),
			Limit: train.Limit{
				Offset: math.Inf(1), Angle: math.Inf(1), Gap: math.Inf(1),
			},
		}
		var from, to bool
		c.From, from = r.end(t, s, "from")
		c.To, to = r.end(t, s, "to")
		r.flex(s, &c)
		c.RPM = s.numberOr("rpm", math.NaN())
		if from && to && !s.has("rpm") {
			c.RPM = faster(t.Machines[c.From.Machine].Shafts[c.From.Shaft].RPM, t.Machines[c.To.Machine].Shafts[c.To.Shaft].RPM)
		}
		if s.has("limit") {
			r.limit(s, &c)
		} else if from && to && !s.meant["limit"] {
			r.banded(s, &c, bands)
		}
		r.misalignment(t, s, &c)
		if s.has("reading") {
			r.readings(t, s, &c, from && to)
		}
		r.targets(t, s, &c, from && to)
		parts = append(parts, couplingPart{s, c, from && to})
	}
	return parts
}

// faster is the higher of two speeds; NaN only where both are.
func faster(a, b float64) float64 {
	switch {
	case math.IsNaN(a):
		return b
	case math.IsNaN(b):
		return a
	}
	return math.Max(a, b)
}

// end is the shaft that a coupling's `from` or `to` names: MACHINE, or
// MACHINE/SHAFT. Names may hold strokes themselves.
func (r *reader) end(t *train.Train, s *section, key string) (train.End, bool) {
	if !s.good(key) {
		return train.End{}, false
	}
	text := s.text(key)
	var found []train.End
	several := -1
	for _, i := range r.byName[text] {
		if len(t.Machines[i].Shafts) > 1 {
			several = i
			continue
		}
		found = append(found, train.End{Machine: i})
	}
	missed := -1 // a machine that is named with a shaft that it does not have
	for at := range text {
		if text[at] != '/' {
			continue
		}
		for _, i := range r.byName[text[:at]] {
			missed = i
			for j, shaft := range t.Machines[i].Shafts {
				if shaft.Name != "" && shaft.Name == text[at+1:] {
					found = append(found, train.End{Machine: i, Shaft: j})
				}
			}
		}
	}
	switch {
	case len(found) == 1:
		return found[0], true
	case r.nameless || r.namesakes(t, found):
		// What is wrong with the machines' names has its fault.
	case len(found) > 1:
		r.fault(s.at(key), fmt.Sprintf("%s may be more than one shaft", spelling.Quote(text)),
			"give the machines names of their own, without /")
	case several >= 0:
		r.fault(s.at(key), fmt.Sprintf("machine %s has more than one shaft, %s does not say which", spelling.Quote(text),
			key),
			"write one of "+list(shaftNames(t, several)))
	case missed >= 0:
		hint := fmt.Sprintf("the machine has one shaft: write %q", t.Machines[missed].Name)
		if names := shaftNames(t, missed); len(names) > 0 {
			hint = "it has " + list(slices.Compact(names))
		}
		r.fault(s.at(key), fmt.Sprintf("%s is %s, a shaft that machine %s does not have", key, spelling.Quote(text),
			spelling.Quote(t.Machines[missed].Name)), hint)
	default:
		hint := ""
		if near := r.nearest(text, r.ends); near != "" {
			hint = fmt.Sprintf("did you mean %s?", spelling.Quote(near))
		} else if len(r.ends) > 0 && len(r.ends) <= 20 {
			hint = "known: " + list(r.ends)
		}
		r.fault(s.at(key), fmt.Sprintf("%s is %s, no machine has that name", key, spelling.Quote(text)), hint)
	}
	return train.End{}, false
}

// namesakes says whether two of the shafts are on one machine, or on machines
// with one name.
func (r *reader) namesakes(t *train.Train, ends []train.End) bool {
	seen := map[string]bool{}
	for _, e := range ends {
		name := t.Machines[e.Machine].Name
		if seen[name] {
			return true
		}
		seen[name] = true
	}
	return false
}

func shaftNames(t *train.Train, machine int) []string {
	var names []string
	for j, s := range t.Machines[machine].Shafts {
		if s.Name != "" {
			names = append(names, t.ShaftName(train.End{Machine: machine, Shaft: j}))
		}
	}
	return names
}

// index lists the machines by name, and all that a coupling may name.
func (r *reader) index(t *train.Train, machines []machinePart) {
	r.byName = map[string][]int{}
	for i := range t.Machines {
		m := &t.Machines[i]
		if !machines[i].section.good("name") {
			r.nameless = true
			continue
		}
		r.byName[m.Name] = append(r.byName[m.Name], i)
		if names := shaftNames(t, i); len(names) > 0 {
			r.ends = append(r.ends, names...)
		} else {
			r.ends = append(r.ends, m.Name)
		}
	}
}

// longestSpacer in mm is the longest distance between flex planes that is
// believed, shortestSpacer the shortest.
const (
	longestSpacer  = 20e3
	shortestSpacer = 1
)

func (r *reader) flex(s *section, c *train.Coupling) {
	c.Spacer = s.has("flex")
	if !s.good("flex") {
		return
	}
	c.Flex = s.pair("flex")
	length := c.Flex[1] - c.Flex[0]
	// The plane of the offsets may be a reading plane on a hub, somewhat
	// outside the flex planes, but no more than this.
	reach := math.Max(2*length, 1000)
	switch {
	case math.Abs(length) < shortestSpacer:
		r.fault(s.at("flex"), fmt.Sprintf("the flex planes are %s apart, it must be %s or more",
			r.show(math.Abs(length), Length), r.show(shortestSpacer, Length)),
			"a coupling with one engagement plane has no flex")
	case length < 0:
		r.fault(s.at("flex"), fmt.Sprintf("the flex planes are the wrong way round: %s is further along the train than %s",
			r.show(c.Flex[0], Length), r.show(c.Flex[1], Length)), fmt.Sprintf("write flex = [%s, %s]",
			r.typed(s.fields["flex"].places[1]), r.typed(s.fields["flex"].places[0])))
	case length > longestSpacer:
		r.fault(s.at("flex"), fmt.Sprintf("the flex planes are %s apart, at most %s is believed", r.show(length, Length),
			r.show(longestSpacer, Length)), "")
	case c.X < c.Flex[0]-reach || c.X > c.Flex[1]+reach:
		r.fault(s.at("x"), fmt.Sprintf("x is %s, far outside the flex planes %s and %s",
			r.value(s, "x", Length), r.show(c.Flex[0], Length), r.show(c.Flex[1], Length)),
			"x and flex are stations of the train, not of a machine")
	}
}

// misalignment reads what was found and what is wanted.
func (r *reader) misalignment(t *train.Train, s *section, c *train.Coupling) {
	found := s.sub("found")
	v, h := found.sub("v"), found.sub("h")
	c.Found = train.Misalignment{V: tilt(v), H: tilt(h)}
	c.FoundGap = found.number("gap")
	taken := found.sub("taken")
	c.Taken = train.Share{Growth: taken.number("growth"), Run: taken.number("run")}
	wanted := s.sub("wanted")
	c.Wanted = train.Misalignment{V: tilt(wanted.sub("v")), H: tilt(wanted.sub("h"))}
	c.WantedGap = wanted.number("gap")
	if s.tried("reading") {
		return // what was found follows from them
	}
	var missing []string
	for _, key := range []string{"v", "h"} {
		if !found.tried(key) {
			missing = append(missing, key)
		}
	}
	if c.Surveyed = len(missing) == 2 && t.Pointed() && !s.meant["found"]; c.Surveyed {
		return // it follows from the points of its machines
	}
	if len(missing) > 0 && !s.meant["found"] && (!s.has("found") || s.good("found")) {
		r.fault(s.key("found"), fmt.Sprintf("the found misalignment of coupling %s is missing: %s",
			spelling.Quote(c.Name), strings.Join(missing, " and ")),
			"write v = { offset = ..., angle = ... } and h = { offset = ..., angle = ... } in [coupling.found], or "+
				"[[coupling.reading]] with what was read, or [[machine.point]] of a survey")
	}
}

func tilt(s *section) train.Tilt {
	return train.Tilt{Offset: s.number("offset"), Angle: s.number("angle")}
}
