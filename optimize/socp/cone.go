package socp

import "math"

// A scaling is the Nesterov-Todd point of s and z, cone by cone: the symmetric
// W with W z = W⁻¹ s = λ. On a half-line W = √(s/z). On a second-order cone
//
//	W = η (w0  w1'                    )    w = (w0, w1),  w0² − |w1|² = 1
//	      (w1  I + w1 w1' / (1 + w0)),    η = (det s / det z)^¼
//
// with det (t, u) = (t − |u|)(t + |u|).
type scaling struct {
	w      []float64 // rows of second-order cones: w; unused on half-lines
	inv    []float64 // by cone: 1/W or 1/η
	lambda []float64
	scale  []float64 // by cone: 1/√det λ, which is 1/λ on a half-line
	turn   []float64 // by cone: 1/(1 + w0), unused on a half-line
}

func (w *scaling) resize(l *layout) {
	w.w, w.lambda = resize(w.w, l.m), resize(w.lambda, l.m)
	w.inv, w.scale, w.turn = resize(w.inv, l.cones), resize(w.scale, l.cones), resize(w.turn, l.cones)
}

// tail is the length of u.
func tail(u []float64) float64 {
	switch len(u) {
	case 1:
		return math.Abs(u[0])
	case 2:
		return math.Sqrt(u[0]*u[0] + u[1]*u[1])
	}
	sum := 0.0
	for _, v := range u {
		sum += v * v
	}
	return math.Sqrt(sum)
}

// det of a point of a second-order cone, without the cancellation of t² − |u|².
func det(v []float64) float64 {
	u := tail(v[1:])
	return (v[0] - u) * (v[0] + u)
}

// update finds the scaling of s and z; false where one is not inside its cone.
func (w *scaling) update(l *layout, s, z []float64) bool {
	for k := range l.lin {
		if !(s[k] > 0 && z[k] > 0) {
			return false
		}
		a, b := math.Sqrt(s[k]), math.Sqrt(z[k])
		w.inv[k] = b / a
		w.lambda[k] = a * b
		w.scale[k] = 1 / w.lambda[k]
	}
	for k := l.lin; k < l.cones; k++ {
		at, end := l.row[k], l.row[k+1]
		s, z, q, lam := s[at:end], z[at:end], w.w[at:end], w.lambda[at:end]
		ds, dz := det(s), det(z)
		if !(ds > 0 && dz > 0 && s[0] > 0 && z[0] > 0) {
			return false
		}
		a, b := math.Sqrt(ds), math.Sqrt(dz)
		root := math.Sqrt(a * b)
		w.scale[k] = 1 / root
		w.inv[k] = math.Sqrt(b / a)
		a, b = 1/a, 1/b
		dot := 0.0
		for i := range s {
			dot += s[i] * a * z[i] * b
		}
		gamma := math.Sqrt((1 + dot) / 2)
		s0, z0 := s[0]*a, z[0]*b
		ls, lz := root*a*(gamma+z0)/(s0+z0+2*gamma), root*b*(gamma+s0)/(s0+z0+2*gamma)
		a, b = a/(2*gamma), b/(2*gamma)
		sum := 0.0
		for i := 1; i < len(s); i++ {
			q[i] = s[i]*a - z[i]*b
			sum += q[i] * q[i]
			lam[i] = ls*s[i] + lz*z[i]
		}
		q[0] = math.Sqrt(1 + sum)
		w.turn[k] = 1 / (1 + q[0])
		lam[0] = root * gamma
	}
	return true
}

// over sets y = W⁻¹ x.
func (w *scaling) over(l *layout, y, x []float64) {
	for k := range l.lin {
		y[k] = w.inv[k] * x[k]
	}
	for k := l.lin; k < l.cones; k++ {
		at, end := l.row[k], l.row[k+1]
		hyperbolic(y[at:end], x[at:end], w.w[at:end], w.turn[k], w.inv[k])
	}
}

// hyperbolic sets y = W⁻¹ x, inv = 1/η and turn = 1/(1 + w0).
func hyperbolic(y, x, w []float64, turn, inv float64) {
	if len(w) == 3 && len(x) == 3 && len(y) == 3 {
		x0, x1, x2 := x[0], x[1], x[2]
		dot := w[1]*x1 + w[2]*x2
		t := dot*turn - x0
		y[0] = inv * (w[0]*x0 - dot)
		y[1] = inv * (x1 + w[1]*t)
		y[2] = inv * (x2 + w[2]*t)
		return
	}
	dot := 0.0
	for i := 1; i < len(w); i++ {
		dot += w[i] * x[i]
	}
	t := dot*turn - x[0]
	y[0] = inv * (w[0]*x[0] - dot)
	for i := 1; i < len(w); i++ {
		y[i] = inv * (x[i] + w[i]*t)
	}
}

// matrix sets v = W⁻¹ G.
func (w *scaling) matrix(l *layout, v []float64) {
	for k := range l.lin {
		f := w.inv[k]
		for e := l.colAt[k]; e < l.colAt[k+1]; e++ {
			v[e] = f * l.g[e]
		}
	}
	for k := l.lin; k < l.cones; k++ {
		at, end := l.row[k], l.row[k+1]
		d := end - at
		q := w.w[at:end]
		for e := l.valAt[k]; e < l.valAt[k+1]; e += d {
			hyperbolic(v[e:e+d], l.g[e:e+d], q, w.turn[k], w.inv[k])
		}
	}
}

// correct sets y = λ \ (σμ e − a∘b) − λ, the right-hand side of the corrector's
// complementarity W dz + W⁻¹ ds = y.
func (w *scaling) correct(l *layout, y, a, b []float64, mu float64) {
	for k := range l.lin {
		y[k] = (mu-a[k]*b[k])*w.scale[k] - w.lambda[k]
	}
	for k := l.lin; k < l.cones; k++ {
		at, end := l.row[k], l.row[k+1]
		y, a, b, lam := y[at:end], a[at:end], b[at:end], w.lambda[at:end]
		head, dot := mu, 0.0
		for i := range a {
			head -= a[i] * b[i]
		}
		for i := 1; i < len(a); i++ {
			y[i] = -a[0]*b[i] - b[0]*a[i]
			dot += lam[i] * y[i]
		}
		y0 := (lam[0]*head - dot) * w.scale[k] * w.scale[k]
		inv := 1 / lam[0]
		for i := 1; i < len(a); i++ {
			y[i] = (y[i]-y0*lam[i])*inv - lam[i]
		}
		y[0] = y0 - lam[0]
	}
}

// depth is the largest number f with λ + d/f outside or on the border of K: the
// longest step along d is 1/f. It is 0 where every step stays inside.
func (w *scaling) depth(l *layout, d []float64) float64 {
	f := 0.0
	for k, v := range w.scale[:l.lin] {
		if g := -d[k] * v; g > f {
			f = g
		}
	}
	for k := l.lin; k < l.cones; k++ {
		at, end := l.row[k], l.row[k+1]
		d, lam := d[at:end], w.lambda[at:end]
		// Turn d into the frame where λ is √det λ times the identity.
		scale := w.scale[k]
		dot := 0.0
		for i := 1; i < len(d); i++ {
			dot += lam[i] * d[i]
		}
		head := (lam[0]*d[0] - dot) * scale
		t := (head + d[0]) / (1 + lam[0]*scale) * scale
		sum := 0.0
		for i := 1; i < len(d); i++ {
			v := d[i] - lam[i]*t
			sum += v * v
		}
		if g := (math.Sqrt(sum) - head) * scale; g > f {
			f = g
		}
	}
	return f
}
