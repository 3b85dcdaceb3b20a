package words

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"leastmove/train"
)

// A Number is one that is ready to be printed: "" where there is none. JSON
// has it without trailing zeros, "" as null.
type Number string

// MarshalJSON writes the digits as they are.
func (n Number) MarshalJSON() ([]byte, error) {
	if n == "" {
		return []byte("null"), nil
	}
	return []byte(n.Short()), nil
}

// Short is the number without trailing zeros.
func (n Number) Short() string {
	s := string(n)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	return s
}

// Zero says that the number was rounded to nothing.
func (n Number) Zero() bool { return strings.Trim(string(n), "0.") == "" }

// Fixed is x to so many decimals; "" for what is no number. There is no minus
// before a zero.
func Fixed(x float64, decimals int) Number {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return ""
	}
	n := Number(strconv.FormatFloat(x, 'f', decimals, 64))
	if bare, minus := strings.CutPrefix(string(n), "-"); minus && Number(bare).Zero() {
		return Number(bare)
	}
	return n
}

// speck is the part of a last digit that counts as rounding of the arithmetic
// (a conversion to mils and back) and not as part of the number.
const speck = 1e-9

// Floor and Ceil are x to so many decimals, never above and never below it.
func Floor(x float64, decimals int) Number {
	p := math.Pow10(decimals)
	return Fixed(math.Floor(x*p+speck)/p, decimals)
}

func Ceil(x float64, decimals int) Number {
	p := math.Pow10(decimals)
	return Fixed(math.Ceil(x*p-speck)/p, decimals)
}

// Fair is the share of a limit by which a checked plan may pass it for the
// rounding of the arithmetic. Package optimize allows as much.
const Fair = 1e-6

// Use is a share of a limit, rounded up.
func Use(share float64) Number { return Ceil(share/(1+Fair), 3) }

// Percent is a share of a limit in whole per cent, rounded up; what is past the
// limit by less than that would show is said in words.
func Percent(share float64) string {
	if n := Ceil(100*share/(1+Fair), 0); n != "101" {
		return string(n) + " %"
	}
	return "over 100 %"
}

// Within is a share that plans of a curve are held within: with a decimal, which tells its points from each other and
// from plans beside it.
func Within(share float64) string { return string(Ceil(100*share/(1+Fair), 1)) + " %" }

// PercentParts are shares in whole per cent that come to the Percent of their sum: rounded down, and up where most of
// a per cent is left out, until they do.
func PercentParts(parts []float64, sum float64) []string {
	out := make([]string, len(parts))
	whole, rest := make([]float64, len(parts)), make([]float64, len(parts))
	missing := math.Ceil(100*sum/(1+Fair) - speck)
	for i, part := range parts {
		at := 100 * part / (1 + Fair)
		whole[i] = math.Floor(at + speck)
		rest[i] = at - whole[i]
		missing -= whole[i]
	}
	for ; missing > 0; missing-- {
		most := 0
		for i := range rest {
			if rest[i] > rest[most] {
				most = i
			}
		}
		whole[most]++
		rest[most]--
	}
	for i := range parts {
		out[i] = fmt.Sprintf("%.0f %%", whole[i])
	}
	return out
}

// Numbers turn what is in mm into numbers in the units of the train file.
type Numbers struct {
	Units        train.Units
	MoveDecimals int // decimals of a move: as many as whole steps need
	PackDecimals int // decimals of a pack: as many as those stated need
	FineDecimals int // decimals of an offset at a coupling
}

func NumbersOf(t *train.Train) Numbers {
	n := Numbers{Units: t.Units, MoveDecimals: t.MoveDecimals(), FineDecimals: 3}
	if t.Units == train.Inches {
		n.FineDecimals = 2
	}
	n.PackDecimals = n.MoveDecimals
	for i := range t.Machines {
		for _, f := range t.Machines[i].Feet {
			if !math.IsNaN(f.Pack) {
				n.PackDecimals = max(n.PackDecimals, train.Decimals(f.Pack/t.Units.Move(), n.MoveDecimals, train.MostDecimals))
			}
		}
	}
	return n
}

// Units in words.
func (n Numbers) MoveUnit() string {
	if n.Units == train.Inches {
		return "mil"
	}
	return "mm"
}

func (n Numbers) LengthUnit() string { return n.Units.String() }

// Moved is a move in mm, to whole steps.
func (n Numbers) Moved(mm float64) Number { return Fixed(mm/n.Units.Move(), n.MoveDecimals) }

// Packed is the thickness of a pack in mm.
func (n Numbers) Packed(mm float64) Number { return Fixed(mm/n.Units.Move(), n.PackDecimals) }

// Offset is an offset, or another small distance, in mm.
func (n Numbers) Offset(mm float64) Number { return Fixed(mm/n.Units.Move(), n.FineDecimals) }

// Room is what is left to a foot in mm, rounded down: never more than it has but for what the tilt of its machine
// takes, which no limit minds.
func (n Numbers) Room(mm float64) Number {
	return Floor((mm+train.BoltTilt)/n.Units.Move(), n.MoveDecimals)
}

// Left is what a plan leaves to a foot in mm: nothing where it is at its end,
// whatever the rounding of the arithmetic says.
func (n Numbers) Left(mm float64) Number { return n.Room(math.Max(mm, 0)) }

// Total is a sum of movement in mm, to one decimal more than a move where it
// needs that, rounded up.
func (n Numbers) Total(mm float64) Number {
	v := mm / n.Units.Move()
	return Ceil(v, train.Decimals(v, n.MoveDecimals, n.MoveDecimals+1))
}

// Bound is a proven lower bound on a sum of movement in mm, rounded down.
func (n Numbers) Bound(mm float64) Number { return Floor(mm/n.Units.Move(), n.MoveDecimals+1) }

// Length is a length in mm, as long as a machine.
func (n Numbers) Length(mm float64) Number {
	if n.Units == train.Inches {
		return Fixed(mm/n.Units.Length(), 4)
	}
	return Fixed(mm, 3)
}

// Angle is an angle in mrad.
func (n Numbers) Angle(mrad float64) Number { return Fixed(mrad, 3) }

// With is a number with its unit.
func With(n Number, unit string) string { return string(n) + " " + unit }

// Piece is the thickness of one shim in mm.
func (n Numbers) Piece(mm float64) Number {
	v := mm / n.Units.Move()
	return Fixed(v, train.Decimals(math.Abs(v), n.MoveDecimals, train.MostDecimals))
}

// A Measure is what a strategy's own measure is in.
type Measure int

const (
	InCounts Measure = iota
	InMoves          // mm
	InShares         // of a limit
)

// Measured is a measure and what is proven of it; "" where there is none.
func (n Numbers) Measured(in Measure, value, bound float64) (Number, Number) {
	switch in {
	case InMoves:
		return n.Moved(value), n.Room(bound)
	case InShares:
		return Use(value), Floor(bound, 3)
	}
	return Fixed(value, 0), Fixed(bound, 0)
}
