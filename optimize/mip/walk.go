package mip

import (
	"math"
	"slices"
)

// A chain can be walked by the variables of one way: whole steps of one block leave few to the next, so that all of
// them can be gone through where boxes would be split for long. What it shows is coarser than the problem in one
// respect: each row is held by itself to its limit's radius, whatever the limit's other rows are.

// A Walked is what a walk along the chain came to.
type Walked struct {
	// Steps are a point's, 0 but for the variables of the way, at which each row of theirs keeps its limit; nil: none was
	// found.
	Steps Steps
	None  bool // there are none, so no point of the box keeps all limits
}

// Walk looks through a box for steps of the variables of one way at which each row that hangs on them keeps within its
// limit's radius at a use, and within what the row may be off. Other variables count with all of their range. work is
// how many steps it may go through, and what is left of them; where it runs out nothing is said. That there are none
// is sound with all rounding errors counted.
func (p *Problem) Walk(way int, lo, hi Steps, use float64, work *int) Walked {
	w := p.newWalk(way, lo, hi, use)
	if w == nil {
		return Walked{}
	}
	w.work = work
	at := w.narrowest()
	b := w.blocks[at]
	s := make([]int, len(b.vars))
	found := w.each(b, eliminated(b, b.own(0)), nil, s, func() bool { return w.alive(0, at, s) && w.alive(1, at, s) })
	switch {
	case *work < 0:
		return Walked{}
	case !found:
		return Walked{None: true}
	}
	return Walked{Steps: w.retrace(at, s)}
}

type walk struct {
	p      *Problem
	lo, hi Steps
	most   []float64 // the largest size of each turn in the box
	of     []int     // of each variable its unknown in its block; -1: it counts with its range
	blocks []*walkBlock
	next   [2][]*passage // onward and back, from each block to the one beside it; nil: there is none
	work   *int
}

// A walkBlock has the unknowns of a block: each is a variable's steps, or the sum of those of several which all rows to
// other blocks have in common.
type walkBlock struct {
	vars   [][]int // of each unknown
	lo, hi []int
	within []walkRow
}

// A passage is how the unknowns of a block hold those of the block beside it.
type passage struct {
	to        *walkBlock
	crossings []crossing
	rows      [][]walkRow // unknown by unknown of the block it goes to
	known     []float64   // of the block it comes from: its unknowns, and how each crossing is bent by them
	seen      seenSteps   // whether the chain goes on from there
	at        []int       // where it has come to
}

// mostUnknowns is how many unknowns a block may have, mostPlaces in how many places they may be.
const mostUnknowns, mostPlaces = 4, 1 << 60

// newWalk prepares a walk; nil: the chain can't be walked by this way.
func (p *Problem) newWalk(way int, lo, hi Steps, use float64) *walk {
	w := &walk{p: p, lo: lo, hi: hi, of: make([]int, len(p.Vars))}
	n := p.Length()
	if n < 2 {
		return nil
	}
	if p.Curved() {
		w.most = p.Turned(lo, hi)
	}
	for j := range w.of {
		if w.of[j] = -1; p.Vars[j].Way == way {
			w.of[j] = 0
		}
	}
	rows := w.spoken(use)
	if !w.gather(rows, n) {
		return nil
	}
	crossings := make([][]crossing, n) // from each block to the next
	for k := range rows {
		w.take(&rows[k], crossings)
	}
	for d := range w.next {
		w.next[d] = make([]*passage, n)
		for from := range n {
			if to := from + 1 - 2*d; to >= 0 && to < n {
				w.next[d][from] = newPassage(w.blocks[from], w.blocks[to], crossings[min(from, to)], d == 1)
			}
		}
	}
	return w
}

// gather makes one unknown of variables of a block with the same factors in all rows to other blocks; a variable
// without any counts with its range. It returns false where there are no unknowns, too many, or too many places.
func (w *walk) gather(rows []spokenRow, blocks int) bool {
	columns := make([][]float64, len(w.of))
	for k, r := range rows {
		if r.first == r.last {
			continue
		}
		for _, t := range r.Terms {
			if columns[t.Var] == nil {
				columns[t.Var] = make([]float64, len(rows))
			}
			columns[t.Var][k] += t.Coefficient * w.p.Vars[t.Var].Step
		}
	}
	for range blocks {
		w.blocks = append(w.blocks, &walkBlock{})
	}
	for j := range w.of {
		if w.of[j] < 0 {
			continue
		}
		if w.of[j] = -1; columns[j] == nil {
			continue
		}
		b := w.blocks[w.p.Vars[j].Block]
		u := slices.IndexFunc(b.vars, func(vars []int) bool { return sameFactors(columns[vars[0]], columns[j]) })
		if u < 0 {
			u = len(b.vars)
			b.vars, b.lo, b.hi = append(b.vars, nil), append(b.lo, 0), append(b.hi, 0)
		}
		w.of[j] = u
		b.vars[u] = append(b.vars[u], j)
		b.lo[u], b.hi[u] = b.lo[u]+w.lo[j], b.hi[u]+w.hi[j]
	}
	some := false
	for _, b := range w.blocks {
		if some = some || len(b.vars) > 0; len(b.vars) > mostUnknowns || b.places() > mostPlaces {
			return false
		}
	}
	return some
}

// narrowest is the block whose unknowns may be in the fewest places.
func (w *walk) narrowest() int {
	out := 0
	for b := range w.blocks {
		if w.blocks[b].places() < w.blocks[out].places() {
			out = b
		}
	}
	return out
}

