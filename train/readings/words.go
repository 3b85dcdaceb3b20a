package readings

import (
	"fmt"
	"math"
	"strconv"

	"leastmove/train"
)

// A speaker says what is wrong with the readings of one coupling, in the units
// of the train file.
type speaker struct {
	t *train.Train
	c *train.Coupling
}

// Words say what failed and what to do about it, a line each.
func (k Check) Words(t *train.Train, c *train.Coupling) (message, hint string) {
	s := speaker{t, c}
	dial, size, limit := s.dial(k.Dial), s.move(k.Size), s.move(k.Limit)
	switch k.Kind {
	case Ring:
		return fmt.Sprintf("%s does not close its ring: top + bottom and left + right differ by %s, over %s", dial, size, limit),
			"read it again: a position misread, a loose bracket or a plunger at the end of its range"
	case Return:
		return fmt.Sprintf("%s does not come back: two readings at %s degrees differ by %s, over %s", dial, figure(k.Angle), size, limit),
			"tighten the bracket and read the whole round again"
	case Residual:
		if !math.IsNaN(k.Angle) {
			dial += fmt.Sprintf(" at %s degrees", figure(k.Angle))
		}
		return fmt.Sprintf("%s is %s off what all readings say together, over %s", dial, size, limit),
			"look for a misread position, a wrong sign or station, left and right swapped"
	case Repeat:
		return fmt.Sprintf("set %d of coupling %q differs from the first by %s where it was read, over %s", c.Dials[k.Dial].Set, c.Name, size, limit),
			"read once more before anything is moved"
	case Method:
		return fmt.Sprintf("%s differs from the other kinds of reading at coupling %q by %s at the plunger, over %s", dial, c.Name, size, limit),
			"look for sag left out or taken out twice, a shaft that floats under a face dial, a wrong station, radius or sign"
	case NoSag:
		return fmt.Sprintf("%s has no sag, and its bracket reaches %s: over %s sag counts", dial, s.length(k.Size), s.length(k.Limit)),
			"hang the bracket on a stiff pipe, zero it at 12 and write what it reads at 6: sag = ..."
	}
	panic("a check without words")
}

// Words say why the readings can't be used and what to do about it.
func (r *Refusal) Words(t *train.Train, c *train.Coupling) (message, hint string) {
	s := speaker{t, c}
	none := fmt.Sprintf("the readings of coupling %q can't tell ", c.Name)
	switch r.Kind {
	case FewPositions:
		return fmt.Sprintf("%s was read at %d of the %d positions that it needs", s.dial(r.Dial), int(r.Size), fewest),
			"9, 12 and 3 are enough, or any three over half a turn"
	case ShortArc:
		if math.IsInf(r.Size, 1) || r.Size > 1e6 {
			return fmt.Sprintf("%s was read over %s degrees: that tells nothing", s.dial(r.Dial), figure(r.Span)), "read it over half a turn"
		}
		return fmt.Sprintf("%s was read over %s degrees: an error of a reading becomes %s times as much, at most %d times is allowed",
			s.dial(r.Dial), figure(r.Span), figure(r.Size), mostGain), "read it over half a turn, or at many more positions"
	case NoOffset:
		return none + "the offset: they are of faces alone", "read a rim too"
	case NoAngle:
		return none + "the angle: they are all at one plane, and none is of a face", "read a rim at another plane, or a face"
	case NearPlanes:
		far := ""
		if !math.IsNaN(r.Far) {
			far = fmt.Sprintf(", and the farthest foot to %s", s.move(r.Far))
		}
		return none + fmt.Sprintf("the angle: with planes %s apart it is good to %s mrad (95 %%)%s; at most %d mrad is allowed",
			s.length(r.Span), figure(r.Size), far, mostAngle), "read at planes farther apart, or a face at a larger radius"
	}
	panic("a refusal without words")
}

// dial names a dial.
func (s speaker) dial(i int) string {
	d := &s.c.Dials[i]
	on := s.c.To
	if d.OnFrom {
		on = s.c.From
	}
	switch d.Kind {
	case train.RimDial:
		return fmt.Sprintf("the rim dial on %q at x = %s", s.t.ShaftName(on), figure(d.X/s.t.Units.Length()))
	case train.FaceDial:
		return fmt.Sprintf("the face dial on %q", s.t.ShaftName(on))
	}
	return "the offset read at x = " + figure(d.X/s.t.Units.Length())
}

func (s speaker) move(mm float64) string {
	unit := "mm"
	if s.t.Units == train.Inches {
		unit = "mil"
	}
	return figure(mm/s.t.Units.Move()) + " " + unit
}

func (s speaker) length(mm float64) string {
	return figure(mm/s.t.Units.Length()) + " " + s.t.Units.String()
}

// figure is a number to three figures, or whole.
func figure(v float64) string {
	if math.Abs(v) >= 999.5 {
		return strconv.FormatFloat(v, 'f', 0, 64)
	}
	return strconv.FormatFloat(v, 'g', 3, 64)
}
