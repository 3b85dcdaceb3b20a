package bnb

import (
	"math"

	"leastmove/optimize/mip"
)

// compile writes the cone program of a box. It returns a limit without free
// variables that is exceeded, so that nothing in the box is feasible, or -1.
func (r *relaxer) compile(lo, hi mip.Steps) (broken int) {
	r.columns(lo, hi)
	r.loosen(lo, hi)
	p := &r.program
	p.Cones, p.Start, p.Col, p.Val, p.H = p.Cones[:0], append(p.Start[:0], 0), p.Col[:0], p.Val[:0], p.H[:0]
	for j, v := range r.l.Vars {
		c := r.x[j]
		if c < 0 {
			continue
		}
		r.half(v.Step*float64(hi[j]), c, 1)
		r.half(-v.Step*float64(lo[j]), c, -1)
		if t := r.t[j]; t >= 0 {
			r.half2(0, c, 1, t, -1)
			r.half2(0, c, -1, t, -1)
		}
	}
	for i := range r.l.Limits {
		if !r.cone(i) {
			return i
		}
	}
	if r.goal.LeastUse {
		r.chain()
	}
	return -1
}

// loosen works out what each limit's rows may be off in a box.
func (r *relaxer) loosen(lo, hi mip.Steps) { r.loose = r.l.Loose(lo, hi) }

// columns numbers the free variables block by block, absolute values first:
// each is tied to its own variable only, so the factor stays narrow.
func (r *relaxer) columns(lo, hi mip.Steps) {
	p := &r.program
	p.Cost, p.Bound = p.Cost[:0], p.Bound[:0]
	r.offset = 0
	column := func(cost, bound float64) int {
		p.Cost, p.Bound = append(p.Cost, cost), append(p.Bound, bound)
		return len(p.Cost) - 1
	}
	capped := r.goal.LeastUse && !math.IsInf(r.goal.Cap, 1)
	vars := r.l.Vars
	if len(vars) == 0 && r.goal.LeastUse {
		r.use[0], r.total[0] = column(1, r.mostUse()), -1
	}
	for first := 0; first < len(vars); {
		block, last := vars[first].Block, first
		for last < len(vars) && vars[last].Block == block {
			last++
		}
		fixed, extra := r.fixedCost(block, lo, hi)
		r.paid[block] = fixed
		if !r.goal.LeastUse {
			r.offset += fixed
		}
		weight := func(j int) float64 {
			if r.goal.LeastUse {
				return 0
			}
			return vars[j].Weight + extra(j)
		}
		slope := func(j int) float64 {
			if r.goal.LeastUse {
				return 0
			}
			return vars[j].Slope
		}
		for j := first; j < last; j++ {
			r.x[j], r.t[j] = -1, -1
			both := lo[j] < 0 && hi[j] > 0
			if both && vars[j].Weight > 0 && (capped || !r.goal.LeastUse) {
				r.t[j] = column(weight(j), vars[j].Step*float64(max(-lo[j], hi[j])))
			}
		}
		for j := first; j < last; j++ {
			if lo[j] == hi[j] {
				r.fixed[j] = vars[j].Step * float64(lo[j])
				r.offset += weight(j)*math.Abs(r.fixed[j]) + slope(j)*r.fixed[j]
				continue
			}
			cost := slope(j)
			if r.t[j] < 0 {
				r.sign[j] = 1
				if hi[j] <= 0 {
					r.sign[j] = -1
				}
				cost += weight(j) * r.sign[j]
			}
			r.low[j], r.high[j] = vars[j].Step*float64(lo[j]), vars[j].Step*float64(hi[j])
			r.x[j] = column(cost, vars[j].Step*float64(max(-lo[j], hi[j])))
		}
		r.use[block], r.total[block] = -1, -1
		if r.goal.LeastUse {
			if capped {
				r.total[block] = column(0, r.goal.Cap)
			}
			last := 0.0
			if block == r.blocks-1 {
				last = 1
			}
			r.use[block] = column(last, r.mostUse())
		}
		first = last
	}
}

// fixedCost is what moving a block adds to the cost: all of it where the block cannot
// stay as it is. Otherwise the cost is spread over the weights: with
// each variable's far end at an equal share, which no point pays too much for.
func (r *relaxer) fixedCost(block int, lo, hi mip.Steps) (all float64, extra func(j int) float64) {
	extra = func(int) float64 { return 0 }
	if len(r.l.FixedCost) == 0 {
		return 0, extra
	}
	fixed, free := r.l.FixedCost[block], 0
	if r.l.moved(block, lo, hi) {
		return fixed, extra
	}
	for j := r.l.first[block]; j < r.l.first[block+1]; j++ {
		if lo[j] < hi[j] {
			free++
		}
	}
	return 0, func(j int) float64 {
		if lo[j] == hi[j] {
			return 0
		}
		return fixed / float64(free) / (r.l.Vars[j].Step * float64(max(-lo[j], hi[j])))
	}
}

// mostUse is the goal's, or one beyond all that is met: bounds need an end.
func (r *relaxer) mostUse() float64 { return math.Min(r.goal.MostUse, 1e9) }

