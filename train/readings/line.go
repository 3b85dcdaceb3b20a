package readings

import (
	"math"

	"gonum.org/v1/gonum/mat"

	"leastmove/train"
)

// lines are where a machine's shafts lie in the frame of a survey. All shafts of
// a machine are parallel: their points share one slope, and each shaft that has
// points has a place of its own.
type lines struct {
	machine *train.Machine
	middle  float64    // mm, own station that the places are at: the mean of the points
	place   []int      // by shaft: which unknown its place is; -1: it has no point
	v, h    []float64  // mm: the places, and last the slope in mrad; nil: not determined
	cover   *mat.Dense // covariance of either, with errors as stated or usual
	squares float64    // of what the points leave, in standard errors
	freedom int        // figures beyond the unknowns
}

// usualPoint in mm is the standard error of a point whose error is not stated.
// Like usualError it sets weights.
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
	v, h := system{unknowns: places + 1}, system{unknowns: places + 1}
	for i := range m.Points {
		p := &m.Points[i]
		row := make([]float64, places+1)
		row[l.place[p.Shaft]], row[places] = 1, (p.X-l.middle)/1000
		v.add(row, p.V, pointError(p))
		h.add(row, p.H, pointError(p))
	}
	up, ok := v.least()
	left, _ := h.least()
	if !ok {
		return l
	}
	l.v, l.h, l.cover = up.x, left.x, up.covariance
	l.squares = v.squares(l.v) + h.squares(l.h)
	l.freedom = v.freedom() + h.freedom()
	return l
}

func pointError(p *train.Point) float64 {
	if p.Error > 0 {
		return p.Error / wide
	}
	return usualPoint
}

// oneStation in mm is the distance within which points count as at one station.
const oneStation = 1

// spread says whether a shaft of the machine has points at two stations.
func spread(m *train.Machine) bool {
	for i := range m.Points {
		for j := range i {
			if m.Points[i].Shaft == m.Points[j].Shaft && math.Abs(m.Points[i].X-m.Points[j].X) >= oneStation {
				return true
			}
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
	sum := 0.0
	for i, a := range row {
		for j, b := range row {
			sum += a * b * l.cover.At(i, j)
		}
	}
	return math.Sqrt(math.Max(0, sum))
}

// tilt is the row of the slope alone.
func (l *lines) tilt() []float64 {
	row := make([]float64, len(l.v))
	row[len(row)-1] = 1
	return row
}