// each goes through the unknowns of a block that rows hold, given what is known, until do is true. y takes their steps.
func (w *walk) each(b *walkBlock, rows [][]walkRow, known []float64, y []int, do func() bool) bool {
	return w.eachFrom(0, b, rows, known, y, do)
}

func (w *walk) eachFrom(u int, b *walkBlock, rows [][]walkRow, known []float64, y []int, do func() bool) bool {
	if u == len(rows) {
		return do()
	}
	lo, hi := math.Inf(-1), math.Inf(1)
	for i := range rows[u] {
		r := &rows[u][i]
		v := dot(r.y[:u], y)
		for k, c := range r.s {
			v += c * known[k]
		}
		from, to := (r.lo-v)/r.y[u], (r.hi-v)/r.y[u]
		lo, hi = math.Max(lo, math.Min(from, to)), math.Min(hi, math.Max(from, to))
	}
	lo, hi = math.Ceil(lo), math.Floor(hi)
	least := math.Max(lo, math.Min(0, hi)) // fewest steps first: what is found then costs little
	for d := 0.0; least+d <= hi || least-d >= lo; d++ {
		for k, n := range [2]float64{least + d, least - d} {
			if n < lo || n > hi || k > 0 && d == 0 {
				continue
			}
			if *w.work--; *w.work < 0 {
				return false
			}
			y[u] = int(n)
			if vars := b.vars[u]; len(vars) == 1 && w.p.Vars[vars[0]].Bars(y[u]) {
				continue
			}
			if w.eachFrom(u+1, b, rows, known, y, do) {
				return true
			}
		}
	}
	return false
}

// alive says whether the chain goes on, onward or back, from steps of a block to its end.
func (w *walk) alive(d, block int, s []int) bool {
	p := w.next[d][block]
	if p == nil {
		return true
	}
	place := w.blocks[block].place(s)
	if known, is := p.seen.get(place); known {
		return is
	}
	is := w.cross(p, d, block, s)
	if *w.work >= 0 {
		p.seen.set(place, is)
	}
	return is
}

// cross goes over a passage from steps of a block to where the chain goes on; the passage is then there.
func (w *walk) cross(p *passage, d, block int, s []int) bool {
	for u, n := range s {
		p.known[u] = float64(n)
	}
	for k := range p.crossings {
		p.known[len(s)+k] = bending(p.crossings[k].bends[0], s)
	}
	return w.each(p.to, p.rows, p.known, p.at, func() bool { return p.keeps(len(s)) && w.alive(d, block+1-2*d, p.at) })
}

// keeps says whether crossings that are bent by the block they go to hold where the passage has come to, from so many
// unknowns.
func (p *passage) keeps(from int) bool {
	for k := range p.crossings {
		c := &p.crossings[k]
		if len(c.bends[1]) == 0 {
			continue
		}
		v := p.known[from+k] + bending(c.bends[1], p.at) + dot(c.factors[1], p.at)
		for u, f := range c.factors[0] {
			v += f * p.known[u]
		}
		if v < c.lo || v > c.hi {
			return false
		}
	}
	return true
}

// retrace is the point that a walk has found, from steps of the block that it began with.
func (w *walk) retrace(from int, s []int) Steps {
	out, enough := make(Steps, len(w.p.Vars)), math.MaxInt
	w.work = &enough // it goes where it has been
	w.give(from, s, out)
	for d := range w.next {
		for b, at := from, s; w.next[d][b] != nil; b += 1 - 2*d {
			w.cross(w.next[d][b], d, b, at)
			at = slices.Clone(w.next[d][b].at)
			w.give(b+1-2*d, at, out)
		}
	}
	return out
}

// give sets the variables of a block by its unknowns. A sum is dealt out as evenly as the ranges let it.
func (w *walk) give(block int, at []int, out Steps) {
	for u, vars := range w.blocks[block].vars {
		rest := at[u]
		for k, j := range vars {
			least, most := rest, rest // with the others as far as they go
			for _, other := range vars[k+1:] {
				least, most = least-w.hi[other], most-w.lo[other]
			}
			even := int(math.Round(float64(rest) / float64(len(vars)-k)))
			out[j] = min(max(even, w.lo[j], least), w.hi[j], most)
			rest -= out[j]
		}
	}
}

// places is how many places the unknowns may be in.
func (b *walkBlock) places() float64 {
	n := 1.0
	for u := range b.lo {
		n *= float64(b.hi[u] - b.lo[u] + 1)
	}
	return n
}

// place numbers where the unknowns are.
func (b *walkBlock) place(s []int) uint64 {
	var n uint64
	for u, v := range s {
		n = n*uint64(b.hi[u]-b.lo[u]+1) + uint64(v-b.lo[u])
	}
	return n
}

// seenSteps keeps of each place whether the chain goes on from it.
type seenSteps struct {
	dense  []int8 // 0: not known, 1: it does, -1: it does not
	sparse map[uint64]bool
}

// fewPlaces is up to where each place has a byte.
const fewPlaces = 1 << 18

func newSeenSteps(b *walkBlock) seenSteps {
	if n := b.places(); n <= fewPlaces {
		return seenSteps{dense: make([]int8, int(n))}
	}
	return seenSteps{sparse: map[uint64]bool{}}
}

func (s *seenSteps) get(place uint64) (known, is bool) {
	if s.dense != nil {
		return s.dense[place] != 0, s.dense[place] > 0
	}
	is, known = s.sparse[place]
	return known, is
}

func (s *seenSteps) set(place uint64, is bool) {
	switch {
	case s.dense == nil:
		s.sparse[place] = is
	case is:
		s.dense[place] = 1
	default:
		s.dense[place] = -1
	}
}
