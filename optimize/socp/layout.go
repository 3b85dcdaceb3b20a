package socp

import (
	"math"
	"slices"
)

// A layout is a program as the iteration wants it: half-lines first, then
// second-order cones, each group in the order of its first column; empty
// columns and cones left out; scaled by powers of two, one factor for each cone,
// each column, the whole cost and the whole right-hand side. Such scaling
// rounds nothing, so that a bound on the layout is a bound on the program, as
// long as no number of it is some 10^200 times smaller than its neighbours.
//
//	G = 2^-(row + col) G',  h = 2^(size − row) h',  c = 2^(price − col) c'
//	x = 2^(size + col) x',  s = 2^(size − row) s',  z = 2^(price + row) z'
type layout struct {
	n, m, lin, cones int // columns, rows, half-lines, all cones

	column []int // program column of each column
	place  []int // first program row of each cone
	row    []int // first row of each cone, cones+1 values
	cols   []int // columns of each cone, ascending: colAt[k] to colAt[k+1]-1
	colAt  []int
	valAt  []int     // first value of each cone
	g      []float64 // values of a cone, column by column, each of the cone's dimension

	c, h, bound    []float64 // c', h', b'
	rowExp, colExp []int     // row (by cone), col
	size, price    int
	rowTol, colTol []float64 // the exit tests' right-hand sides, scaled like s' and c'

	// Work space of arrange.
	index, mark, count, first, order []int
}

// maxExp keeps every factor, and any product of three, far from overflow.
const maxExp = 200

// resize gives a slice of length n, on the same memory where that is enough.
// Its contents are anything.
func resize[T any](s []T, n int) []T {
	if cap(s) < n {
		return make([]T, n, n+n/4)
	}
	return s[:n]
}

func zeros[T any](s []T, n int) []T {
	s = resize(s, n)
	clear(s)
	return s
}

// pow2 is 2^e for |e| ≤ 1000.
func pow2(e int) float64 { return math.Float64frombits(uint64(1023+e) << 52) }

// exponent of v > 0: v·2^-exponent lies in [1/2, 1), within ±maxExp.
func exponent(v float64) int {
	e := int(math.Float64bits(v)>>52&0x7ff) - 1022
	return max(-maxExp, min(maxExp, e))
}

// arrange makes the layout of p for a tolerance t.
func (l *layout) arrange(p *Program, t float64) {
	l.sort(p)
	l.fill(p)
	l.scale()
	l.tolerances(p, t)
}

// sort decides which columns and cones stay, and in which order.
func (l *layout) sort(p *Program) {
	n := len(p.Cost)
	l.index = zeros(l.index, n) // 1 for a column in use
	l.first = resize(l.first, len(p.Cones))
	l.count = zeros(l.count, 2*n+1)
	row := 0
	l.lin, l.cones, l.m = 0, 0, 0
	for k, d := range p.Cones {
		first := n
		for e := p.Start[row]; e < p.Start[row+d]; e++ {
			if p.Val[e] != 0 {
				l.index[p.Col[e]] = 1
				first = min(first, p.Col[e])
			}
		}
		row += d
		if first == n {
			l.first[k] = -1
			continue
		}
		l.cones++
		l.m += d
		if d == 1 {
			l.lin++
		} else {
			first += n
		}
		l.first[k] = first
		l.count[first+1]++
	}
	for i := range 2 * n {
		l.count[i+1] += l.count[i]
	}
	l.order = resize(l.order, l.cones)
	l.place = resize(l.place, l.cones)
	row = 0
	for k, d := range p.Cones {
		if f := l.first[k]; f >= 0 {
			at := l.count[f]
			l.order[at], l.place[at] = k, row
			l.count[f]++
		}
		row += d
	}
	l.column = l.column[:0]
	for j, used := range l.index {
		l.index[j] = len(l.column)
		if used == 1 {
			l.column = append(l.column, j)
		}
	}
	l.n = len(l.column)
}

// free says that a column without entries has a cost: nothing bounds it.
func (l *layout) free(p *Program) bool {
	next := 0
	for j, c := range p.Cost {
		if next < l.n && l.column[next] == j {
			next++
		} else if c != 0 {
			return true
		}
	}
	return false
}

