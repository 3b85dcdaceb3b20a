package mip

import (
	"cmp"
	"math"
	"slices"
)

// This file has the rows that a walk along a chain goes by, in the unknowns of its blocks.

// A walkRow says lo ≤ s·known + y·unknown ≤ hi.
type walkRow struct {
	s, y   []float64
	lo, hi float64
	size   float64 // of what is added up, at most: what rounding errors are a share of
}

// A crossing is a row between two blocks: lo ≤ Σ factors·unknowns + what bends it ≤ hi. The block that a passage
// comes from is first.
type crossing struct {
	factors [2][]float64
	bends   [2][]walkBend
	lo, hi  float64
	size    float64
}

// A walkBend adds by times the product of two turns of a block to a row.
type walkBend struct {
	by   float64
	a, b *spread
}

// A spread is an affine function of the unknowns of some blocks, give or take a range.
type spread struct {
	factors    [][]float64 // of each block
	middle, by float64     // the constant, and the range
	size       float64     // of all that is added up, at most
	most       float64     // of the size of the sum itself
}

const (
	// walkRounding is the share of all that was added up by which a row of a walk is widened: far more than some
	// thousand sums are off.
	walkRounding = 1e-10
	// alike is the share by which factors that count as the same may differ. What that makes is added to the row.
	alike = 1e-6
	// mostCombined is how many rows that follow from two are kept for an unknown.
	mostCombined = 12
)

// A spokenRow is a row that hangs on variables of the way, of one block or of two beside each other.
type spokenRow struct {
	*Row
	room        float64 // how long it may be
	first, last int     // blocks
}

// spoken are the rows that hang on variables of the way, with the room that a use leaves to each by itself.
func (w *walk) spoken(use float64) []spokenRow {
	var out []spokenRow
	for i := range w.p.Limits {
		l := &w.p.Limits[i]
		radius := l.Radius
		if l.Shared {
			radius *= use
		}
		for k := range l.Rows {
			r := spokenRow{Row: &l.Rows[k], room: radius, first: math.MaxInt, last: -1}
			for _, t := range r.Terms {
				if w.of[t.Var] >= 0 {
					block := w.p.Vars[t.Var].Block
					r.first, r.last = min(r.first, block), max(r.last, block)
				}
			}
			if r.last >= 0 && r.last <= r.first+1 {
				out = append(out, r)
			}
		}
	}
	return out
}

// sameFactors says whether two columns of factors hardly differ.
func sameFactors(a, b []float64) bool {
	for k := range a {
		if math.Abs(a[k]-b[k]) > alike*math.Max(math.Abs(a[k]), math.Abs(b[k])) {
			return false
		}
	}
	return true
}

// spread is a row by the unknowns of some blocks, all else with its range.
func (w *walk) spread(r *Row, blocks ...int) *spread {
	out := &spread{size: math.Abs(r.Constant)}
	low, high := r.Constant, r.Constant
	count := func(j int, c float64) { // with its range
		x, y := c*float64(w.lo[j]), c*float64(w.hi[j])
		low, high = low+math.Min(x, y), high+math.Max(x, y)
	}
	factor := map[int]float64{}
	for _, t := range r.Terms {
		j, c := t.Var, t.Coefficient*w.p.Vars[t.Var].Step
		out.size += math.Abs(c) * math.Max(math.Abs(float64(w.lo[j])), math.Abs(float64(w.hi[j])))
		if w.of[j] < 0 || !slices.Contains(blocks, w.p.Vars[j].Block) {
			count(j, c)
			continue
		}
		factor[j] += c
	}
	var least, greatest float64
	for _, block := range blocks {
		b := w.blocks[block]
		factors := make([]float64, len(b.vars))
		for u, vars := range b.vars {
			c := factor[vars[0]]
			for _, j := range vars {
				count(j, factor[j]-c)
			}
			factors[u] = c
			x, y := c*float64(b.lo[u]), c*float64(b.hi[u])
			least, greatest = least+math.Min(x, y), greatest+math.Max(x, y)
		}
		out.factors = append(out.factors, factors)
	}
	out.middle, out.by = low/2+high/2, high/2-low/2+walkRounding*out.size
	out.most = math.Max(math.Abs(least+out.middle), math.Abs(greatest+out.middle))
	return out
}

