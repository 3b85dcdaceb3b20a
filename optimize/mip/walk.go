package mip

import (
	"cmp"
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

// A walkRow says lo ≤ s·known + y·unknown ≤ hi.
type walkRow struct {
	s, y   []float64
	lo, hi float64
	size   float64 // of what is added up, at most: what rounding errors are a share of
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
	// mostUnknowns is how many unknowns a block may have, mostPlaces in how many places they may be.
	mostUnknowns, mostPlaces = 4, 1 << 60
	// mostCombined is how many rows that follow from two are kept for an unknown.
	mostCombined = 12
)

// newWalk prepares a walk; nil: the chain can't be walked by this way.
func (p *Problem) newWalk(way int, lo, hi Steps, use float64) *walk {
	w := &walk{p: p, lo: lo, hi: hi, of: make([]int, len(p.Vars))}
	n := p.Vars[len(p.Vars)-1].Block + 1
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
	for n := math.Ceil(lo); n <= hi; n++ {
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
