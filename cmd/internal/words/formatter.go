package words

import (
	"fmt"
	"math"
	"strings"
	"unicode"
	"unicode/utf8"

	"leastmove/cmd/internal/doc"
	"leastmove/train"
	"leastmove/train/spelling"
)

// Clean is a text of the train file as it may go to a terminal or a page.
func Clean(s string) string { return spelling.Printable(s) }

// Capital is the words as a sentence begins.
func Capital(s string) string {
	first, size := utf8.DecodeRuneInString(s)
	if size == 0 {
		return s
	}
	return string(unicode.ToUpper(first)) + s[size:]
}

// Cell is text for a cell of a table that a spreadsheet may open: one that would
// be taken for a formula is marked as text.
func Cell(s string) string {
	if first := strings.TrimSpace(s); first != "" && strings.ContainsRune("=+-@", rune(first[0])) {
		return "'" + s
	}
	return s
}

// A Formatter says in words what is in the train's numbers.
type Formatter struct {
	Numbers
	Train    *train.Train
	Isolated bool // names stand between doc.Isolate and doc.Resume
}

func FormatterOf(t *train.Train) Formatter { return Formatter{Numbers: NumbersOf(t), Train: t} }

// WithMoves is the same with as many decimals as some moves need: those that someone gave need
// not be on whole steps.
func (w Formatter) WithMoves(moves train.Moves) Formatter {
	for _, feet := range moves {
		for _, f := range feet {
			for _, mm := range [3]float64{f.Up, f.Left, f.Axial} {
				w.MoveDecimals = max(w.MoveDecimals, train.Decimals(mm/w.Units.Move(), w.MoveDecimals, train.MostDecimals))
			}
		}
	}
	return w
}

// PackChange is what becomes of the pack under a foot, by its move and all else.
func (w Formatter) PackChange(m, f int, move train.FootMove) train.PackChange {
	return w.Train.PackChange(m, f, move.Up)
}

// Name is a name of the train file as it may be shown.
func (w Formatter) Name(n string) string {
	if w.Isolated {
		return doc.Isolate + Clean(n) + doc.Resume
	}
	return Clean(n)
}

func (w Formatter) Title() string          { return Clean(w.Train.Title) }
func (w Formatter) Machine(i int) string   { return w.Name(w.Train.Machines[i].Name) }
func (w Formatter) Foot(m, f int) string   { return w.Name(w.Train.Machines[m].Feet[f].Name) }
func (w Formatter) Nozzle(m, n int) string { return w.Name(w.Train.Machines[m].Nozzles[n].Name) }
func (w Formatter) Coupling(i int) string  { return w.Name(w.Train.Couplings[i].Name) }
func (w Formatter) Condition(k int) string { return w.Name(w.Train.Conditions[k].Name) }
func (w Formatter) Shaft(e train.End) string {
	return w.Name(w.Train.ShaftName(e))
}

// Machines and Feet are the names of some machines, and of some feet of machine m.
func (w Formatter) Machines(some []int) []string { return named(some, w.Machine) }
func (w Formatter) Feet(m int, feet []int) []string {
	return named(feet, func(f int) string { return w.Foot(m, f) })
}

func named(some []int, name func(int) string) []string {
	var names []string
	for _, i := range some {
		names = append(names, name(i))
	}
	return names
}

// Last is the last machine of the train.
func (w Formatter) Last() int { return w.Train.Row() - 1 }

// Count is how many machines the train has, with its bases.
func (w Formatter) Count() string {
	words := Plural(len(w.Train.Machines), "machine")
	if w.Train.Row() < len(w.Train.Machines) {
		words += " and bases"
	}
	return words
}

// OwnSides says whether the site has words of its own for the sides.
func (w Formatter) OwnSides() bool {
	return w.Train.Sides.Left != "left" || w.Train.Sides.Right != "right"
}

// Sides says which side is which.
func (w Formatter) Sides() string {
	words := fmt.Sprintf("Left and right are seen looking from %s to %s", w.Machine(0), w.Machine(w.Last()))
	if w.OwnSides() {
		words += fmt.Sprintf(": left is %s, right is %s", w.Name(w.Train.Sides.Left), w.Name(w.Train.Sides.Right))
	}
	return words + "."
}

// Shim is a change of shims in mm as the crew makes it.
func (w Formatter) Shim(up float64) string { return w.made(up, "raise ", "remove ") }

// Side is a move to a side in mm as the crew makes it.
func (w Formatter) Side(left float64) string { return w.made(left, "left ", "right ") }

func (w Formatter) made(mm float64, plus, minus string) string {
	n := w.Moved(math.Abs(mm))
	switch {
	case n.Zero():
		return "no change"
	case mm > 0:
		return plus + With(n, w.MoveUnit())
	}
	return minus + With(n, w.MoveUnit())
}

