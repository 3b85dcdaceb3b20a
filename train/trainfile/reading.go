package trainfile

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"leastmove/train"
	"leastmove/train/readings"
	"leastmove/train/spelling"
	"leastmove/train/trainfile/tree"
)

// The most that one coupling may have: many passes, and a reading at every
// degree.
const (
	mostReadings  = 200
	mostPositions = 400
)

// ways are the keys that give a dial's positions and readings.
func ways() []string { return []string{"clock", "sweep", "file"} }

// told are the keys that an instrument of each kind may have beside `kind`,
// those that it must have first; more where it was read.
func told(kind train.DialKind, read bool) (must, may []string) {
	switch kind {
	case train.RimDial:
		must, may = []string{"on", "x"}, []string{"radius", "sag", "true_sag", "pushed_in"}
	case train.FaceDial:
		must, may = []string{"radius"}, []string{"on", "away", "sag", "pushed_in"}
	default:
		must = []string{"x"}
	}
	if read && kind == train.OffsetDial {
		must = append(must, "v", "h")
	} else if read {
		may = append(may, ways()...)
	}
	if read && kind == train.FaceDial {
		may = append(may, "opposite")
	}
	if read && kind != train.OffsetDial {
		may = append(may, "range")
	}
	if read {
		may = append(may, "set", "error")
	}
	return must, may
}

// readings reads a coupling's readings, and works out from them how it was
// found. What was found is not a number where they have a fault.
func (r *reader) readings(t *train.Train, s *section, c *train.Coupling, joined bool) {
	found := s.sub("found")
	for _, key := range []string{"v", "h"} {
		if found.has(key) {
			r.fault(found.key(key), fmt.Sprintf("coupling %s has readings, and %s in [coupling.found] too",
				spelling.Quote(c.Name), key),
				"leave one of them out; gap and taken may stand beside readings")
		}
	}
	list := s.subs("reading")
	if s.good("reading") && len(list) == 0 {
		r.fault(s.at("reading"), fmt.Sprintf("the list of readings of coupling %s is empty", spelling.Quote(c.Name)),
			"fill in what was read, or write [coupling.found] in its place")
	}
	if len(list) > mostReadings {
		r.fault(list[mostReadings].node.Key, fmt.Sprintf("coupling %s has %d readings, at most %d are read",
			spelling.Quote(c.Name), len(list), mostReadings), "")
		return
	}
	// Of two ends the wrong way round there is nothing to say but that.
	good := joined && s.good("x") && !r.unknown && c.From.Machine < c.To.Machine
	var sound []instrument
	for _, e := range list {
		d, ok := r.dial(t, e, c, joined, true)
		good = good && ok
		c.Dials = append(c.Dials, d)
		if ok {
			sound = append(sound, instrument{&d, e})
		}
	}
	if joined {
		good = r.oneShaft(t, s, c, sound) && good
	}
	if good && len(list) > 0 {
		r.reduce(t, s, c)
	}
}

// targets reads what will be put on after the moves.
func (r *reader) targets(t *train.Train, s *section, c *train.Coupling, joined bool) {
	var sound []instrument
	for _, e := range s.subs("target") {
		d, ok := r.dial(t, e, c, joined, false)
		c.Targets = append(c.Targets, d)
		if ok {
			sound = append(sound, instrument{&d, e})
		}
	}
	if joined {
		r.oneShaft(t, s, c, sound)
	}
}

