package mip

import "math"

// Part is the problem of the blocks from..to-1 by themselves, with the limits that are of no others. What holds them
// to the rest of the chain are limits of both. With a pull at each of their rows these are weighed into the
// cost: its variables cost so much more for each unit of x, one way or the other. each is what they cost less for
// each unit of |x|, as the variables pay for what the rows may be off (Paid); nil: nothing.
//
// Pull has one number for each row of each limit and pulls at no limit that the part keeps.
func (p *Problem) Part(from, to int, pull, each []float64) *Problem {
	first, last := p.Blocks(from, to)
	out := &Problem{Vars: append([]Var(nil), p.Vars[first:last]...)}
	for j := range out.Vars {
		v := &out.Vars[j]
		if v.Block -= from; each != nil {
			v.Weight = math.Max(0, v.Weight-each[first+j])
		}
	}
	if p.FixedCost != nil {
		out.FixedCost = p.FixedCost[from:to]
	}
	within := func(r *Row) (Row, bool) {
		mine := *r
		mine.Terms = make([]Term, len(r.Terms))
		for n, t := range r.Terms {
			if t.Var < first || t.Var >= last {
				return Row{}, false
			}
			mine.Terms[n] = Term{t.Var - first, t.Coefficient}
		}
		return mine, true
	}
	turn := make([]int, len(p.Turns)) // the part's number of each turn; -1: it has not got it
	for a := range p.Turns {
		turn[a] = -1
		if r, ok := within(&p.Turns[a]); ok {
			turn[a] = len(out.Turns)
			out.Turns, out.TurnMost = append(out.Turns, r), append(out.TurnMost, p.TurnMost[a])
		}
	}
	row, kept := 0, p.Within(from, to)
	for i := range p.Limits {
		l := p.Limits[i]
		rows, whole := make([]Row, len(l.Rows)), kept[i]
		for r := range l.Rows {
			rows[r], _ = within(&l.Rows[r])
			whole = whole && renumbered(&rows[r], turn)
			u := pull[row]
			row++
			if u == 0 {
				continue
			}
			for _, t := range l.Rows[r].Terms {
				if t.Var >= first && t.Var < last {
					out.Vars[t.Var-first].Slope += u * t.Coefficient
				}
			}
		}
		if whole {
			l.Rows = rows
			out.Limits = append(out.Limits, l)
		}
	}
	return out
}

// Length is how many blocks the chain has.
func (p *Problem) Length() int {
	if len(p.Vars) == 0 {
		return 0
	}
	return p.Vars[len(p.Vars)-1].Block + 1
}

// Blocks are the variables first..last-1 of the blocks from..to-1.
func (p *Problem) Blocks(from, to int) (first, last int) {
	last = len(p.Vars)
	for first < last && p.Vars[first].Block < from {
		first++
	}
	for last > first && p.Vars[last-1].Block >= to {
		last--
	}
	return first, last
}

// Within says of each limit whether it hangs on variables of the blocks from..to-1, and on no others.
func (p *Problem) Within(from, to int) []bool {
	first, last := p.Blocks(from, to)
	out := make([]bool, len(p.Limits))
	for i := range p.Limits {
		some, beyond := false, false
		for _, r := range p.Limits[i].Rows {
			for _, t := range r.Terms {
				some, beyond = true, beyond || t.Var < first || t.Var >= last
			}
		}
		out[i] = some && !beyond
	}
	return out
}

// renumbered gives what a row may be off the numbers of a part's turns; false where the part has not got one.
func renumbered(r *Row, turn []int) bool {
	off := make([]Curve, len(r.Off))
	for n, c := range r.Off {
		off[n] = Curve{Fixed: c.Fixed, Caps: make([]Cap, len(c.Caps)), Sum: make([]Bend, len(c.Sum))}
		for k, cap := range c.Caps {
			off[n].Caps[k] = Cap{turn[cap.Turn], cap.Most}
			if turn[cap.Turn] < 0 {
				return false
			}
		}
		for k, b := range c.Sum {
			mine := Bend{turn[b.A], -1, b.By, b.Mean}
			if b.B >= 0 {
				mine.B = turn[b.B]
			}
			if mine.A < 0 || b.B >= 0 && mine.B < 0 {
				return false
			}
			off[n].Sum[k] = mine
		}
	}
	if r.Off = off; len(off) == 0 {
		r.Off = nil
	}
	return true
}
