package words

import (
	"fmt"
	"math"

	"leastmove/train"
)

// Sits says in plain words how the second shaft of coupling i sits relative to the first at the coupling's plane:
// "the gear sits 0.42 mm low and 0.10 mm to the left of the turbine".
func (w Formatter) Sits(i int, m train.Misalignment) string {
	c := &w.Train.Couplings[i]
	v, h := m.V.Offset, m.H.Offset
	level, plumb := w.Offset(math.Abs(v)).Zero(), w.Offset(math.Abs(h)).Zero()
	unit := w.MoveUnit()
	high := Signed(w.Offset, v, "%s "+unit+" high", "%s "+unit+" low")
	left := Signed(w.Offset, h, "%s "+unit+" to the left", "%s "+unit+" to the right") + w.siteOf(h)
	from := w.Shaft(c.From)
	switch {
	case level && plumb:
		return fmt.Sprintf("%s sits in line with %s", w.Shaft(c.To), from)
	case level:
		return fmt.Sprintf("%s sits as high as %s and %s of it", w.Shaft(c.To), from, left)
	case plumb:
		return fmt.Sprintf("%s sits %s relative to %s, and neither left nor right", w.Shaft(c.To), high, from)
	}
	return fmt.Sprintf("%s sits %s and %s of %s", w.Shaft(c.To), high, left, from)
}

// Wider says on which sides the gap between two shafts is wider, in mm on a diameter in mm; top and left below 0 mean
// bottom and right.
func (w Formatter) Wider(diameter, top, left float64) string {
	var parts []string
	unit := w.MoveUnit()
	if !w.Offset(math.Abs(top)).Zero() {
		parts = append(parts, Signed(w.Offset, top, "at the top by %s "+unit, "at the bottom by %s "+unit))
	}
	if !w.Offset(math.Abs(left)).Zero() {
		parts = append(parts, Signed(w.Offset, left, "at the left by %s "+unit, "at the right by %s "+unit)+w.siteOf(left))
	}
	if parts == nil {
		return "the gap is the same all round"
	}
	return fmt.Sprintf("the gap is wider %s on a diameter of %s", And(parts),
		With(Number(w.Length(diameter).Short()), w.LengthUnit()))
}

// siteOf is the site's own word for a side, in brackets, where it has one.
func (w Formatter) siteOf(left float64) string {
	if !w.OwnSides() {
		return ""
	}
	side := w.Train.Sides.Left
	if left < 0 {
		side = w.Train.Sides.Right
	}
	return " (" + w.Name(side) + ")"
}

// Taken says how much of growth and journal shift was there when a coupling was read; "" where none was.
func (w Formatter) Taken(s train.Share) string {
	if s.Growth == 0 && s.Run == 0 {
		return ""
	}
	share := func(x float64) string { return Fixed(100*x, 2).Short() + " %" }
	return fmt.Sprintf("with %s of growth and %s of journal shift in it", share(s.Growth), share(s.Run))
}
