package report

import (
	"math"
	"strconv"
	"strings"

	"leastmove/train"
)

// A number is one that is ready to be printed: "" where there is none. JSON
// has it without trailing zeros, "" as null.
type number string

// MarshalJSON writes the digits as they are.
func (n number) MarshalJSON() ([]byte, error) {
	if n == "" {
		return []byte("null"), nil
	}
	return []byte(n.short()), nil
}

// short is the number without trailing zeros.
func (n number) short() string {
	s := string(n)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	return s
}

// zero says that the number was rounded to nothing.
func (n number) zero() bool { return strings.Trim(string(n), "0.") == "" }

// fixed is x to so many decimals; "" for what is no number. There is no minus
// before a zero.
func fixed(x float64, decimals int) number {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return ""
	}
	n := number(strconv.FormatFloat(x, 'f', decimals, 64))
	if bare, minus := strings.CutPrefix(string(n), "-"); minus && number(bare).zero() {
		return number(bare)
	}
	return n
}

// speck is the part of a last digit that counts as rounding of the arithmetic
// (a conversion to mils and back) and not as part of the number.
const speck = 1e-9

// floor and ceil are x to so many decimals, never above and never below it.
func floor(x float64, decimals int) number {
	p := math.Pow10(decimals)
	return fixed(math.Floor(x*p+speck)/p, decimals)
}

func ceil(x float64, decimals int) number {
	p := math.Pow10(decimals)
	return fixed(math.Ceil(x*p-speck)/p, decimals)
}

// fair is the share of a limit by which a checked plan may pass it for the
// rounding of the arithmetic. Package optimize allows as much.
const fair = 1e-6

// use is a share of a limit, rounded up.
func use(share float64) number { return ceil(share/(1+fair), 3) }

// percent is a share of a limit in whole per cent, rounded up; what is past the
// limit by less than that would show is said in words.
func percent(share float64) string {
	if n := ceil(100*share/(1+fair), 0); n != "101" {
		return string(n) + " %"
	}
	return "over 100 %"
}

// decimals are those that x needs, from least to most.
func decimals(x float64, least, most int) int {
	for d := least; d < most; d++ {
		if v := x * math.Pow10(d); math.Abs(v-math.Round(v)) < 1e-6 {
			return d
		}
	}
	return most
}

// numbers turn what is in mm into numbers in the units of the train file.
type numbers struct {
	units train.Units
	move  int // decimals of a move: as many as whole steps need
	pack  int // decimals of a pack: as many as those stated need
	fine  int // decimals of an offset at a coupling
}

// mostDecimals are enough for any step of shims that can be made, in either unit.
const mostDecimals = 5

func numbersOf(t *train.Train) numbers {
	n := numbers{units: t.Units, move: 2, fine: 3}
	if t.Units == train.Inches {
		n.move, n.fine = 1, 2
	}
	n.move = decimals(t.Shims.Step/t.Units.Move(), n.move, mostDecimals)
	n.pack = n.move
	for i := range t.Machines {
		for _, f := range t.Machines[i].Feet {
			if !math.IsNaN(f.Pack) {
				n.pack = max(n.pack, decimals(f.Pack/t.Units.Move(), n.move, mostDecimals))
			}
		}
	}
	return n
}

// Units in words.
func (n numbers) moveUnit() string {
	if n.units == train.Inches {
		return "mil"
	}
	return "mm"
}

func (n numbers) lengthUnit() string { return n.units.String() }

// moved is a move in mm, to whole steps.
func (n numbers) moved(mm float64) number { return fixed(mm/n.units.Move(), n.move) }

// packed is the thickness of a pack in mm.
func (n numbers) packed(mm float64) number { return fixed(mm/n.units.Move(), n.pack) }

// offset is an offset, or another small distance, in mm.
func (n numbers) offset(mm float64) number { return fixed(mm/n.units.Move(), n.fine) }

// room is what is left to a foot in mm, rounded down: never more than it has.
func (n numbers) room(mm float64) number {
	const rounding = 1e-6 // mm, of the arithmetic: the foot is at its end
	if math.Abs(mm) < rounding {
		mm = 0
	}
	return floor(mm/n.units.Move(), n.move)
}

// left is what a plan leaves to a foot in mm: nothing where it is at its end,
// whatever the rounding of the arithmetic says.
func (n numbers) left(mm float64) number { return n.room(math.Max(mm, 0)) }

// total is a sum of movement in mm, to one decimal more than a move where it
// needs that, rounded up.
func (n numbers) total(mm float64) number {
	v := mm / n.units.Move()
	return ceil(v, decimals(v, n.move, n.move+1))
}

// bound is a proven lower bound on a sum of movement in mm, rounded down.
func (n numbers) bound(mm float64) number { return floor(mm/n.units.Move(), n.move+1) }

// length is a length in mm, as long as a machine.
func (n numbers) length(mm float64) number {
	if n.units == train.Inches {
		return fixed(mm/n.units.Length(), 4)
	}
	return fixed(mm, 3)
}

// angle is an angle in mrad.
func (n numbers) angle(mrad float64) number { return fixed(mrad, 3) }

// with is a number with its unit.
func with(n number, unit string) string { return string(n) + " " + unit }
