package socp

import "math"

// A factor is a lower triangular L with L L' = V'V, V = W⁻¹ G, row by row within
// its envelope: row i from its first entry to the diagonal. Cholesky and
// orthogonal factors both end here.
type factor struct {
	first []int     // column of the first entry of a row
	at    []int     // entry (i, j) is val[at[i]+j], first[i] ≤ j ≤ i
	val   []float64 // the diagonal holds its reciprocal, 0 where the pivot vanished
}

// envelope lays out L: no entry left of the first column that shares a cone
// with the row's own.
func (f *factor) envelope(l *layout) {
	f.first, f.at = resize(f.first, l.n), resize(f.at, l.n)
	for i := range f.first {
		f.first[i] = i
	}
	for k := range l.cones {
		cols := l.cols[l.colAt[k]:l.colAt[k+1]]
		for _, j := range cols {
			f.first[j] = min(f.first[j], cols[0])
		}
	}
	size := 0
	for i, first := range f.first {
		f.at[i] = size - first
		size += i - first + 1
	}
	f.val = resize(f.val, size)
}

// normal sets the lower triangle of V'V.
func (f *factor) normal(l *layout, v []float64) {
	clear(f.val)
	for k := range l.lin {
		at, end := l.colAt[k], l.colAt[k+1]
		cols, v := l.cols[at:end], v[at:end]
		for p, j := range cols {
			vp := v[p]
			row := f.at[j]
			for q := 0; q <= p; q++ {
				f.val[row+cols[q]] += vp * v[q]
			}
		}
	}
	for k := l.lin; k < l.cones; k++ {
		cols, v, d := l.cols[l.colAt[k]:l.colAt[k+1]], v[l.valAt[k]:l.valAt[k+1]], l.row[k+1]-l.row[k]
		for p, j := range cols {
			row := f.at[j]
			if d == 3 {
				a := v[3*p : 3*p+3]
				a0, a1, a2 := a[0], a[1], a[2]
				for q := 0; q <= p; q++ {
					b := v[3*q : 3*q+3]
					f.val[row+cols[q]] += a0*b[0] + a1*b[1] + a2*b[2]
				}
				continue
			}
			a := v[p*d : (p+1)*d]
			for q := 0; q <= p; q++ {
				f.val[row+cols[q]] += dot(a, v[q*d:(q+1)*d])
			}
		}
	}
}

// noise is the share of a diagonal entry below which what is left of it after
// elimination is rounding error only.
const noise = 4 * 0x1p-53

// cholesky factors V'V in place. A pivot that vanishes stands for a direction
// that no row sees; its unknown becomes 0.
func (f *factor) cholesky() {
	for i, fi := range f.first {
		row := f.val[f.at[i]+fi : f.at[i]+i+1]
		for j := fi; j < i; j++ {
			fj := f.first[j]
			from := max(fi, fj)
			other := f.val[f.at[j]+from : f.at[j]+j+1]
			n := j - from
			row[j-fi] = (row[j-fi] - dot(other[:n], row[from-fi:])) * other[n]
		}
		last := i - fi
		diagonal := row[last]
		pivot := diagonal - dot(row[:last], row)
		if pivot > noise*diagonal {
			row[last] = 1 / math.Sqrt(pivot)
		} else {
			row[last] = 0
		}
	}
}

// solve overwrites x by (L L')⁻¹ x.
func (f *factor) solve(x []float64) {
	for i, fi := range f.first {
		row := f.val[f.at[i]+fi : f.at[i]+i+1]
		n := i - fi
		x[i] = (x[i] - dot(row[:n], x[fi:])) * row[n]
	}
	for i := len(f.first) - 1; i >= 0; i-- {
		fi := f.first[i]
		row := f.val[f.at[i]+fi : f.at[i]+i+1]
		n := i - fi
		v := x[i] * row[n]
		x[i] = v
		y := x[fi:i]
		for j, a := range row[:len(y)] {
			y[j] -= v * a
		}
	}
}

// dot is the sum of a_i b_i; b may be longer than a.
func dot(a, b []float64) float64 {
	b = b[:len(a)]
	var s, t float64
	for len(a) >= 4 && len(b) >= 4 {
		s += a[0]*b[0] + a[1]*b[1]
		t += a[2]*b[2] + a[3]*b[3]
		a, b = a[4:], b[4:]
	}
	for i, v := range a {
		s += v * b[i]
	}
	return s + t
}