// dial is one reading, or an instrument that was not read; false if it has a
// fault.
func (r *reader) dial(t *train.Train, e *section, c *train.Coupling, joined, read bool) (train.Dial, bool) {
	d := train.Dial{
		X: e.number("x"), Radius: e.number("radius"),
		Away: e.on("away"), Reversed: e.text("pushed_in") == "-",
		Set: 1, Error: e.numberOr("error", 0), Range: e.numberOr("range", 0),
		V: e.numberOr("v", math.NaN()), H: e.numberOr("h", math.NaN()),
	}
	good := e.good("kind")
	for _, f := range e.fields {
		good = good && f.good
	}
	if !e.good("kind") {
		return d, false
	}
	d.Kind = train.DialKind(slices.Index([]string{"rim", "face", "offset"}, e.text("kind")))
	if read {
		if set := e.number("set"); !math.IsNaN(set) {
			d.Set = int(set)
		}
	}
	good = r.told(e, d.Kind, read) && good
	if e.good("on") && joined {
		good = r.touched(t, e, c, &d) && good
	}
	if read && d.Kind != train.OffsetDial {
		good = r.positions(e, &d) && good
	}
	good = r.sag(e, &d) && good
	if e.good("x") && math.Abs(d.X-c.X) > longestSpacer {
		r.fault(e.at("x"), fmt.Sprintf("x is %s, %s from the plane of coupling %s", r.value(e, "x", Length),
			r.show(math.Abs(d.X-c.X), Length), spelling.Quote(c.Name)),
			"a reading's x is a station of the train")
		good = false
	}
	return d, good
}

// told faults keys that a kind of reading lacks, and those that say nothing of
// it.
func (r *reader) told(e *section, kind train.DialKind, read bool) bool {
	must, may := told(kind, read)
	good := true
	var missing, hints []string
	for _, key := range must {
		if !e.tried(key) {
			missing = append(missing, key)
			hints = append(hints, fmt.Sprintf("%s: %s", key, e.table.need(key).Doc))
		}
	}
	if len(missing) > 0 {
		r.fault(e.node.Key, fmt.Sprintf("kind %q needs %s", kind, strings.Join(missing, " and ")), strings.Join(hints, "; "))
		good = false
	}
	for _, key := range e.node.Order {
		if e.has(key) && key != "kind" && !slices.Contains(must, key) && !slices.Contains(may, key) {
			r.fault(e.key(key), fmt.Sprintf("%s says nothing of kind %q", key, kind),
				"known here: "+strings.Join(append(must, may...), ", "))
			good = false
		}
	}
	return good
}

// touched finds the shaft that the plunger touches.
func (r *reader) touched(t *train.Train, e *section, c *train.Coupling, d *train.Dial) bool {
	end, ok := r.end(t, e, "on")
	switch {
	case !ok:
		return false
	case end != c.From && end != c.To:
		r.fault(e.at("on"), fmt.Sprintf("on is %s, a shaft that coupling %s does not join", spelling.Quote(e.text("on")),
			spelling.Quote(c.Name)),
			"write one of "+list([]string{t.ShaftName(c.From), t.ShaftName(c.To)}))
		return false
	}
	d.OnFrom = end == c.From
	return true
}

// positions are those of clock, sweep or file.
func (r *reader) positions(e *section, d *train.Dial) bool {
	var given []string
	for _, key := range ways() {
		if e.has(key) {
			given = append(given, key)
		} else if e.meant[key] {
			return false
		}
	}
	switch len(given) {
	case 0:
		r.fault(e.node.Key, "a reading has no clock, sweep or file", "write clock = { 12 = 0, 3 = ..., 6 = ..., 9 = ... }")
		return false
	case 1:
	default:
		r.fault(e.key(given[1]), "a reading has "+strings.Join(given, " and "), "leave all but one of them out")
		return false
	}
	key := given[0]
	if key == "file" {
		if e.has("opposite") {
			return r.opposite(e, d, key)
		}
		return r.sweepFile(e, d)
	}
	d.Angles, d.Values = e.fields[key].angles, e.list(key)
	if e.has("opposite") && !r.opposite(e, d, key) {
		return false
	}
	if len(d.Angles) > mostPositions {
		r.fault(e.key(key), fmt.Sprintf("%s has %d positions, at most %d are read", key, len(d.Angles), mostPositions), "")
		return false
	}
	return e.good(key)
}

