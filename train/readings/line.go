package readings

import (
	"math"

	"leastmove/train"
)

// lines are where a machine's shafts lie in the frame of a survey. All shafts of
// a machine are parallel: their points share one slope, and each shaft that has
// points has a place of its own. With w = 1 / error² of each point, and a mean x̄
// and v̄ for each shaft by these weights, least squares give
//
//	slope = Σ w (x - x̄) v / S    S = Σ w (x - x̄)², over all shafts
//	place = v̄ + slope (middle - x̄)
//
// in which 1 / S is the variance of the slope, 1 / Σ w that of a mean, and these do
// not depend on each other.
type lines struct {
	machine *train.Machine
	middle  float64   // mm, own station that the places are at: the mean of the points
	place   []int     // by shaft: which unknown its place is; -1: it has no point
	v, h    []float64 // mm: the places, and last the slope in mrad; nil: not determined
	weight  []float64 // 1/mm², Σ w of each place
	mean    []float64 // m, x̄ of each place from the middle
	moment  float64   // m²/mm², S
	squares float64   // of what the points leave, in standard errors
	freedom int       // figures beyond the unknowns
}

// usualPoint in mm is the standard error of a point whose error is not stated.
const usualPoint = 0.02

// linesOf fits the points of a machine. v is nil where they do not determine the
// slope.
func linesOf(m *train.Machine) lines {
	l := lines{machine: m, place: make([]int, len(m.Shafts))}
	for j := range l.place {
		l.place[j] = -1
	}
	places := 0
	for i := range m.Points {
		p := &m.Points[i]
		l.middle += p.X / float64(len(m.Points))
		if l.place[p.Shaft] < 0 {
			l.place[p.Shaft] = places
			places++
		}
	}
	if places == 0 || !spread(m) {
		return l
	}
	l.weight, l.mean = make([]float64, places), make([]float64, places)
	v, h := make([]float64, places+1), make([]float64, places+1)
	each := func(do func(p *train.Point, k int, w, x float64)) {
		for i := range m.Points {
			p := &m.Points[i]
			do(p, l.place[p.Shaft], 1/(pointError(p)*pointError(p)), (p.X-l.middle)/1000)
		}
	}
	each(func(_ *train.Point, k int, w, _ float64) { l.weight[k] += w })
	each(func(p *train.Point, k int, w, x float64) {
		w /= l.weight[k]
		l.mean[k], v[k], h[k] = l.mean[k]+w*x, v[k]+w*p.V, h[k]+w*p.H
	})
	each(func(p *train.Point, k int, w, x float64) {
		arm := x - l.mean[k]
		l.moment += w * arm * arm
		v[places] += w * arm * (p.V - v[k])
		h[places] += w * arm * (p.H - h[k])
	})
	v[places], h[places] = v[places]/l.moment, h[places]/l.moment
	for k, x := range l.mean {
		v[k], h[k] = v[k]-v[places]*x, h[k]-h[places]*x
	}
	l.v, l.h = v, h
	each(func(p *train.Point, k int, w, x float64) {
		up, left := p.V-v[k]-v[places]*x, p.H-h[k]-h[places]*x
		l.squares += w * (up*up + left*left)
	})
	l.freedom = 2 * (len(m.Points) - places - 1)
	return l
}

func pointError(p *train.Point) float64 {
	if p.Error > 0 {
		return p.Error / train.Half95
	}
	return usualPoint
}

// oneStation in mm is the distance within which points count as at one station.
const oneStation = 1

// spread says whether a shaft of the machine has points at two stations.
func spread(m *train.Machine) bool {
	first := make([]float64, len(m.Shafts))
	for j := range first {
		first[j] = math.NaN()
	}
	for _, p := range m.Points {
		switch far := math.Abs(p.X - first[p.Shaft]); {
		case math.IsNaN(far):
			first[p.Shaft] = p.X
		case far >= oneStation:
			return true
		}
	}
	return false
}

// from is the shaft that another one's line is taken from: itself where it has
// points, else the first one that has, if their distance is known; -1: none.
func (l *lines) from(shaft int) int {
	if l.v == nil {
		return -1
	}
	if l.place[shaft] >= 0 {
		return shaft
	}
	for j, at := range l.place {
		if at >= 0 {
			if _, _, known := l.machine.Apart(j, shaft); known {
				return j
			}
		}
	}
	return -1
}

// row is how the place of a shaft at a train station in mm follows the unknowns.
func (l *lines) row(shaft int, x float64) []float64 {
	row := make([]float64, len(l.v))
	row[l.place[l.from(shaft)]], row[len(row)-1] = 1, (x-l.machine.At-l.middle)/1000
	return row
}

// at is where a shaft passes a train station in mm, in the survey's frame.
func (l *lines) at(shaft int, x float64) (v, h float64) {
	base := l.from(shaft)
	if base != shaft {
		v, h, _ = l.machine.Apart(base, shaft)
	}
	for i, c := range l.row(shaft, x) {
		v += c * l.v[i]
		h += c * l.h[i]
	}
	return v, h
}

// slope is that of all shafts of the machine in mrad.
func (l *lines) slope() (v, h float64) { return l.v[len(l.v)-1], l.h[len(l.h)-1] }

// deviation is the standard error of a combination of the unknowns, errors being
// as stated or usual.
func (l *lines) deviation(row []float64) float64 {
	variance, slope := 0.0, row[len(row)-1]
	for k, x := range l.mean {
		variance += row[k] * row[k] / l.weight[k]
		slope -= row[k] * x
	}
	return math.Sqrt(variance + slope*slope/l.moment)
}

// tilt is the row of the slope alone.
func (l *lines) tilt() []float64 {
	row := make([]float64, len(l.v))
	row[len(row)-1] = 1
	return row
}
