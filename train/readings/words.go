package readings

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"leastmove/train"
)

// A formatter says what is wrong with the readings of one coupling, in the units
// of the train file.
type formatter struct {
	t *train.Train
	c *train.Coupling
}

// CheckWords say what failed at a coupling and what to do about it, a line each.
func CheckWords(t *train.Train, c *train.Coupling, k train.ReadingCheck) (message, hint string) {
	s := formatter{t, c}
	dial, size, limit := s.dial(k.Dial), s.move(k.Size), s.move(k.Limit)
	switch k.Kind {
	case train.CheckRing:
		circle := ""
		if text := s.move(k.Circle); math.Abs(k.Circle) > k.Limit/10 {
			circle = fmt.Sprintf(" without the %s that a true circle makes", text)
		}
		return fmt.Sprintf("%s does not close its ring: 12 + 6 come to %s and 3 + 9 to %s, %s apart%s, over %s", dial,
				s.sum(k.Upright), s.sum(k.Across), size, circle, limit),
			"read it again: a position misread, a loose bracket or a plunger at the end of its range"
	case train.CheckReturn:
		return fmt.Sprintf("%s does not come back: two readings at %s degrees differ by %s, over %s", dial,
				figure(k.Angle), size, limit),
			"tighten the bracket and read the whole round again"
	case train.CheckResidual:
		if !math.IsNaN(k.Angle) {
			dial += fmt.Sprintf(" at %s degrees", figure(k.Angle))
		}
		return fmt.Sprintf("%s is %s off what all readings say together, over %s", dial, size, limit),
			"look for a misread position, a wrong sign or station, left and right swapped"
	case train.CheckRepeat:
		return fmt.Sprintf("set %d of coupling %q differs from the first by %s where it was read, over %s",
				c.Dials[k.Dial].Set, c.Name, size, limit),
			"read once more before anything is moved"
	case train.CheckMethod:
		return fmt.Sprintf("%s differs from the other kinds of reading at coupling %q by %s at the plunger, over %s",
				dial, c.Name, size, limit),
			"look for sag left out or taken out twice, a shaft that floats under a face dial, a wrong station, radius or sign"
	case train.CheckSag:
		if math.IsNaN(k.Size) {
			return dial + " has no sag, and nothing in the file tells how far its bracket reaches",
				"hang the bracket on a sag bar, zero it at 12 and write what it reads at 6: sag = ...; a short stiff " +
					"bracket has sag = 0"
		}
		return fmt.Sprintf("%s has no sag, and its bracket reaches %s: over %s sag counts", dial, s.length(k.Size),
				s.length(k.Limit)),
			"hang the bracket on a sag bar, zero it at 12 and write what it reads at 6: sag = ..."
	case train.CheckRange:
		return fmt.Sprintf("%s shows readings %s apart, and its range is %s: it has passed its end", dial, size, limit),
			"set it so that its plunger is in the middle of its range where it reads zero, and read again; or it was set " +
				"anew on the way"
	case train.CheckCopy:
		if k.Whole {
			return fmt.Sprintf("set %d of coupling %q is the same as set %d to the last digit", c.Dials[k.Dial].Set, c.Name,
					c.Dials[k.Other].Set),
				"two passes hardly ever are: if it was copied, take it out, for it makes the errors seem smaller than they are"
		}
		return fmt.Sprintf("%s is there twice, the same to the last digit", dial),
			"if it was copied, take it out: it makes the errors seem smaller than they are; if it was read twice, give the " +
				"second one set = 2"
	}
	panic("a check without words")
}

// MistakeWords say which one thing would have to be otherwise for the readings of a coupling to agree; "" where nothing
// failed or no one thing explains it.
func MistakeWords(t *train.Train, c *train.Coupling) (message, hint string) {
	slips := Slips(t, c)
	if slips == nil {
		return "", ""
	}
	return fmt.Sprintf("the readings of coupling %q would all agree if %s", c.Name, strings.Join(slips, "; or if ")),
		"look at the instrument or read it once more before the file is changed"
}

// Slips say one by one what would have to be otherwise.
func Slips(t *train.Train, c *train.Coupling) []string {
	if c.Fit == nil {
		return nil
	}
	var out []string
	for _, m := range c.Fit.Mistakes {
		out = append(out, formatter{t, c}.slip(m))
	}
	return out
}

// slip says what would be otherwise without a mistake.
func (s formatter) slip(m train.Mistake) string {
	d, dial := &s.c.Dials[m.Dial], s.dial(m.Dial)
	offset := d.Kind == train.OffsetDial
	switch {
	case m.Kind == train.MistakeSign && offset:
		return "v of " + dial + " had the other sign"
	case m.Kind == train.MistakeSides && offset:
		return "h of " + dial + " had the other sign: left and right swapped"
	case m.Kind == train.MistakeSign && d.Kind == train.FaceDial:
		return dial + " had the other sign: pushed_in, or away"
	case m.Kind == train.MistakeSign:
		return dial + " had the other sign: pushed_in, or on"
	case m.Kind == train.MistakeSides:
		return dial + " had 3 and 9 swapped"
	}
	now, where := 0.0, ""
	switch {
	case !offset:
		now, where = d.Values[m.At], fmt.Sprintf(" at %s degrees", figure(d.Angles[m.At]))
	case m.At == 0:
		now, where = d.V, ", v"
	default:
		now, where = d.H, ", h"
	}
	return fmt.Sprintf("%s%s read %s in place of %s", dial, where, s.sum(m.Value), s.sum(now))
}

