package trainfile

import (
	"fmt"
	"math"
	"strings"

	"leastmove/train"
	"leastmove/train/spelling"
	"leastmove/train/trainfile/tree"
)

// wideHole is how many times its bolt a hole hardly is. Common practice, no
// source: holes of ISO 273 are wider than their bolts by about a third at most.
const wideHole = 2

// A thread is what is known of a bolt that is given by its thread's name.
type thread struct {
	named  bool
	minor  float64 // mm, diameter
	series train.Units
}

// thread reads a thread's name where a diameter may stand.
func (r *reader) thread(f *field, k *Key) bool {
	name := f.node.Value.(string)
	want := fmt.Sprintf("%s is %s, it must be a number (%s) or the name of a coarse thread", k.Name,
		spelling.Quote(name), k.Unit.In(r.units))
	if r.options.Thread == nil {
		r.fault(f.node.Val, want, "no table of threads is at hand: give the diameter as a number")
		return false
	}
	diameter, minor, inch, err := r.options.Thread(name)
	if err != nil {
		hint := err.Error()
		if decimal := tree.Decimal(strings.TrimSpace(name)); decimal != "" && r.units == train.Inches {
			hint += fmt.Sprintf(", or %s without quotes", decimal)
		}
		r.fault(f.node.Val, want, hint)
		return false
	}
	f.number = diameter
	f.thread = thread{named: true, minor: minor}
	if inch {
		f.thread.series = train.Inches
	}
	return true
}

// minor is the minor diameter in mm of a foot's bolt, 0 where it is not known:
// that of the thread named, or of the coarse thread with just this diameter.
func (r *reader) minor(s *section, bolt float64) float64 {
	switch t := s.fields["bolt"].thread; {
	case t.named:
		return t.minor
	case r.options.Minor == nil || r.unknown:
		return 0
	}
	return r.options.Minor(bolt, r.units == train.Inches)
}

// size is a bolt's diameter as it was typed; a thread by its name and diameter.
func (r *reader) size(s *section) string {
	f := s.fields["bolt"]
	if f.thread.named {
		return spelling.Quote(f.node.Value.(string)) + ", " + r.show(f.number, Length)
	}
	return r.value(s, "bolt", Length)
}

// hole reads the bolt, its hole and its place in it.
func (r *reader) hole(f footing, foot *train.Foot) {
	hole, fit := f.has("hole"), f.has("fit")
	if hole && fit && f.own != nil && f.own.has("hole") != f.own.has("fit") {
		hole, fit = f.own.has("hole"), f.own.has("fit") // what the pair says gives way
	}
	bolt := f.has("bolt")
	if bolt {
		foot.Minor = r.minor(f.of("bolt"), foot.Bolt)
	}
	if !bolt && f.meant("bolt") || !hole && !fit && (f.meant("hole") || f.meant("fit")) {
		return // the misspelt key has its fault
	}
	if hole && fit {
		r.note(f.of("fit").key("fit"), Note, "fit has no effect: the hole that is given counts", "leave fit out")
		fit = false
	}
	switch {
	case hole && !bolt:
		r.fault(f.at("hole"), "hole is given without bolt", "give the bolt's diameter too")
		return
	case fit && !bolt:
		r.fault(f.at("fit"), "fit is given without bolt", "give the bolt's diameter too")
		return
	case bolt && !hole && !fit:
		r.fault(f.at("bolt"), "bolt is given without hole",
			`give the hole's diameter too, or fit = "medium" for a hole drilled to the standard`)
		return
	case !bolt:
		for _, key := range []string{"bolt_at", "free"} {
			if f.has(key) {
				r.fault(f.of(key).key(key), key+" is given without bolt and hole", "")
			}
		}
		return
	}
	place := f.at("hole")
	if fit {
		place = f.at("fit")
		if foot.Fitted = r.fitted(f, foot); !foot.Fitted {
			return
		}
	} else {
		foot.Hole = f.number("hole")
	}
	if foot.Hole < foot.Bolt {
		r.fault(place, fmt.Sprintf("hole is %s, smaller than its bolt (%s)", r.show(foot.Hole, Length), r.size(f.of("bolt"))),
			"bolt and hole are diameters, in "+Length.In(r.units))
		return
	}
	if hole && foot.Hole > wideHole*foot.Bolt && !r.unknown && !r.weighed(f.of("hole"),
		"hole") && !r.weighed(f.of("bolt"), "bolt") {
		r.warn(place, fmt.Sprintf("hole is %s, over twice its bolt (%s)", r.value(f.of("hole"), "hole", Length),
			r.size(f.of("bolt"))),
			"bolt and hole are diameters, in "+Length.In(r.units)+": a misplaced decimal point, or another unit?")
	}
	if play := (foot.Hole - foot.Bolt) / 2; foot.Free > play+slack {
		r.fault(f.at("free"), fmt.Sprintf("free is %s, and the hole leaves %s each way: (hole - bolt) / 2",
			r.value(f.of("free"), "free", Move), r.show(play, Move)), "check bolt, hole and free")
		return
	}
	if f.has("bolt_at") {
		foot.BoltAt = f.of("bolt_at").pair("bolt_at")
	}
	off, most := math.Hypot(foot.BoltAt[0], foot.BoltAt[1]), (foot.Hole-foot.Bolt)/2
	if off > most+slack {
		r.fault(f.at("bolt_at"), fmt.Sprintf("bolt_at puts the bolt %s from the hole's centre, at most %s fits: "+
			"(hole - bolt) / 2",
			r.show(off, Length), r.show(most, Length)), "check bolt, hole and bolt_at")
	}
}

// fitted gives the foot the standard's hole.
func (r *reader) fitted(f footing, foot *train.Foot) bool {
	s := f.of("fit")
	if !s.good("fit") || !f.of("bolt").good("bolt") || r.unknown {
		return false
	}
	fit := s.text("fit")
	if r.options.ClearanceHole == nil {
		r.fault(f.at("fit"), "no table of holes is at hand for fit", "give hole instead")
		return false
	}
	series := r.units
	if t := f.of("bolt").fields["bolt"].thread; t.named {
		series = t.series
	}
	hole, ok := r.options.ClearanceHole(foot.Bolt, fit, series == train.Inches)
	if !ok {
		standard, hint := "ISO 273", "give hole instead; the fits of ISO 273 are fine, medium and coarse"
		if series == train.Inches {
			standard, hint = "ASME B18.2.8", "give hole instead"
		}
		r.fault(f.at("fit"), fmt.Sprintf("no %s hole of %s is known here for this bolt (%s)",
			spelling.Quote(fit), standard, r.size(f.of("bolt"))), hint)
		return false
	}
	foot.Hole = hole
	return true
}
