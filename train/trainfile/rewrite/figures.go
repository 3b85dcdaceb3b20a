package rewrite

import (
	"math"
	"strconv"
	"strings"

	"leastmove/train"
)

// Figures are numbers as they are written into a train file.
type figures struct {
	units train.Units
	move  int // decimals of a move: as many as whole steps need
}

// angleDigits are the decimals in mrad of what is worked out: finer than a dial shows.
const angleDigits = 3

func figuresOf(t *train.Train) figures { return figures{units: t.Units, move: t.MoveDecimals()} }

// fixed is a number to so many decimals, without those that are noughts; there is no
// minus before a nought.
func fixed(x float64, digits int) string {
	s := strconv.FormatFloat(x, 'f', digits, 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" {
		return "0"
	}
	return s
}

// exact is a sum of moves and of what the file states, in mm: as fine as that is.
func (f figures) exact(mm float64) string {
	v := mm / f.units.Move()
	return f.pointed(fixed(v, train.Decimals(v, f.move, train.MostDecimals)))
}

// pointed is a move with a decimal at least where it is in mm.
func (f figures) pointed(s string) string {
	if f.units == train.Millimetres && !strings.Contains(s, ".") {
		s += ".0"
	}
	return s
}

// left is what is left of a limit in mm, rounded down but for a twentieth of the last
// digit: a foot goes aside by an angle times an angle as its machine turns.
func (f figures) left(mm float64, digits int) string {
	p := math.Pow10(digits)
	return f.pointed(fixed(math.Floor(mm/f.units.Move()*p+0.05)/p, digits))
}

// above0 is what is left to a nozzle in mm. The reader wants a limit above nothing: where
// nothing is left it is the least that can be written.
func (f figures) above0(mm float64) string {
	digits := 3
	if f.units == train.Inches {
		digits = 2
	}
	return f.left(math.Max(mm, f.units.Move()*math.Pow10(-digits)), digits)
}

// place is where a bolt sits in its hole, in mm, as bolt_at has it. Rounding does not put
// it farther from the middle than the room in mm that there is.
func (f figures) place(at [2]float64, room float64) string {
	digits := 3
	if f.units == train.Inches {
		digits = 4
	}
	p, unit := math.Pow10(digits), f.units.Length()
	x, y := math.Round(at[0]/unit*p)/p, math.Round(at[1]/unit*p)/p
	if math.Hypot(x, y)*unit > room {
		x, y = math.Trunc(at[0]/unit*p+math.Copysign(1e-6, at[0]))/p, math.Trunc(at[1]/unit*p+math.Copysign(1e-6, at[1]))/p
	}
	return "[" + fixed(x, digits) + ", " + fixed(y, digits) + "]"
}

// pieces are shims on one another, in mm.
func (f figures) pieces(mm []float64) string {
	words := make([]string, len(mm))
	for i, v := range mm {
		words[i] = f.exact(v)
	}
	return "[" + strings.Join(words, ", ") + "]"
}
