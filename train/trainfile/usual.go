package trainfile

import (
	"fmt"
	"math"
	"slices"

	"leastmove/train"
	"leastmove/train/trainfile/tree"
)

// An unusual number is in its range but of a size that its key hardly has.
type unusual struct {
	at     *tree.Node
	key    string
	unit   Unit
	usual  Usual
	number float64 // as typed
	over   bool    // more than usual, not less
}

// weigh notes a number of a size that its key hardly has.
func (r *reader) weigh(n *tree.Node, k *Key, what string, v float64) {
	size := k.Unit.size(r.units)
	if r.unknown || k.Usual.holds(v*size) {
		return
	}
	r.unusual = append(r.unusual, unusual{n, what, k.Unit, k.Usual, v, math.Abs(v*size) > k.Usual.Most})
}

// weighed says whether the size of a key's number gets a warning by itself.
func (r *reader) weighed(s *section, key string) bool {
	return slices.ContainsFunc(r.unusual, func(u unusual) bool { return u.at == s.fields[key].node })
}

// alike says whether two numbers get a warning for the same reason.
func (a unusual) alike(b unusual) bool {
	return a.key == b.key && a.unit == b.unit && a.usual == b.usual && a.over == b.over
}

// warnSizes warns of unusual numbers: of those alike once, at the first one.
func (r *reader) warnSizes() {
	// Tables may be read in another order than that of the file.
	slices.SortStableFunc(r.unusual, func(a, b unusual) int { return a.at.Val.Start - b.at.Val.Start })
	done := make([]bool, len(r.unusual))
	for i, u := range r.unusual {
		if done[i] {
			continue
		}
		more := 0
		for j := i + 1; j < len(r.unusual); j++ {
			if !done[j] && u.alike(r.unusual[j]) {
				done[j] = true
				more++
			}
		}
		unit, size := u.unit.In(r.units), u.unit.size(r.units)
		if unit != "" {
			unit = " " + unit
		}
		message := fmt.Sprintf("%s is %s%s: %s to %s%s is usual", u.key, r.typed(u.at), unit, rough(u.usual.Least/size),
			rough(u.usual.Most/size), unit)
		if more > 0 {
			message += fmt.Sprintf(" (%d more like it)", more)
		}
		r.warn(u.at.Val, message, r.unitHint(u))
	}
}

// A slip is a unit that people type in place of the file's.
type slip struct {
	unit   string
	factor float64 // one of it in the file's unit
}

// unitHint says what unit the file has, and what the number would be if it was
// typed in a unit that people slip into.
func (r *reader) unitHint(u unusual) string {
	says, slips := "", []slip(nil)
	inch := r.units == train.Inches
	switch u.unit {
	case Length:
		says = "lengths are in mm in this file"
		if inch {
			says = "lengths are in inches in this file"
		}
		switch {
		case inch && u.over:
			slips = []slip{{"mm", 1 / 25.4}}
		case inch:
			slips = []slip{{"feet", 12}}
		case !u.over:
			slips = []slip{{"m", 1000}, {"inches", 25.4}}
		}
	case Move:
		says = "moves, shims and offsets are in mm in this file"
		if inch {
			says = "moves, shims and offsets are in mils (0.001 inch) in this file"
		}
		switch {
		case inch && u.over:
			slips = []slip{{"micrometres", 1 / 25.4}}
		case inch:
			slips = []slip{{"inches", 1000}, {"mm", 1 / 0.0254}}
		case u.over:
			slips = []slip{{"micrometres", 0.001}, {"mils", 0.0254}}
		default:
			slips = []slip{{"inches", 25.4}, {"m", 1000}}
		}
	case Angle:
		says = "angles are in mrad: mm per m, or mils per inch"
		if !u.over {
			slips = []slip{{"degrees", 1000 * math.Pi / 180}, {"rad", 1000}}
		}
	case Speed:
		says = "speeds are in 1/min"
		if !u.over {
			slips = []slip{{"thousands", 1000}, {"turns a second", 60}}
		}
	case Warmth:
		return "in " + u.unit.In(r.units) + ": the rise of what carries the shaft, not of the gas or steam in the machine"
	}
	for _, s := range slips {
		if meant := u.number * s.factor; u.usual.holds(meant * u.unit.size(r.units)) {
			return fmt.Sprintf("%s: %s %s would be %s %s", says, figure(u.number), s.unit, figure(meant), u.unit.In(r.units))
		}
	}
	return says
}

// rough is a number to two figures.
func rough(v float64) string {
	scale := math.Pow(10, math.Floor(math.Log10(v))-1)
	return figure(math.Round(v/scale) * scale)
}