// Site is the site's own word for the side that a move in mm goes to.
func (w Formatter) Site(left float64) string {
	switch {
	case w.Moved(math.Abs(left)).Zero():
		return ""
	case left > 0:
		return w.Name(w.Train.Sides.Left)
	}
	return w.Name(w.Train.Sides.Right)
}

// Along is a shift of a whole machine along the train in mm.
func (w Formatter) Along(axial float64) string {
	end := w.Last()
	if axial < 0 {
		end = 0
	}
	return fmt.Sprintf("along the train %s, toward the %s end", With(w.Moved(math.Abs(axial)), w.MoveUnit()),
		w.Machine(end))
}

// Pack is a pack now, and then where it changes.
func (w Formatter) Pack(c train.PackChange) string {
	switch {
	case math.IsNaN(c.Now):
		return "not stated"
	case w.Moved(c.By()).Zero():
		return string(w.Packed(c.Now))
	}
	return string(w.Packed(c.Now) + " -> " + w.Packed(c.Then))
}

// Station is a station of the train in mm, as short as it can be said.
func (w Formatter) Station(mm float64) string { return w.Length(mm).Short() }

// StationAbout is a station of the train in mm, to whole mm.
func (w Formatter) StationAbout(mm float64) string { return w.Station(math.Round(mm)) }

// High is a vertical misalignment: how high the second shaft stands, and how
// it slopes.
func (w Formatter) High(v train.Tilt) string {
	return Signed(w.Offset, v.Offset, "%s high", "%s low") + ", " + Signed(w.Angle, v.Angle, "slopes up %s",
		"slopes down %s")
}

// Aside is a horizontal misalignment.
func (w Formatter) Aside(h train.Tilt) string {
	return Signed(w.Offset, h.Offset, "%s left", "%s right") + ", " + Signed(w.Angle, h.Angle, "points left %s",
		"points right %s")
}

// And joins words: "a, b and c".
func And(words []string) string { return joined(words, " and ") }

// Or joins words: "a, b or c".
func Or(words []string) string { return joined(words, " or ") }

func joined(words []string, last string) string {
	if n := len(words); n > 1 {
		return strings.Join(words[:n-1], ", ") + last + words[n-1]
	}
	return strings.Join(words, "")
}

// FeetOf names feet of one machine, the two of a pair once: "in left and right".
func (w Formatter) FeetOf(m int, feet []int) string {
	var names []string
	for i := 0; i < len(feet); i++ {
		if i+1 < len(feet) {
			if table, pair := w.Pair(m, feet[i], feet[i+1]); pair {
				names = append(names, table+" left and right")
				i++
				continue
			}
		}
		names = append(names, w.Foot(m, feet[i]))
	}
	return strings.Join(names, ", ")
}

// Pair says whether two feet are those of one table of the train file, and
// what it is called.
func (w Formatter) Pair(m, left, right int) (table string, pair bool) {
	a, b := &w.Train.Machines[m].Feet[left], &w.Train.Machines[m].Feet[right]
	table, isLeft := strings.CutSuffix(a.Name, " left")
	other, isRight := strings.CutSuffix(b.Name, " right")
	return w.Name(table), isLeft && isRight && table == other && a.X == b.X && a.Y > 0 && b.Y == -a.Y
}

// Signed is a number between words for its sign; by itself where it is zero as printed.
func Signed(print func(float64) Number, x float64, plus, minus string) string {
	n := print(math.Abs(x))
	switch {
	case n.Zero():
		return string(n)
	case x > 0:
		return fmt.Sprintf(plus, n)
	}
	return fmt.Sprintf(minus, n)
}

// Share is how much of a limit is used, in number and in words.
func Share(u float64) string {
	if u > 1+Fair {
		return Percent(u) + ", outside it"
	}
	return Percent(u) + ", within it"
}

// Conditions are all of the train's, in words.
func (w Formatter) Conditions() string {
	switch n := len(w.Train.Conditions); n {
	case 1:
		return "when running"
	case 2:
		return "in both conditions"
	default:
		return fmt.Sprintf("in all %d conditions", n)
	}
}

// Plural is a count with its noun.
func Plural(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return fmt.Sprintf("%d %ss", n, noun)
}

// Flags are those of a command, as a shell takes them.
func Flags(flags []string) string {
	var out []string
	for _, f := range flags {
		f = Clean(f)
		if strings.ContainsAny(f, " \t'\\$`!*?;&|<>()#~") {
			f = "\"" + f + "\""
		}
		out = append(out, f)
	}
	return strings.Join(out, " ")
}
