package socp

import "math"

// An orthogonal is the work space that brings V = W⁻¹ G to triangular form by
// plane rotations, row by row: V = Q R. Then V'V = R'R without forming it, and
// R' is the factor L to twice the digits that Cholesky keeps. Rows come in the
// order of their first column, so that a row leaves the band of R soon and the
// work stays in proportion to the rows.
type orthogonal struct {
	at   []int     // entry (i, j) of R is val[at[i]+j], i ≤ j
	last []int     // last column of row i that can be filled
	end  []int     // columns of row i filled so far, i ≤ j < end[i]; 0 for none
	val  []float64 // R
	row  []float64 // the row on its way in, by column
	norm []float64 // square of the length of each column of V
}

// factorize sets f to R'.
func (q *orthogonal) factorize(l *layout, f *factor, v []float64) {
	q.prepare(l, f)
	lin, k := 0, l.lin
	for lin < l.lin || k < l.cones {
		if k == l.cones || lin < l.lin && l.cols[l.colAt[lin]] <= l.cols[l.colAt[k]] {
			q.cone(l, lin, v)
			lin++
		} else {
			q.cone(l, k, v)
			k++
		}
	}
	for i, first := range f.first {
		row := f.at[i]
		for j := first; j < i; j++ {
			if i < q.end[j] {
				f.val[row+j] = q.val[q.at[j]+i]
			} else {
				f.val[row+j] = 0
			}
		}
		f.val[row+i] = 0
		if q.end[i] > 0 {
			if d := q.val[q.at[i]+i]; d*d > noise*noise*q.norm[i] {
				f.val[row+i] = 1 / d
			}
		}
	}
}

func (q *orthogonal) prepare(l *layout, f *factor) {
	q.at, q.last = resize(q.at, l.n), resize(q.last, l.n)
	q.row, q.norm, q.end = zeros(q.row, l.n), zeros(q.norm, l.n), zeros(q.end, l.n)
	for i := range q.last {
		q.last[i] = i
	}
	for j, first := range f.first {
		q.last[first] = max(q.last[first], j)
	}
	size := 0
	for i := range q.last {
		if i > 0 {
			q.last[i] = max(q.last[i], q.last[i-1])
		}
		q.at[i] = size - i
		size += q.last[i] - i + 1
	}
	q.val = resize(q.val, size)
}

// cone rotates the rows of a cone in.
func (q *orthogonal) cone(l *layout, k int, v []float64) {
	d := l.row[k+1] - l.row[k]
	cols := l.cols[l.colAt[k]:l.colAt[k+1]]
	for r := range d {
		e := l.valAt[k] + r
		for _, j := range cols {
			q.row[j] = v[e]
			q.norm[j] += v[e] * v[e]
			e += d
		}
		q.rotate(cols[0], cols[len(cols)-1]+1)
	}
}

// rotate takes in q.row, filled from first to end-1, and leaves it zero.
func (q *orthogonal) rotate(first, end int) {
	for i := first; i < end; i++ {
		b := q.row[i]
		if b == 0 {
			continue
		}
		if q.end[i] == 0 {
			q.end[i] = end
			copy(q.val[q.at[i]+i:q.at[i]+end], q.row[i:end])
			clear(q.row[i:end])
			return
		}
		if grown := q.end[i]; grown < end {
			clear(q.val[q.at[i]+grown : q.at[i]+end])
			q.end[i] = end
		} else {
			end = grown
		}
		r, y := q.val[q.at[i]+i:q.at[i]+end], q.row[i:end]
		a := r[0]
		h := math.Sqrt(a*a + b*b)
		cos, sin := a/h, b/h
		r[0], y[0] = h, 0
		for j := 1; j < len(r) && j < len(y); j++ {
			u, v := r[j], y[j]
			r[j] = cos*u + sin*v
			y[j] = cos*v - sin*u
		}
	}
}
