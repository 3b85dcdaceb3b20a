package mip

import "math"

// Rows may stand for functions that are not affine. A Curve bounds how far such a
// function is from its row: within its Caps by at most
//
//	Fixed + Σ By |turn_A| |turn_B|
//
// where turn_A is the problem's affine function Turns[A] of the variables. Over a box each
// |turn| is taken at its largest.
type Curve struct {
	Caps  []Cap
	Fixed float64 // in the row's unit
	Sum   []Bend
}

// A Cap holds a turn within a size, beyond which its curve says nothing.
type Cap struct {
	Turn int
	Most float64
}

// A Bend is one product of a Curve; B is -1 in a bend that one turn makes.
type Bend struct {
	A, B int
	By   float64
	// Mean, -By..By, is what the product itself counts: the function is Mean turn_A turn_B above its row, give or take
	// (By − |Mean|) |turn_A| |turn_B|. 0 where B is -1.
	Mean float64
}

// padded is the share by which what limits are widened by is rounded up: far more than
// a sum of some hundred products is off.
const padded = 1e-9

// Curved says whether any row stands for more than an affine function.
func (p *Problem) Curved() bool { return p.Turns != nil }

// Loose is how much longer than its radius the rows of each limit may be over a box of
// steps, so that every point at which the functions that they stand for keep the limit is
// still held; +Inf where nothing is known. Nil where all rows are what they stand for.
func (p *Problem) Loose(lo, hi Steps) []float64 {
	if !p.Curved() {
		return nil
	}
	most := p.Turned(lo, hi)
	out := make([]float64, len(p.Limits))
	for i := range p.Limits {
		out[i] = p.Limits[i].Loose(most)
	}
	return out
}

// Loose is the same of one limit, by the largest size of each turn.
func (l *Limit) Loose(most []float64) float64 {
	var square float64
	for r := range l.Rows {
		off := l.Rows[r].off(most)
		square += off * off
	}
	return math.Sqrt(square) * (1 + padded)
}

// Turned is the largest size of each turn over a box.
func (p *Problem) Turned(lo, hi Steps) []float64 {
	most := make([]float64, len(p.Turns))
	for n := range p.Turns {
		low, high, size := p.span(&p.Turns[n], lo, hi)
		most[n] = min(max(max(-low, high), 0)+rounding*size, p.TurnMost[n])
	}
	return most
}

// Paid is what the rows that a certificate pulls at may be off over a box, each times the size of its pull,
// at most: at a point no more than fixed and each variable's part for each unit of its size |x|. Some turns,
// given by their places in ascending order, count with the size that they have at the point, for which its
// variables pay; the others with the largest in the box. pull has one number for each row of each limit.
// fixed is +Inf where nothing is known of a row.
func (p *Problem) Paid(pull []float64, turns []int, lo, hi Steps) (fixed float64, each []float64) {
	most := p.Turned(lo, hi)
	size := make([]float64, len(p.Turns)) // what a unit of each turn that is paid for makes of all rows
	pays := make([]bool, len(p.Turns))
	for _, a := range turns {
		pays[a] = true
	}
	row := 0
	for i := range p.Limits {
		for r := range p.Limits[i].Rows {
			u := math.Abs(pull[row])
			row++
			off := p.Limits[i].Rows[r].Off
			if u == 0 || len(off) == 0 {
				continue
			}
			c := holding(off, most)
			if c == nil {
				return math.Inf(1), nil
			}
			fixed += u * c.Fixed
			for _, b := range c.Sum {
				switch by := u * b.By; {
				case b.B < 0 && pays[b.A]:
					size[b.A] += by
				case b.B < 0:
					fixed += by * most[b.A]
				case pays[b.A]:
					size[b.A] += by * most[b.B]
				case pays[b.B]:
					size[b.B] += by * most[b.A]
				default:
					fixed += by * most[b.A] * most[b.B]
				}
			}
		}
	}
	each = make([]float64, len(p.Vars))
	for _, a := range turns {
		fixed += size[a] * math.Abs(p.Turns[a].Constant)
		for _, t := range p.Turns[a].Terms {
			each[t.Var] += size[a] * math.Abs(t.Coefficient) * (1 + padded)
		}
	}
	return fixed * (1 + padded), each
}

// holding is the first of some curves that says anything; nil: none does.
func holding(curves []Curve, most []float64) *Curve {
	for c := range curves {
		if curves[c].holds(most) {
			return &curves[c]
		}
	}
	return nil
}

// off is how far the row may be off what it stands for: by the first of its curves that
// says anything.
func (r *Row) off(most []float64) float64 {
	if len(r.Off) == 0 {
		return 0
	}
	if c := holding(r.Off, most); c != nil {
		return c.at(most)
	}
	return math.Inf(1)
}

func (c *Curve) holds(most []float64) bool {
	for _, k := range c.Caps {
		if !(most[k.Turn] <= k.Most) {
			return false
		}
	}
	return true
}

func (c *Curve) at(most []float64) float64 {
	sum := c.Fixed
	for _, b := range c.Sum {
		if b.B < 0 {
			sum += b.By * most[b.A]
		} else {
			sum += b.By * most[b.A] * most[b.B]
		}
	}
	return sum
}

// Afford brings a box in to where a point can be that costs less than a cost: no
// variable may cost as much by itself. It returns false where nothing is left.
func (p *Problem) Afford(lo, hi Steps, cost float64) bool {
	if math.IsInf(cost, 1) {
		return !Empty(lo, hi)
	}
	for j := range p.Vars {
		if p.Vars[j].Slope != 0 { // others may cost less than nothing
			return !Empty(lo, hi)
		}
	}
	for j := range p.Vars {
		if w := p.Vars[j].Weight * p.Vars[j].Step; w > 0 {
			most := max(-1, math.Floor(cost/w*(1+padded)+padded))
			lo[j], hi[j] = max(lo[j], -atMost(most, -lo[j])), min(hi[j], atMost(most, hi[j]))
		}
	}
	p.Shut(lo, hi)
	return !Empty(lo, hi)
}

// Loosening is how fast limits get longer with the largest size of each turn over a box,
// each limit weighed by a pull; with nil by what it is of its radius.
func (p *Problem) Loosening(pulls, most []float64) []float64 {
	out := make([]float64, len(p.Turns))
	for i := range p.Limits {
		pull := 1 / p.Limits[i].Radius
		if pulls != nil {
			pull = pulls[i]
		}
		if pull == 0 {
			continue
		}
		for r := range p.Limits[i].Rows {
			c := p.Limits[i].Rows[r].curve(most)
			if c == nil {
				continue
			}
			for _, b := range c.Sum {
				if b.B < 0 {
					out[b.A] += pull * b.By
				} else {
					out[b.A] += pull * b.By * most[b.B]
					out[b.B] += pull * b.By * most[b.A]
				}
			}
		}
	}
	return out
}

// curve is the one that says the most over a box; where none says anything, the widest.
func (r *Row) curve(most []float64) *Curve {
	c := holding(r.Off, most)
	if n := len(r.Off); c == nil && n > 0 {
		return &r.Off[n-1]
	}
	return c
}
