package trainfile

import (
	"fmt"
	"math"
	"slices"

	"leastmove/train"
)

// bent in mm is how far a measured growth may be off the straight line that the
// model has for it. Ours.
const bent = 0.05

// measured is the growth that was measured at several stations, or left and right
// of the centreline: by least squares
//
//	v = start + slope x / 1000 + roll y / 1000
//	h, a = start + slope x / 1000
//
// with the roll where there are two different y. h was measured at the shaft, which a roll alone takes to the right by
// height × roll; where no station states it, that is all.
func (r *reader) measured(list []*section, height float64) train.Growth {
	x, y := make([]float64, len(list)), make([]float64, len(list))
	for i, s := range list {
		x[i], y[i] = s.number("x"), s.numberOr("y", 0)
		if math.IsNaN(x[i]) || math.IsNaN(y[i]) {
			return train.Growth{} // it has its fault
		}
	}
	level := make([]float64, len(list))
	p, q := planeOf(x, y), planeOf(x, level)
	if p.flat {
		r.fault(list[len(list)-1].node.Key, "these stations of the growth can't tell its slope along the machine from "+
			"the roll of the case",
			"measure it left and right at each station, or on the centreline alone")
		return train.Growth{}
	}
	values := func(key string) []float64 {
		out := make([]float64, len(list))
		for i, s := range list {
			out[i] = s.number(key)
		}
		return out
	}
	var g train.Growth
	g.V, g.Roll = p.fit(values("v"))
	g.H, _ = q.fit(values("h"))
	g.A, _ = q.fit(values("a"))
	for _, c := range []struct {
		key  string
		line train.Line
		roll float64
	}{{"v", g.V, g.Roll}, {"h", g.H, 0}, {"a", g.A, 0}} {
		worst, most := 0, 0.0
		for i, v := range values(c.key) {
			if off := math.Abs(v - c.line.At(x[i]) - c.roll*y[i]/1000); off > most*(1+1e-9) {
				worst, most = i, off
			}
		}
		if most > bent {
			r.warn(list[worst].at(c.key), fmt.Sprintf("the growth measured here is %s off the straight line that fits all "+
				"stations best, and none is further off", r.show(most, Move)),
				"a machine is taken as rigid: look for a misread figure, a sign or a station; or it bends")
		}
	}
	if slices.ContainsFunc(list, func(s *section) bool { return s.tried("h") }) {
		g.H.Start += g.Roll * height / 1000 // so that at the shaft it is h again
	}
	return r.stated(list, g)
}

// A plane through stations in mm, along and to the left.
type plane struct {
	x, y   []float64
	mx, my float64
	inv    [3]float64 // of the moments xx, xy, yy; zero along what does not spread
	flat   bool       // stations along and aside go together
}

// planeOf prepares a plane over stations. What does not spread has no slope.
func planeOf(x, y []float64) plane {
	p := plane{x: x, y: y}
	n := float64(len(x))
	for i := range x {
		p.mx += x[i] / n
		p.my += y[i] / n
	}
	var xx, xy, yy, farX, farY float64
	for i := range x {
		dx, dy := x[i]-p.mx, y[i]-p.my
		xx, xy, yy = xx+dx*dx, xy+dx*dy, yy+dy*dy
		farX, farY = math.Max(farX, math.Abs(dx)), math.Max(farY, math.Abs(dy))
	}
	det := xx*yy - xy*xy
	switch {
	case farX >= apart/2.0 && farY >= apart/2.0:
		if p.flat = det <= 1e-3*xx*yy; !p.flat {
			p.inv = [3]float64{yy / det, -xy / det, xx / det}
		}
	case farX >= apart/2.0:
		p.inv[0] = 1 / xx
	case farY >= apart/2.0:
		p.inv[2] = 1 / yy
	}
	return p
}

// fit is the line along the centreline of values in mm, and their slope to the
// left in mrad.
func (p plane) fit(values []float64) (along train.Line, aside float64) {
	mean, xv, yv := 0.0, 0.0, 0.0
	for i, v := range values {
		mean += v / float64(len(values))
		xv += (p.x[i] - p.mx) * v
		yv += (p.y[i] - p.my) * v
	}
	along.Slope = 1000 * (p.inv[0]*xv + p.inv[1]*yv)
	aside = 1000 * (p.inv[1]*xv + p.inv[2]*yv)
	along.Start = mean - along.Slope*p.mx/1000 - aside*p.my/1000
	return along, aside
}
