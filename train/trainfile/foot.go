package trainfile

import (
	"fmt"
	"math"

	"leastmove/train"
	"leastmove/train/trainfile/tree"
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

// meant says whether an unknown key probably stands for this one.
func (f footing) meant(key string) bool {
	return f.pair.meant[key] || f.own != nil && f.own.meant[key]
}

func (f footing) number(key string) float64 { return f.of(key).number(key) }

func (f footing) numberOr(key string, missing float64) float64 {
	return f.of(key).numberOr(key, missing)
}

func (f footing) at(key string) tree.Span { return f.of(key).at(key) }

// feet reads a machine's feet; a pair becomes two.
func (r *reader) feet(m *train.Machine, part *machinePart, shims train.Shims) {
	names := map[string]tree.Span{}
	var twice *section // the table whose names had their fault
	add := func(f footing, name string, x, y float64) {
		if twice != f.pair && !r.unique(names, f.pair, "name", name, "foot") {
			twice = f.pair
		}
		foot := r.foot(f, shims)
		foot.Name, foot.X, foot.Y = name, x, y
		if per, ok := r.expansion(f); ok {
			foot.Slide[1] = per * y
		}
		m.Feet = append(m.Feet, foot)
		part.footings = append(part.footings, f)
	}
	for _, s := range part.section.subs("foot") {
		if len(m.Feet) >= mostFeet {
			r.fault(s.node.Key, fmt.Sprintf("%s has more than %d feet, a pair counted as two: no more are read", called(m),
				mostFeet), "")
			break
		}
		name, x := s.text("name"), s.number("x")
		pair := s.has("spread")
		switch {
		case pair && s.has("y"):
			r.fault(s.key("y"), "both spread and y are given", "spread makes two feet, y places one")
		case !pair && !s.tried("spread") && !s.tried("y"):
			r.fault(s.node.Key, "spread or y is missing",
				"spread = the distance between the two feet of a pair; y = 0 for one foot in the middle")
		}
		if !pair {
			for _, side := range []string{"left", "right"} {
				if s.has(side) && !s.meant["spread"] {
					r.fault(s.key(side), side+" is what differs at one foot of a pair, here is one foot",
						"give spread, or leave "+side+" out")
				}
			}
			y := s.numberOr("y", 0)
			if s.meant["spread"] || s.meant["y"] {
				y = math.NaN() // the misspelt key has its fault
			}
			add(footing{pair: s}, name, x, y)
			continue
		}
		half := s.number("spread") / 2
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

func (r *reader) foot(f footing, shims train.Shims) train.Foot {
	travel := func(side string) float64 {
		s := f.of("travel").sub("travel")
		if f.own != nil && f.own.has("travel") && !s.has(side) {
			s = f.pair.sub("travel")
		}
		return s.number(side)
	}
	foot := train.Foot{
		Raise: f.number("raise"),
		Soft:  f.numberOr("soft", 0), SoftUnknown: !f.has("soft"),
		Bolt:       f.number("bolt"),
		Hole:       math.NaN(),
		Free:       f.number("free"),
		TravelLeft: travel("left"), TravelRight: travel("right"),
	}
	if foot.Soft > foot.Raise && f.of("soft").good("soft") && f.of("raise").good("raise") {
		r.fault(f.at("soft"), fmt.Sprintf("a gap of %s can't be filled: raise is %s, the most that may be added here",
			r.value(f.of("soft"), "soft", Move), r.value(f.of("raise"), "raise", Move)),
			"state what may go in under this foot, or leave soft out")
	}
	r.pack(f, &foot, shims)
	r.hole(f, &foot)
	return foot
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
	kinematics := m.Kinematics()
	for _, q := range kinematics.Pack {
		if q[train.Roll] != 0 {
			return false
		}
	}
	return true
}