// at is a spread of one block, without its range.
func (s *spread) at(x []int) float64 { return s.middle + dot(s.factors[0], x) }

func dot(factors []float64, x []int) float64 {
	var sum float64
	for u, c := range factors {
		sum += c * float64(x[u])
	}
	return sum
}

// take adds a row by the unknowns of its blocks. One of which too little is known to say anything is left out.
func (w *walk) take(r *spokenRow, crossings [][]crossing) {
	room, bends := w.bent(r)
	if math.IsInf(room, 1) {
		return
	}
	if r.first == r.last {
		f := w.spread(r.Row, r.first)
		room += f.by + walkRounding*(f.size+room)
		b := w.blocks[r.first]
		b.within = append(b.within, walkRow{y: f.factors[0], lo: -room - f.middle, hi: room - f.middle, size: f.size + room})
		return
	}
	f := w.spread(r.Row, r.first, r.last)
	room += f.by + walkRounding*(f.size+room)
	c := crossing{bends: bends, lo: -room - f.middle, hi: room - f.middle, size: f.size + room}
	copy(c.factors[:], f.factors)
	crossings[r.first] = append(crossings[r.first], c)
}

// bent is the room of a row with what it may be off, and what bends it by the unknowns of its first and its last block:
// products of two turns of a block of which it is known what they count. +Inf where nothing is known of the row.
func (w *walk) bent(r *spokenRow) (room float64, bends [2][]walkBend) {
	room = r.room
	if len(r.Off) == 0 {
		return room, bends
	}
	c := holding(r.Off, w.most)
	if c == nil {
		return math.Inf(1), bends
	}
	off := c.Fixed
	for _, b := range c.Sum {
		if b.B < 0 {
			off += b.By * w.most[b.A]
			continue
		}
		whole := b.By * w.most[b.A] * w.most[b.B]
		block := w.turnsOf(b.A, b.B)
		end := slices.Index([]int{r.first, r.last}, block)
		if r.first == r.last || end < 0 || whole == 0 || math.Abs(b.Mean) < b.By/2 {
			off += whole
			continue
		}
		x := walkBend{b.Mean, w.spread(&w.p.Turns[b.A], block), w.spread(&w.p.Turns[b.B], block)}
		// What is left beside the mean, and the ranges of both turns.
		off += (b.By - math.Abs(b.Mean)) * w.most[b.A] * w.most[b.B]
		off += math.Abs(b.Mean) * (x.a.by*x.b.most + x.b.by*x.a.most + x.a.by*x.b.by)
		bends[end] = append(bends[end], x)
	}
	return room + off*(1+padded), bends
}

// turnsOf is the block whose variables both of two turns hang on; -1: there is none.
func (w *walk) turnsOf(a, b int) int {
	block := -1
	for _, turn := range [2]int{a, b} {
		for _, t := range w.p.Turns[turn].Terms {
			is := w.p.Vars[t.Var].Block
			if block >= 0 && block != is {
				return -1
			}
			block = is
		}
	}
	return block
}

// bending is what bends come to where the unknowns are.
func bending(bends []walkBend, x []int) float64 {
	var sum float64
	for i := range bends {
		sum += bends[i].by * bends[i].a.at(x) * bends[i].b.at(x)
	}
	return sum
}