// chain ties the blocks together where the use is to be least: a running use
// that never falls from block to block, and a running cost that ends under the
// cap. Both keep every row within neighbouring blocks.
func (r *relaxer) chain() {
	vars := r.l.Vars
	for b := range r.blocks {
		if b > 0 {
			r.half2(0, r.use[b-1], 1, r.use[b], -1)
		} else {
			r.half(0, r.use[b], -1)
		}
		if r.total[b] < 0 {
			continue
		}
		spent := r.paid[b] // by fixed variables too
		for j := r.l.first[b]; j < r.l.first[b+1]; j++ {
			switch w := vars[j].Weight; {
			case r.x[j] < 0:
				spent += w * math.Abs(r.fixed[j])
			case r.t[j] >= 0:
				r.entry(r.t[j], w)
			default:
				r.entry(r.x[j], w*r.sign[j])
			}
		}
		if b > 0 {
			r.entry(r.total[b-1], 1)
		}
		r.entry(r.total[b], -1)
		r.row(-spent)
		r.program.Cones = append(r.program.Cones, 1)
	}
	last := r.blocks - 1
	r.half(r.mostUse()*(1+slack), r.use[last], 1)
	r.capRow = -1
	if r.total[last] >= 0 {
		r.capRow = len(r.program.H)
		r.half(r.goal.Cap, r.total[last], 1)
	}
}

// cone writes limit i; false where it is exceeded and nothing can be done.
func (r *relaxer) cone(i int) bool {
	lim := &r.l.Limits[i]
	radius := lim.Radius
	use := -1
	if lim.Shared {
		if r.goal.LeastUse {
			use = r.use[r.l.LastBlock(lim)]
		} else {
			radius *= r.goal.Use
		}
	}
	r.limit[i], r.still[i] = -1, -1
	radius *= 1 + slack
	loose := 0.0 // beside the radius, whatever the use
	if r.loose != nil {
		if loose = r.loose[i]; math.IsInf(loose, 1) {
			return true // nothing is known of it here
		}
	}
	free, length, most := r.reach(lim)
	if use < 0 && most <= radius+loose {
		return true // holds anywhere in the box
	}
	if !free {
		if use < 0 {
			return length <= radius+loose
		}
		// use × radius + loose ≥ length
		r.still[i] = len(r.program.H)
		r.half(loose-length, use, -radius)
		return true
	}
	r.limit[i] = len(r.program.H)
	if len(lim.Rows) == 1 {
		for _, sign := range [2]float64{1, -1} {
			v := r.tail(&lim.Rows[0], sign)
			if use >= 0 {
				r.entry(use, -radius)
				r.row(loose - sign*v)
			} else {
				r.row(radius + loose - sign*v)
			}
			r.program.Cones = append(r.program.Cones, 1)
		}
		return true
	}
	if use >= 0 {
		r.entry(use, -radius)
		r.row(loose)
	} else {
		r.row(radius + loose)
	}
	for k := range lim.Rows {
		v := r.tail(&lim.Rows[k], -1)
		r.row(v)
	}
	r.program.Cones = append(r.program.Cones, 1+len(lim.Rows))
	return true
}

// reach is the length of a limit's rows with the free variables at zero, and
// the most that it can be anywhere in the box.
func (r *relaxer) reach(lim *mip.Limit) (free bool, length, most float64) {
	var square, mostSquare float64
	for _, row := range lim.Rows {
		v, up, down := row.Constant, 0.0, 0.0
		for _, t := range row.Terms {
			if r.x[t.Var] < 0 {
				v += t.Coefficient * r.fixed[t.Var]
				continue
			}
			free = true
			a, b := t.Coefficient*r.low[t.Var], t.Coefficient*r.high[t.Var]
			up += math.Max(a, b)
			down += math.Min(a, b)
		}
		square += v * v
		far := math.Max(v+up, -v-down)
		mostSquare += far * far
	}
	return free, math.Sqrt(square), math.Sqrt(mostSquare)
}

// tail enters sign × the row's free terms and returns its constant part.
func (r *relaxer) tail(row *mip.Row, sign float64) float64 {
	v := row.Constant
	for _, t := range row.Terms {
		if c := r.x[t.Var]; c >= 0 {
			r.entry(c, sign*t.Coefficient)
		} else {
			v += t.Coefficient * r.fixed[t.Var]
		}
	}
	return v
}

func (r *relaxer) entry(col int, val float64) {
	r.program.Col = append(r.program.Col, col)
	r.program.Val = append(r.program.Val, val)
}

// row closes the row of the entries so far.
func (r *relaxer) row(h float64) {
	r.program.H = append(r.program.H, h)
	r.program.Start = append(r.program.Start, len(r.program.Col))
}

// half is the half-line a·x ≤ h, half2 the one with two variables.
func (r *relaxer) half(h float64, col int, a float64) {
	r.entry(col, a)
	r.row(h)
	r.program.Cones = append(r.program.Cones, 1)
}

func (r *relaxer) half2(h float64, col int, a float64, col2 int, b float64) {
	r.entry(col, a)
	r.entry(col2, b)
	r.row(h)
	r.program.Cones = append(r.program.Cones, 1)
}
