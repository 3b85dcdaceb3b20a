package trainfile

import (
	"fmt"
	"math"

	"leastmove/train"
)

// A footing is what is stated of one foot: by its table, and where it is one
// of a pair, by what differs there.
type footing struct {
	pair, own *section
}

// of is the section that a key is stated in.
func (f footing) of(key string) *section {
	if f.own != nil && f.own.has(key) {
		return f.own
	}
	return f.pair
}

func (f footing) has(key string) bool { return f.of(key).has(key) }

func (f footing) number(key string, missing float64) float64 {
	return f.of(key).number(key, missing)
}

func (f footing) at(key string) span { return f.of(key).at(key) }

// feet reads a machine's feet; a pair becomes two.
func (r *reader) feet(m *train.Machine, part *machinePart, keep float64) {
	names := map[string]span{}
	var twice *section // the table whose names had their fault
	add := func(f footing, name string, x, y float64) {
		if twice != f.pair && !r.unique(names, f.pair, "name", name, "foot") {
			twice = f.pair
		}
		foot := r.foot(f, keep)
		foot.Name, foot.X, foot.Y = name, x, y
		m.Feet = append(m.Feet, foot)
		part.footings = append(part.footings, f)
	}
	for _, s := range part.section.subs("foot") {
		name, x := s.text("name", ""), s.number("x", math.NaN())
		pair := s.has("spread")
		switch {
		case pair && s.has("y"):
			r.fault(s.key("y"), "both spread and y are given", "spread makes two feet, y places one")
		case !pair && !s.has("y"):
			r.fault(s.node.key, "spread or y is missing", "spread = the distance between the two feet of a pair; y = 0 for one foot in the middle")
		}
		if !pair {
			for _, side := range []string{"left", "right"} {
				if s.has(side) {
					r.fault(s.key(side), side+" is what differs at one foot of a pair, here is one foot", "give spread, or leave "+side+" out")
				}
			}
			add(footing{pair: s}, name, x, s.number("y", 0))
			continue
		}
		half := s.number("spread", math.NaN()) / 2
		for _, side := range []struct {
			name string
			y    float64
		}{{"left", half}, {"right", -half}} {
			f := footing{pair: s}
			if s.good(side.name) {
				f.own = s.sub(side.name)
			}
			add(f, name+" "+side.name, x, side.y)
		}
	}
}

func (r *reader) foot(f footing, keep float64) train.Foot {
	travel := func(side string) float64 {
		s := f.of("travel").sub("travel")
		if f.own != nil && f.own.has("travel") && !s.has(side) {
			s = f.pair.sub("travel")
		}
		return s.number(side, math.Inf(1))
	}
	foot := train.Foot{
		Pack:       f.number("shim", math.NaN()),
		Raise:      f.number("raise", math.Inf(1)),
		Bolt:       f.number("bolt", math.NaN()),
		Hole:       math.NaN(),
		TravelLeft: travel("left"), TravelRight: travel("right"),
	}
	r.pack(f, &foot, keep)
	r.hole(f, &foot)
	return foot
}

// pack works out how much may come out from under a foot.
func (r *reader) pack(f footing, foot *train.Foot, keep float64) {
	if !f.has("lower") {
		foot.Lower = math.Inf(1)
		if f.has("shim") {
			foot.Lower = foot.Pack - keep
		}
		if foot.Lower < 0 {
			r.doubt(f.at("shim"), fmt.Sprintf("shim is %s, less than the %s that must stay (shims.keep)",
				r.value(f.of("shim"), "shim", Move), r.show(keep, Move)),
				fmt.Sprintf("the plan will add %s or more here", r.show(-foot.Lower, Move)))
		}
		return
	}
	foot.Lower = f.number("lower", 0)
	switch left := foot.Pack - foot.Lower; {
	case left < 0:
		r.fault(f.at("lower"), fmt.Sprintf("lower is %s, more than the pack of %s",
			r.value(f.of("lower"), "lower", Move), r.value(f.of("shim"), "shim", Move)), "no more than the pack can come out")
	case left < keep-slack:
		r.doubt(f.at("lower"), fmt.Sprintf("lower leaves %s of the pack, shims.keep asks for %s", r.show(left, Move), r.show(keep, Move)),
			"lower holds for this foot")
	}
}