// Words say why the readings can't be used and what to do about it.
func (r *Refusal) Words(t *train.Train, c *train.Coupling) (message, hint string) {
	s := formatter{t, c}
	none := fmt.Sprintf("the readings of coupling %q can't tell ", c.Name)
	switch r.Kind {
	case FewPositions:
		return fmt.Sprintf("%s was read at %d of the %d positions that it needs", s.dial(r.Dial), int(r.Size), fewest),
			"9, 12 and 3 are enough, or any three over half a turn"
	case ShortArc:
		dial := s.dial(r.Dial)
		where := fmt.Sprintf("all positions of %s lie within %s degrees", dial, figure(r.Span))
		if r.Span >= halfTurn {
			where = fmt.Sprintf("the positions of %s lie at two opposite places, or nearly", dial)
		}
		if math.IsInf(r.Size, 1) || r.Size > 1e6 {
			return where + ": from these nobody can tell how it stands up and sideways",
				"read it at 9, 12 and 3, or at any three places well spread over half a turn"
		}
		return where + fmt.Sprintf(": an error of a reading becomes %s times as large in the offset, at most %d "+
			"times is allowed",
			figure(r.Size), mostGain), "read it over half a turn, or at many more positions"
	case NoOffset:
		return none + "the offset: they are of faces alone", "read a rim too"
	case NoAngle:
		return none + "the angle: they are all at one plane, and none is of a face", "read a rim at another plane, or a face"
	case NearPlanes:
		far := ""
		if !math.IsNaN(r.Far) {
			far = fmt.Sprintf(", which is %s at the farthest foot", s.move(r.Far))
		}
		return none + fmt.Sprintf("the angle well enough: from %s it may be %s mrad off (95 %%)%s; at most %d "+
			"mrad is allowed",
			s.bases(r.Span), figure(r.Size), far, mostAngle), "read at planes farther apart, or a face at a larger radius"
	}
	panic("a refusal without words")
}

// halfTurn in degrees is nearly that: positions over as much are not too near
// each other, but may lie on one line.
const halfTurn = 150

// bases are what the angle follows from: planes so many mm apart, and faces.
func (s formatter) bases(span float64) string {
	radius := 0.0
	for i := range s.c.Dials {
		if d := &s.c.Dials[i]; d.Kind == train.FaceDial {
			radius = math.Max(radius, d.Radius)
		}
	}
	planes, faces := "planes only "+s.length(span)+" apart", "a face of radius "+s.length(radius)
	switch {
	case radius == 0:
		return planes
	case span == 0:
		return faces
	}
	return planes + " and " + faces
}

// dial names a dial.
func (s formatter) dial(i int) string {
	d := &s.c.Dials[i]
	on := s.c.To
	if d.OnFrom {
		on = s.c.From
	}
	switch d.Kind {
	case train.RimDial:
		return fmt.Sprintf("the rim dial on %q at x = %s", s.t.ShaftName(on), asTyped(d.X/s.t.Units.Length()))
	case train.FaceDial:
		return fmt.Sprintf("the face dial on %q", s.t.ShaftName(on))
	}
	return "the offset read at x = " + asTyped(d.X/s.t.Units.Length())
}

func (s formatter) move(mm float64) string { return figure(mm/s.t.Units.Move()) + " " + s.moves() }

// sum is a sum of readings as they were typed.
func (s formatter) sum(mm float64) string { return asTyped(mm/s.t.Units.Move()) + " " + s.moves() }

// moves is the unit of readings.
func (s formatter) moves() string {
	if s.t.Units == train.Inches {
		return "mil"
	}
	return "mm"
}

func (s formatter) length(mm float64) string {
	v := mm / s.t.Units.Length()
	text := asTyped(v)
	if math.Abs(v-math.Round(v*1e5)/1e5) > tie {
		text = figure(v) // it was worked out
	}
	return text + " " + s.t.Units.String()
}

// asTyped is a number to the last decimal that somebody types.
func asTyped(v float64) string {
	return strconv.FormatFloat(math.Round(v*1e5)/1e5, 'f', -1, 64)
}

// figure is a number to three figures, or whole.
func figure(v float64) string {
	if math.Abs(v) >= 999.5 {
		return strconv.FormatFloat(v, 'f', 0, 64)
	}
	return strconv.FormatFloat(v, 'g', 3, 64)
}