// newPassage is the way from a block to the one beside it; back says that the crossings go the other way.
func newPassage(from, to *walkBlock, crossings []crossing, back bool) *passage {
	n := len(from.vars)
	p := &passage{
		to: to, known: make([]float64, n+len(crossings)), seen: newSeenSteps(from), at: make([]int, len(to.vars)),
		crossings: slices.Clone(crossings),
	}
	rows := to.own(len(p.known))
	for k := range p.crossings {
		c := &p.crossings[k]
		if back {
			slices.Reverse(c.factors[:])
			slices.Reverse(c.bends[:])
		}
		var bent float64 // by the block it goes to, at most
		for _, b := range c.bends[1] {
			bent += math.Abs(b.by) * b.a.most * b.b.most
		}
		s := make([]float64, len(p.known))
		copy(s, c.factors[0])
		s[n+k] = 1
		rows = append(rows, walkRow{s: s, y: c.factors[1], lo: c.lo - bent, hi: c.hi + bent, size: c.size + bent})
	}
	p.rows = eliminated(to, rows)
	return p
}

// own are the rows of a block by itself, and the ranges of its unknowns, beside so many known numbers.
func (b *walkBlock) own(known int) []walkRow {
	s := make([]float64, known)
	var out []walkRow
	for _, r := range b.within {
		r.s = s
		out = append(out, r)
	}
	for u := range b.vars {
		r := walkRow{s: s, y: make([]float64, len(b.vars)), lo: float64(b.lo[u]), hi: float64(b.hi[u])}
		r.y[u], r.size = 1, math.Max(math.Abs(r.lo), math.Abs(r.hi))
		out = append(out, r)
	}
	return out
}

// eliminated are, for each unknown of a block, rows of it, of those before it and of what is known. They are the rows
// given, and what follows from two of them without a later unknown (Fourier and Motzkin), as far as that leaves little.
func eliminated(b *walkBlock, rows []walkRow) [][]walkRow {
	out := make([][]walkRow, len(b.vars))
	for u := len(out) - 1; u >= 0; u-- {
		var next, combined []walkRow
		for i := range rows {
			if rows[i].y[u] == 0 {
				next = append(next, rows[i])
				continue
			}
			out[u] = append(out[u], rows[i])
			for k := i + 1; k < len(rows); k++ {
				if r, ok := without(&rows[i], &rows[k], u); ok {
					combined = append(combined, r)
				}
			}
		}
		slices.SortStableFunc(combined, func(a, b walkRow) int { return cmp.Compare(a.slack(), b.slack()) })
		rows = append(next, combined[:min(len(combined), mostCombined)]...)
	}
	return out
}

// slack is how far a row leaves the last of its unknowns free, in steps.
func (r *walkRow) slack() float64 {
	for u := len(r.y) - 1; u >= 0; u-- {
		if r.y[u] != 0 {
			return (r.hi - r.lo) / math.Abs(r.y[u])
		}
	}
	return math.Inf(1)
}

// without is what follows from two rows without an unknown; false where nothing of use does.
func without(f, g *walkRow, u int) (walkRow, bool) {
	if g.y[u] == 0 {
		return walkRow{}, false
	}
	by := g.y[u] / f.y[u]
	r := walkRow{s: make([]float64, len(f.s)), y: make([]float64, len(f.y)), size: g.size + math.Abs(by)*f.size}
	for i := range r.s {
		r.s[i] = g.s[i] - by*f.s[i]
	}
	some := false
	for i := range r.y {
		if i == u {
			continue
		}
		r.y[i] = g.y[i] - by*f.y[i]
		if r.y[i] != 0 && math.Abs(r.y[i]) <= alike*(math.Abs(g.y[i])+math.Abs(by*f.y[i])) {
			return walkRow{}, false // as good as parallel
		}
		some = some || r.y[i] != 0
	}
	lo, hi := by*f.lo, by*f.hi
	r.lo, r.hi = g.lo-math.Max(lo, hi)-walkRounding*r.size, g.hi-math.Min(lo, hi)+walkRounding*r.size
	return r, some
}
