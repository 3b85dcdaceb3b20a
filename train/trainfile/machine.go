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

// A machinePart is a machine and the sections that it came from.
type machinePart struct {
	section  *section
	footings []footing  // of each of the train.Machine's feet
	shafts   []*section // of each of its shafts; nil where it names none
	nozzles  []*section
	points   []*section // of each of its points
	unpoint  bool       // a point has a fault
}

// unique faults a name that was there before; then it is false.
func (r *reader) unique(seen map[string]tree.Span, s *section, key, name, what string) bool {
	if !s.good(key) {
		return true
	}
	looks := looksOf(name)
	if first, there := seen[looks]; there {
		r.fault(s.at(key), fmt.Sprintf("%s %s is there twice", what, spelling.Quote(name)),
			fmt.Sprintf("the first one is on line %d", r.line(first.Start)))
		return false
	}
	seen[looks] = s.at(key)
	r.warnLetters(seen, s.at(key), what, looks)
	return true
}

// looksOf is a name without what only says how its letters are joined.
func looksOf(name string) string {
	return strings.Map(func(c rune) rune {
		if spelling.Joins(c) {
			return -1
		}
		return c
	}, name)
}

func (r *reader) machines(t *train.Train, file *section) []machinePart {
	var parts []machinePart
	names := map[string]tree.Span{}
	for _, s := range file.subs("machine") {
		r.unique(names, s, "name", s.text("name"), "machine")
		m := body(s)
		m.RPM = s.number("rpm")
		part := machinePart{section: s}
		r.shafts(&m, &part)
		r.supports(t, file, &m, &part)
		r.growth(&m, &part)
		r.points(&m, &part)
		r.nozzles(&m, &part)
		r.carried(&m, &part)
		t.Machines = append(t.Machines, m)
		parts = append(parts, part)
	}
	if file.good("machine") && len(parts) < 2 {
		r.fault(file.key("machine"), fmt.Sprintf("a train has two machines or more, here is %d", len(parts)), "")
	}
	return parts
}

// body is what a machine and a base have in common, but for their feet.
func body(s *section) train.Machine {
	level := s.sub("level")
	found := level.sub("found")
	return train.Machine{
		Name:   s.text("name"),
		At:     s.number("at"),
		Height: s.number("height"),
		RPM:    math.NaN(),
		Hold:   s.on("hold"), Roll: s.on("roll"), Axial: s.on("axial"),
		Effort: s.number("effort"),
		Level: train.Level{
			Pitch: level.number("pitch"), Roll: level.number("roll"),
			FoundPitch: found.numberOr("pitch", 0), FoundRoll: found.numberOr("roll", 0),
			PitchUnknown: !found.has("pitch"), RollUnknown: !found.has("roll"),
		},
	}
}

// supports reads the feet of a machine or a base, and what its packs may be.
func (r *reader) supports(t *train.Train, file *section, m *train.Machine, part *machinePart) {
	s := part.section
	rules := r.shimRules(s, t, m)
	r.feet(m, part, rules)
	m.Flat = s.numberOr("flat", file.sub("shims").numberOr("flat", leftFlat(m, rules.Step)))
}

// usualFlat says what leftFlat is.
const usualFlat = "half a step with feet at two stations, else one step"

// leftFlat is the most soft foot in mm that the packs of a machine may leave where the file does not state it: a plan
// twists no case to save a step of a shim. Where the feet stand at three stations or more, whole steps leave some.
func leftFlat(m *train.Machine, step float64) float64 {
	if len(m.Stations()) > 2 {
		return step
	}
	return step / 2
}

func (r *reader) shafts(m *train.Machine, part *machinePart) {
	s := part.section
	names := map[string]tree.Span{}
	list := s.subs("shaft")
	for _, e := range list {
		if len(list) > 1 && !e.has("name") {
			r.fault(e.node.Key, "name is missing: a machine with more than one shaft names each", `write name = "..."`)
		}
		r.unique(names, e, "name", e.text("name"), "shaft")
		shaft := train.Shaft{Name: e.text("name"), Y: e.number("y"), Z: e.number("z"), RPM: e.numberOr("rpm", m.RPM)}
		r.journal(e, &shaft)
		if list := e.subs("growth"); len(list) > 0 {
			g := r.stations(list, m.Height+shaft.Z)
			shaft.Growth = &g
		}
		if !hasPlace(e) && slices.ContainsFunc(list, hasPlace) {
			r.warn(e.node.Key, fmt.Sprintf("shaft %s has neither y nor z: it counts as the middle of %s",
				spelling.Quote(shaft.Name), called(m)), "give y, from the machine's own centreline, + left; 0 where it is there")
		}
		m.Shafts = append(m.Shafts, shaft)
		part.shafts = append(part.shafts, e)
	}
	if len(m.Shafts) == 0 {
		m.Shafts = []train.Shaft{{RPM: m.RPM}}
		part.shafts = []*section{nil}
		r.journal(s, &m.Shafts[0])
		return
	}
	for _, key := range []string{"run", "clearance"} {
		if s.has(key) {
			r.fault(s.key(key), fmt.Sprintf("%s is given for %s, which names its shafts", key, called(m)),
				"give it in [[machine.shaft]], to the shaft that it is of")
		}
	}
}

// hasPlace says whether the file says where a shaft lies in its machine.
func hasPlace(shaft *section) bool { return shaft.has("y") || shaft.has("z") }