// fill copies the entries, each cone a dense block over its own columns.
func (l *layout) fill(p *Program) {
	l.row, l.colAt, l.valAt = resize(l.row, l.cones+1), resize(l.colAt, l.cones+1), resize(l.valAt, l.cones+1)
	l.cols, l.g = l.cols[:0], l.g[:0]
	l.h = resize(l.h, l.m)
	l.mark = zeros(l.mark, l.n) // one more than the place of the column in the cone
	row := 0
	for k := range l.cones {
		d, place := p.Cones[l.order[k]], l.place[k]
		at, val := len(l.cols), len(l.g)
		l.row[k], l.colAt[k], l.valAt[k] = row, at, val
		copy(l.h[row:row+d], p.H[place:place+d])
		row += d
		ascending := true
		for e := p.Start[place]; e < p.Start[place+d]; e++ {
			if p.Val[e] == 0 {
				continue
			}
			if j := l.index[p.Col[e]]; l.mark[j] == 0 {
				ascending = ascending && (len(l.cols) == at || j > l.cols[len(l.cols)-1])
				l.mark[j] = 1
				l.cols = append(l.cols, j)
			}
		}
		cols := l.cols[at:]
		if !ascending {
			slices.Sort(cols)
		}
		for q, j := range cols {
			l.mark[j] = val + q*d
			for range d {
				l.g = append(l.g, 0)
			}
		}
		for r := range d {
			for e := p.Start[place+r]; e < p.Start[place+r+1]; e++ {
				if p.Val[e] != 0 {
					l.g[l.mark[l.index[p.Col[e]]]+r] = p.Val[e]
				}
			}
		}
		for _, j := range cols {
			l.mark[j] = 0
		}
	}
	l.row[l.cones], l.colAt[l.cones], l.valAt[l.cones] = row, len(l.cols), len(l.g)
	l.c, l.bound = resize(l.c, l.n), resize(l.bound, l.n)
	for j, user := range l.column {
		l.c[j], l.bound[j] = p.Cost[user], p.Bound[user]
	}
}

// scale brings the largest entry of every cone and column near 1 and the
// largest cost and right-hand side into [1/2, 1).
func (l *layout) scale() {
	l.rowExp, l.colExp = zeros(l.rowExp, l.cones), zeros(l.colExp, l.n)
	top := resize(l.colTol, l.n)
	l.colTol = top
	const passes = 2
	for pass := range passes {
		clear(top)
		for k := range l.cones {
			at, d := l.colAt[k], l.row[k+1]-l.row[k]
			largest := 0.0
			for q, j := range l.cols[at:l.colAt[k+1]] {
				v := maxAbs(l.g[l.valAt[k]+q*d:][:d]) * pow2(l.colExp[j])
				largest = max(largest, v)
			}
			l.rowExp[k] = -exponent(largest)
			f := pow2(l.rowExp[k])
			for q, j := range l.cols[at:l.colAt[k+1]] {
				v := maxAbs(l.g[l.valAt[k]+q*d:][:d]) * pow2(l.colExp[j]) * f
				top[j] = math.Max(top[j], v)
			}
		}
		if pass < passes-1 {
			for j, v := range top {
				l.colExp[j] = max(-maxExp, min(maxExp, l.colExp[j]-exponent(v)))
			}
		}
	}
	largest := 0.0
	for k := range l.cones {
		d := l.row[k+1] - l.row[k]
		f := pow2(l.rowExp[k])
		for q, j := range l.cols[l.colAt[k]:l.colAt[k+1]] {
			fj := f * pow2(l.colExp[j])
			block := l.g[l.valAt[k]+q*d:][:d]
			for r := range block {
				block[r] *= fj
			}
		}
		h := l.h[l.row[k]:l.row[k+1]]
		for r := range h {
			h[r] *= f
		}
		largest = math.Max(largest, maxAbs(h))
	}
	l.size, l.price = 0, 0
	if largest > 0 {
		l.size = exponent(largest)
	}
	largest = 0
	for j := range l.c {
		l.c[j] *= pow2(l.colExp[j])
		largest = math.Max(largest, math.Abs(l.c[j]))
	}
	if largest > 0 {
		l.price = exponent(largest)
	}
	for i := range l.h {
		l.h[i] *= pow2(-l.size)
	}
	for j := range l.c {
		l.c[j] *= pow2(-l.price)
		l.bound[j] *= pow2(-l.size) * pow2(-l.colExp[j])
	}
}

// tolerances puts the exit tests of Settings.Tolerance into the layout's scale.
func (l *layout) tolerances(p *Program, t float64) {
	l.rowTol, l.colTol = resize(l.rowTol, l.cones), resize(l.colTol, l.n)
	for k := range l.cones {
		d := l.row[k+1] - l.row[k]
		h := maxAbs(p.H[l.place[k]:][:d])
		l.rowTol[k] = t * math.Max(1, h) * pow2(l.rowExp[k]) * pow2(-l.size)
	}
	c := math.Max(1, maxAbs(p.Cost))
	for j := range l.colTol {
		l.colTol[j] = t * c * pow2(l.colExp[j]) * pow2(-l.price)
	}
}

func maxAbs(v []float64) float64 {
	a := 0.0
	for _, v := range v {
		if v = math.Abs(v); v > a {
			a = v
		}
	}
	return a
}