// opposite takes half the difference of two dials half a turn apart on one face:
// what the shaft moves along its axis is the same in both.
func (r *reader) opposite(e *section, d *train.Dial, key string) bool {
	switch {
	case !e.good("opposite") || !e.good(key):
		return false
	case key != "clock":
		r.fault(e.key("opposite"), "opposite goes with clock, and the reading has "+key,
			"write clock = { ... }; or enter half of the difference of the two dials as one reading")
		return false
	case d.Kind != train.FaceDial:
		return false // it has its fault
	}
	other := map[float64]float64{}
	for i, a := range e.fields["opposite"].angles {
		other[a] = e.fields["opposite"].numbers[i]
	}
	for i, a := range d.Angles {
		v, there := other[a]
		if !there || len(other) != len(d.Angles) {
			r.fault(e.key("opposite"), "opposite was not read at the same positions as clock",
				"both dials are read each time, named by where the first one is")
			return false
		}
		d.Values[i] = (d.Values[i] - v) / 2
	}
	d.Pair = true
	return true
}

// sag is what the bracket reads at 6, in the dial's own direction.
func (r *reader) sag(e *section, d *train.Dial) bool {
	d.Sag = e.number("sag")
	if e.has("sag") && e.has("true_sag") {
		r.fault(e.key("true_sag"), "a reading has sag and true_sag",
			"leave one of them out: sag is the sag bar's reading at 6, twice the true sag")
		return false
	}
	if e.good("true_sag") {
		d.Sag = -2 * e.numberOr("true_sag", 0)
		if d.Reversed {
			d.Sag = -d.Sag
		}
	}
	if up := d.Sag > 0; d.Kind == train.RimDial && e.good("sag") && d.Sag != 0 && up != d.Reversed {
		sign := "less"
		if d.Reversed {
			sign = "more"
		}
		r.warn(e.at("sag"), fmt.Sprintf("sag is %s: a bracket hangs, so that on a sag bar zeroed at 12 this dial reads "+
			"%s than zero at 6", r.value(e, "sag", Move), sign),
			"true_sag takes the size of the true sag")
	}
	return true
}

// reduce works out what was found from readings without a fault of their own.
func (r *reader) reduce(t *train.Train, s *section, c *train.Coupling) {
	list := s.subs("reading")
	at := func(dial int) tree.Span {
		for _, key := range ways() {
			if dial >= 0 && list[dial].has(key) {
				return list[dial].key(key)
			}
		}
		return list[max(dial, 0)].node.Key
	}
	fit, refusal := readings.Reduce(c, readings.OptionsOf(t, c))
	if refusal != nil {
		message, hint := refusal.Words(t, c)
		r.fault(at(refusal.Dial), message, hint)
		return
	}
	fit.Mistakes = readings.Mistakes(c, fit, t.Checks)
	c.Fit, c.Found = fit, fit.Found
	for _, check := range fit.Checks {
		message, hint := readings.CheckWords(t, c, check)
		r.warn(at(check.Dial), message, hint)
	}
	if message, hint := readings.MistakeWords(t, c); message != "" {
		r.warn(at(c.Fit.Mistakes[0].Dial), message, hint)
	}
	r.warnReduced(at(-1), c, "readings of", r.moveHint(), "look at the planes and the radius")
}

// warnReduced warns of what comes to more than is believed.
func (r *reader) warnReduced(at tree.Span, c *train.Coupling, what, offsetHint, angleHint string) {
	for _, found := range []train.Tilt{c.Found.V, c.Found.H} {
		if math.Abs(found.Offset) > r.farOff() {
			r.warn(at, fmt.Sprintf("the %s coupling %s come to an offset of %s: over %s is doubtful", what,
				spelling.Quote(c.Name),
				r.show(found.Offset, Move), r.show(r.farOff(), Move)), offsetHint)
		}
		if math.Abs(found.Angle) > unusualAngle {
			r.warn(at, fmt.Sprintf("the %s coupling %s come to an angle of %s: over %s is doubtful", what,
				spelling.Quote(c.Name),
				r.show(found.Angle, Angle), r.show(unusualAngle, Angle)), angleHint)
		}
	}
}
