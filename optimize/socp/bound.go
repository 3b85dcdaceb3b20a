package socp

import "math"

// ulp is twice the unit roundoff. A sum of m products, added in any order, is
// off by at most m u/(1 − m u) Σ|a_i b_i|, u = ulp/2 (Higham, Accuracy and
// Stability of Numerical Algorithms, 2nd edition 2002, section 3.1). Where ulp
// stands for u and m is counted a little high, the rounding of Σ|a_i b_i| itself
// and of the few operations after it is covered too, for any m below 10⁹.
const ulp = 0x1p-52

// tiny is more than all that underflow can take from the sums of a program.
const tiny = 1e-290

// push sets y to z·f moved into K: a negative half-line to 0, a second-order
// cone by raising its head to no less than the length of its tail, however the
// length was rounded.
func (l *layout) push(y, z []float64, f float64) {
	for k := range l.lin {
		y[k] = math.Max(0, z[k]*f)
	}
	for k := l.lin; k < l.cones; k++ {
		at, end := l.row[k], l.row[k+1]
		sum, largest := 0.0, 0.0
		for i := at + 1; i < end; i++ {
			y[i] = z[i] * f
			sum += y[i] * y[i]
			largest = math.Max(largest, math.Abs(y[i]))
		}
		d := float64(end - at)
		length := math.Sqrt(sum) * (1 + (d+4)*ulp)
		if largest < 1e-140 { // the squares may have vanished
			length = largest * d
		}
		y[at] = math.Max(z[at]*f, length)
	}
}

// certify evaluates −h'z − Σ |w c_j + (G'z)_j| b_j for the layout and a z in K,
// w = 1 for a bound on the optimum and 0 for a ray, and takes off more than
// every rounding error. The result is a true lower bound, or a true sign; NaN
// never, -Inf where nothing can be said. r and size are work space of n.
func (l *layout) certify(z []float64, w float64, r, size []float64) float64 {
	for j, c := range l.c {
		r[j] = w * c
		size[j] = math.Abs(r[j])
	}
	value, total := 0.0, 0.0
	for k := range l.cones {
		at, d := l.row[k], l.row[k+1]-l.row[k]
		for i := at; i < at+d; i++ {
			p := l.h[i] * z[i]
			value -= p
			total += math.Abs(p)
		}
		cols, e := l.cols[l.colAt[k]:l.colAt[k+1]], l.valAt[k]
		if d == 1 {
			v := z[at]
			if v == 0 {
				continue
			}
			for q, j := range cols {
				p := l.g[e+q] * v
				r[j] += p
				size[j] += math.Abs(p)
			}
			continue
		}
		z := z[at : at+d]
		for _, j := range cols {
			sum, abs := 0.0, 0.0
			for i, a := range l.g[e : e+d] {
				p := a * z[i]
				sum += p
				abs += math.Abs(p)
			}
			r[j] += sum
			size[j] += abs
			e += d
		}
	}
	terms := float64(l.m + 4) // no column has more
	paid := 0.0
	for j, b := range l.bound {
		if size[j] == 0 {
			continue // 0 exactly, also against an infinite bound
		}
		paid += (math.Abs(r[j]) + terms*ulp*size[j] + tiny) * b
	}
	paid *= 1 + float64(l.n+4)*ulp
	bound := value - terms*ulp*total - paid
	bound -= 4*ulp*(math.Abs(value)+paid) + tiny
	if math.IsNaN(bound) || math.IsInf(bound, 1) {
		return math.Inf(-1)
	}
	return bound
}
