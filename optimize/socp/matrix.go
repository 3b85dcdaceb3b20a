package socp

// times sets y = A x, A of the layout's pattern with values a.
func (l *layout) times(y, x, a []float64) {
	e, cols := 0, l.cols
	for k, end := range l.colAt[1 : l.lin+1] {
		sum := 0.0
		for ; e < end; e++ {
			sum += a[e] * x[cols[e]]
		}
		y[k] = sum
	}
	for k := l.lin; k < l.cones; k++ {
		at, d := l.row[k], l.row[k+1]-l.row[k]
		cols, e := l.cols[l.colAt[k]:l.colAt[k+1]], l.valAt[k]
		if d == 3 {
			var y0, y1, y2 float64
			a := a[e : e+3*len(cols)]
			for _, j := range cols {
				if len(a) < 3 {
					break
				}
				v := x[j]
				y0 += a[0] * v
				y1 += a[1] * v
				y2 += a[2] * v
				a = a[3:]
			}
			y[at], y[at+1], y[at+2] = y0, y1, y2
			continue
		}
		y := y[at : at+d]
		clear(y)
		for _, j := range cols {
			v := x[j]
			for r, a := range a[e : e+d] {
				y[r] += a * v
			}
			e += d
		}
	}
}

// transposed adds A' z to x.
func (l *layout) transposed(x, z, a []float64) {
	e, cols := 0, l.cols
	for k, end := range l.colAt[1 : l.lin+1] {
		v := z[k]
		for ; e < end; e++ {
			x[cols[e]] += a[e] * v
		}
	}
	for k := l.lin; k < l.cones; k++ {
		at, d := l.row[k], l.row[k+1]-l.row[k]
		cols, e := l.cols[l.colAt[k]:l.colAt[k+1]], l.valAt[k]
		if d == 3 {
			z0, z1, z2 := z[at], z[at+1], z[at+2]
			a := a[e : e+3*len(cols)]
			for _, j := range cols {
				if len(a) < 3 {
					break
				}
				x[j] += a[0]*z0 + a[1]*z1 + a[2]*z2
				a = a[3:]
			}
			continue
		}
		z := z[at : at+d]
		for _, j := range cols {
			sum := 0.0
			for r, a := range a[e : e+d] {
				sum += a * z[r]
			}
			x[j] += sum
			e += d
		}
	}
}
