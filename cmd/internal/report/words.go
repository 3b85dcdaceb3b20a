package report

import (
	"fmt"
	"math"
	"strings"
	"unicode"

	"leastmove/optimize"
	"leastmove/train"
)

// clean is a text of the train file as it may go to a terminal: no control
// characters, nor others that do not print.
func clean(s string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case unicode.IsPrint(r), r == '\u200c', r == '\u200d': // the last two only join letters
			return r
		case unicode.IsSpace(r):
			return ' '
		}
		return -1
	}, s)
}

// cell is text for a cell of a table that a spreadsheet may open: one that would
// be taken for a formula is marked as text.
func cell(s string) string {
	if first := strings.TrimSpace(s); first != "" && strings.ContainsRune("=+-@", rune(first[0])) {
		return "'" + s
	}
	return s
}

// A speaker says in words what is in the train's numbers.
type speaker struct {
	numbers
	t        *train.Train
	isolated bool               // names stand between Isolate and Resume
	fills    map[[2]int]float64 // mm, that the train has under soft feet and its file does not, by machine and foot
}

func speakerOf(t *train.Train) speaker { return speaker{numbers: numbersOf(t), t: t} }

// speakerFor is that of a plan's train.
func speakerFor(p *optimize.Plan) speaker {
	s := speakerOf(p.Train)
	s.fills = map[[2]int]float64{}
	for _, f := range p.Soft {
		s.fills[[2]int{f.Machine, f.Foot}] = f.Fill
	}
	// Moves that someone gave need not be on whole steps.
	for _, feet := range p.Moves {
		for _, f := range feet {
			for _, mm := range [3]float64{f.Up, f.Left, f.Axial} {
				s.move = max(s.move, decimals(mm/s.units.Move(), s.move, mostDecimals))
			}
		}
	}
	return s
}

// filled is what fills the gap under a foot, in mm; 0: nothing.
func (s speaker) filled(m, f int) float64 { return s.fills[[2]int{m, f}] }

// name is a name of the train file as it may be shown.
func (s speaker) name(n string) string {
	if s.isolated {
		return Isolate + clean(n) + Resume
	}
	return clean(n)
}

func (s speaker) title() string          { return clean(s.t.Title) }
func (s speaker) machine(i int) string   { return s.name(s.t.Machines[i].Name) }
func (s speaker) foot(m, f int) string   { return s.name(s.t.Machines[m].Feet[f].Name) }
func (s speaker) nozzle(m, n int) string { return s.name(s.t.Machines[m].Nozzles[n].Name) }
func (s speaker) coupling(i int) string  { return s.name(s.t.Couplings[i].Name) }
func (s speaker) condition(k int) string { return s.name(s.t.Conditions[k].Name) }
func (s speaker) shaft(e train.End) string {
	return s.name(s.t.ShaftName(e))
}
func (s speaker) last() int { return len(s.t.Machines) - 1 }

// ownSides says whether the site has words of its own for the sides.
func (s speaker) ownSides() bool {
	return s.t.Sides.Left != "left" || s.t.Sides.Right != "right"
}

// sides says which side is which.
func (s speaker) sides() string {
	words := fmt.Sprintf("Left and right are seen looking from %s to %s", s.machine(0), s.machine(s.last()))
	if s.ownSides() {
		words += fmt.Sprintf(": left is %s, right is %s", s.name(s.t.Sides.Left), s.name(s.t.Sides.Right))
	}
	return words + "."
}

// shim is a change of shims in mm as the crew makes it.
func (s speaker) shim(up float64) string {
	n := s.moved(math.Abs(up))
	switch {
	case n.zero():
		return "no change"
	case up > 0:
		return "raise " + with(n, s.moveUnit())
	}
	return "remove " + with(n, s.moveUnit())
}

// side is a move to a side in mm as the crew makes it.
func (s speaker) side(left float64) string {
	n := s.moved(math.Abs(left))
	switch {
	case n.zero():
		return "no change"
	case left > 0:
		return "left " + with(n, s.moveUnit())
	}
	return "right " + with(n, s.moveUnit())
}