// journal reads the journal shift of a shaft and the clearance of its bearings.
func (r *reader) journal(e *section, s *train.Shaft) {
	run := e.sub("run")
	s.Run = train.Shift{V: run.number("v"), H: run.number("h")}
	s.RunUnknown = !e.tried("run")
	s.Clearance = e.numberOr("clearance", 0)
	r.clearance(e, s)
	if run.good("v") && s.Run.V < 0 && !e.good("clearance") { // else it has its warning
		r.warn(run.at("v"), fmt.Sprintf("the shaft shifts down by %s from rest to running: at rest it lies at the "+
			"bottom of its bearings",
			r.show(-s.Run.V, Move)), "give v as + up, from where the shaft lies at rest")
	}
}

// clearance holds the journal shift of a shaft against what its bearings let it
// do. At standstill the shaft lies at the bottom of a bearing of diametral
// clearance c: its centre can go anywhere in a circle of that diameter, of which it
// is at the lowest point (Bloch & Geitner, Major Process Equipment Maintenance and
// Repair, pp. 249-250: no more than the diametral clearance).
func (r *reader) clearance(e *section, s *train.Shaft) {
	run, c := e.sub("run"), s.Clearance
	if !e.good("clearance") || !run.has("v") && !run.has("h") {
		return
	}
	at, shift := e.key("run"), math.Hypot(s.Run.V, s.Run.H)
	room := fmt.Sprintf("the clearance of its bearings is %s", r.show(c, Move))
	switch {
	case shift > c*(1+1e-9):
		r.fault(at, fmt.Sprintf("the shaft shifts by %s when running, and %s: it has no room for that",
			r.show(shift, Move), room),
			"clearance is that of the diameter; run is the shift of the loaded shaft in its bearings, without growth")
	case math.Hypot(s.Run.H, s.Run.V-c/2) > c/2*(1+1e-9):
		r.warn(at, fmt.Sprintf("the shaft shifts by %s and %s when running, and %s: from the bottom of them it "+
			"can't go there",
			r.way(s.Run.V, "up", "down"), r.way(s.Run.H, "to the left", "to the right"), room),
			fmt.Sprintf("from the bottom a shaft goes up by at most the clearance, and aside by at most half of it, %s, "+
				"where it is half-way up", r.show(c/2, Move)))
	case shift > c/2:
		r.warn(at, fmt.Sprintf("the shaft shifts by %s when running, over half of the clearance of its bearings, %s",
			r.show(shift, Move), r.show(c, Move)),
			"that is so where the teeth lift it: look at the directions of force and rotation")
	}
}

// way is a move in mm with the word for its side.
func (r *reader) way(v float64, plus, minus string) string {
	if v < 0 {
		return r.show(-v, Move) + " " + minus
	}
	return r.show(v, Move) + " " + plus
}

func (r *reader) nozzles(m *train.Machine, part *machinePart) {
	names := map[string]tree.Span{}
	for n, e := range part.section.subs("nozzle") {
		if n == mostNozzles {
			r.fault(e.node.Key, fmt.Sprintf("%s has more than %d nozzles: no more are read", called(m), mostNozzles), "")
			break
		}
		r.unique(names, e, "name", e.text("name"), "nozzle")
		m.Nozzles = append(m.Nozzles, train.Nozzle{
			Name: e.text("name"),
			X:    e.number("x"), Y: e.number("y"), Z: e.number("z"),
			Limit: e.number("limit"),
		})
		part.nozzles = append(part.nozzles, e)
	}
}

// Lengths in mm that tell a slip of the unit or the decimal point.
const (
	longestMachine = 50e3 // between its first foot and its last
	apart          = 1    // feet nearer than this stand at one station
)

// carried faults feet that do not carry the machine.
func (r *reader) carried(m *train.Machine, part *machinePart) {
	s := part.section
	first, last := ends(m)
	switch {
	case math.IsNaN(first) || math.IsNaN(last):
	case last-first > longestMachine:
		r.fault(s.node.Key, fmt.Sprintf("the feet of %s stand %s apart, at most %s is believed",
			called(m), r.show(last-first, Length), r.show(longestMachine, Length)), "check the feet's x")
	case m.Hold || s.has("hold") && !s.good("hold"):
	case len(m.Feet) == 0:
		r.fault(s.node.Key, called(m)+" has no feet",
			fmt.Sprintf("write [[%s.foot]] for each foot or pair of feet; a %[1]s that may not be moved has hold = true",
				kindOf(m)))
	case last-first < apart:
		r.fault(s.node.Key, fmt.Sprintf("all feet of %s stand at one station, so nothing fixes its pitch", called(m)),
			fmt.Sprintf("a %s that may be moved has feet at two stations or more", kindOf(m)))
	case m.Roll && onALine(m.Feet):
		r.fault(s.key("roll"), fmt.Sprintf("all feet of %s stand on one line, so nothing fixes its roll", called(m)),
			"give pairs of feet with spread, or leave roll out")
	}
}

// called is what a message calls a machine.
func called(m *train.Machine) string {
	if m.Name == "" {
		return "this " + kindOf(m)
	}
	return kindOf(m) + " " + spelling.Quote(m.Name)
}

// kindOf is the name of the table that a machine or a base is given in.
func kindOf(m *train.Machine) string {
	if m.IsBase() {
		return "base"
	}
	return "machine"
}