// slack in mm is what rounding may do to a sum of numbers from a file.
const slack = 1e-9

// hole reads the bolt, its hole and its place in it.
func (r *reader) hole(f footing, foot *train.Foot) {
	hole, fit := f.has("hole"), f.has("fit")
	if hole && fit && f.own != nil && f.own.has("hole") != f.own.has("fit") {
		hole, fit = f.own.has("hole"), f.own.has("fit") // what the pair says gives way
	}
	bolt := f.has("bolt")
	switch {
	case hole && fit:
		r.fault(f.of("fit").key("fit"), "both hole and fit are given", "a measured hole comes first: leave fit out")
		return
	case hole && !bolt:
		r.fault(f.at("hole"), "hole is given without bolt", "give the bolt's diameter too")
		return
	case fit && !bolt:
		r.fault(f.at("fit"), "fit is given without bolt", "give the bolt's diameter too")
		return
	case bolt && !hole && !fit:
		r.fault(f.at("bolt"), "bolt is given without hole", `give the hole's diameter too, or fit = "medium" for a hole drilled to the standard`)
		return
	case !bolt:
		if f.has("bolt_at") {
			r.fault(f.of("bolt_at").key("bolt_at"), "bolt_at is given without bolt and hole", "")
		}
		return
	}
	place := f.at("hole")
	if fit {
		place = f.at("fit")
		if !r.fitted(f, foot) {
			return
		}
	} else {
		foot.Hole = f.number("hole", math.NaN())
	}
	if foot.Hole < foot.Bolt {
		r.fault(place, fmt.Sprintf("hole is %s, smaller than the bolt of %s",
			r.show(foot.Hole, Length), r.value(f.of("bolt"), "bolt", Length)), "")
		return
	}
	if f.has("bolt_at") {
		foot.BoltAt = f.of("bolt_at").pair("bolt_at")
	}
	off, most := math.Hypot(foot.BoltAt[0], foot.BoltAt[1]), (foot.Hole-foot.Bolt)/2
	if off > most+slack {
		r.fault(f.at("bolt_at"), fmt.Sprintf("bolt_at puts the bolt %s from the hole's centre, at most %s fits: (hole - bolt) / 2",
			r.show(off, Length), r.show(most, Length)), "check bolt, hole and bolt_at")
	}
}

// fitted gives the foot the standard's hole.
func (r *reader) fitted(f footing, foot *train.Foot) bool {
	s := f.of("fit")
	if !s.good("fit") || !f.of("bolt").good("bolt") || r.unknown {
		return false
	}
	fit := s.text("fit", "")
	if r.options.ClearanceHole == nil {
		r.fault(f.at("fit"), "no table of holes is at hand for fit", "give hole instead")
		return false
	}
	hole, ok := r.options.ClearanceHole(foot.Bolt, fit, r.units)
	if !ok {
		standard, hint := "ISO 273", "give hole instead; the fits of ISO 273 are fine, medium and coarse"
		if r.units == train.Inches {
			standard, hint = "ASME B18.2.8", "give hole instead"
		}
		r.fault(f.at("fit"), fmt.Sprintf("no %s hole of %s is known here for a bolt of %s",
			quote(fit), standard, r.value(f.of("bolt"), "bolt", Length)), hint)
		return false
	}
	foot.Hole = hole
	return true
}

// ends are the stations in mm of the first and the last foot, in the machine's
// own stations; NaN where a foot's is not known, 0 and 0 without feet.
func ends(m *train.Machine) (first, last float64) {
	if len(m.Feet) == 0 {
		return 0, 0
	}
	first, last = math.Inf(1), math.Inf(-1)
	for _, f := range m.Feet {
		first, last = math.Min(first, f.X), math.Max(last, f.X)
	}
	return first, last
}

// onALine says whether the feet do not fix the machine's roll.
func onALine(feet []train.Foot) bool {
	m := train.Machine{Feet: feet}
	stance := m.Stance()
	for _, q := range stance.Pack {
		if q[train.Roll] != 0 {
			return false
		}
	}
	return true
}