// site is the site's own word for the side that a move in mm goes to.
func (s speaker) site(left float64) string {
	switch {
	case s.moved(math.Abs(left)).zero():
		return ""
	case left > 0:
		return s.name(s.t.Sides.Left)
	}
	return s.name(s.t.Sides.Right)
}

// along is a shift of a whole machine along the train in mm.
func (s speaker) along(axial float64) string {
	end := s.last()
	if axial < 0 {
		end = 0
	}
	return fmt.Sprintf("along the train %s, toward the %s end", with(s.moved(math.Abs(axial)), s.moveUnit()), s.machine(end))
}

// pack is the pack under a foot, and after a change in mm where there is one.
func (s speaker) pack(now, up float64) string {
	switch {
	case math.IsNaN(now):
		return "not stated"
	case s.moved(up).zero():
		return string(s.packed(now))
	}
	return string(s.packed(now) + " -> " + s.packed(now+up))
}

// station is a station of the train in mm, as short as it can be said.
func (s speaker) station(mm float64) string { return s.length(mm).short() }

// high is a vertical misalignment: how high the second shaft stands, and how
// it climbs.
func (s speaker) high(v train.Tilt) string {
	return signed(s.offset, v.Offset, "%s high", "%s low") + ", " + signed(s.angle, v.Angle, "climbs %s", "falls %s")
}

// aside is a horizontal misalignment.
func (s speaker) aside(h train.Tilt) string {
	return signed(s.offset, h.Offset, "%s left", "%s right") + ", " + signed(s.angle, h.Angle, "turns left %s", "turns right %s")
}

// and joins words: "a, b and c".
func and(words []string) string {
	if n := len(words); n > 1 {
		return strings.Join(words[:n-1], ", ") + " and " + words[n-1]
	}
	return strings.Join(words, "")
}

// feetOf names feet of one machine, the two of a pair once: "in left and right".
func (s speaker) feetOf(m int, feet []int) string {
	var names []string
	for i := 0; i < len(feet); i++ {
		if i+1 < len(feet) {
			if table, pair := s.pair(m, feet[i], feet[i+1]); pair {
				names = append(names, table+" left and right")
				i++
				continue
			}
		}
		names = append(names, s.foot(m, feet[i]))
	}
	if len(names) == 1 {
		return names[0]
	}
	return strings.Join(names, ", ")
}

// pair says whether two feet are those of one table of the train file, and
// what it is called.
func (s speaker) pair(m, left, right int) (table string, pair bool) {
	a, b := &s.t.Machines[m].Feet[left], &s.t.Machines[m].Feet[right]
	table, isLeft := strings.CutSuffix(a.Name, " left")
	other, isRight := strings.CutSuffix(b.Name, " right")
	return s.name(table), isLeft && isRight && table == other && a.X == b.X && a.Y > 0 && b.Y == -a.Y
}

func signed(print func(float64) number, x float64, plus, minus string) string {
	n := print(math.Abs(x))
	switch {
	case n.zero():
		return string(n)
	case x > 0:
		return fmt.Sprintf(plus, n)
	}
	return fmt.Sprintf(minus, n)
}

// share is how much of a limit is taken up, in number and in words.
func share(u float64) string {
	if u > 1+fair {
		return percent(u) + ", outside it"
	}
	return percent(u) + ", within it"
}

// conditions are all of the train's, in words.
func (s speaker) conditions() string {
	switch n := len(s.t.Conditions); n {
	case 1:
		return "when running"
	case 2:
		return "in both conditions"
	default:
		return fmt.Sprintf("in all %d conditions", n)
	}
}

// plural is a count with its noun.
func plural(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}

// worst is the use that takes up most of its limit.
func worst(r *train.Reading) train.Use {
	var most train.Use
	for i, u := range r.Uses {
		if i == 0 || u.Share > most.Share {
			most = u
		}
	}
	return most
}
