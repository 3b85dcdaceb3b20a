package chart

import (
	"math"

	"gonum.org/v1/plot/vg"

	"leastmove/cmd/internal/view"
	"leastmove/train"
)

// How many machines one strip of a long train has, on paper and on a narrow screen.
const (
	mostInStrip  = 6
	mostInNarrow = 2
)

// phoneWidth is that of most drawings for a narrow screen.
const phoneWidth = 240

// A strip is some machines of a train side by side, with stations to scale.
type strip struct {
	*view.Figures
	words    names
	from, to int        // machines, the last one not in it
	x        [2]float64 // mm, train stations at the edges
	edge     [2]vg.Length
	width    vg.Length // of the drawing
}

// strips are those of a whole train.
func strips(f *view.Figures, margin vg.Length) []strip {
	return parted(f, 0, f.Train.Row(), mostInStrip, margin, usualWidth)
}

// parted are strips of some machines of a train, with so many at most, each as wide as a drawing between its margins.
func parted(f *view.Figures, from, to, most int, margin, width vg.Length) []strip {
	n := to - from
	parts := (n + most - 1) / most
	var out []strip
	for k := range parts {
		s := strip{Figures: f, words: namesOf(f), from: from + k*n/parts, to: from + (k+1)*n/parts, width: width}
		s.x = [2]float64{math.Inf(1), math.Inf(-1)}
		for i := s.from; i < s.to; i++ {
			for _, x := range s.body(i) {
				s.x[0], s.x[1] = math.Min(s.x[0], x), math.Max(s.x[1], x)
			}
		}
		for _, i := range s.couplings() {
			from, to := f.Train.Couplings[i].FaceX()
			s.x[0], s.x[1] = math.Min(s.x[0], from), math.Max(s.x[1], to)
		}
		s.edge = [2]vg.Length{margin, width - margin}
		out = append(out, s)
	}
	// One scale for all of them.
	scale := math.Inf(1)
	for i := range out {
		scale = math.Min(scale, out[i].scale())
	}
	for i := range out {
		out[i].edge[1] = out[i].edge[0] + vg.Length(math.Max(1, out[i].x[1]-out[i].x[0])*scale)
	}
	return out
}

// body is from where to where a machine is drawn: a little past its feet.
func (s *strip) body(i int) [2]float64 {
	const past, least = 0.07, 60 // share of it; mm
	x := s.Train.Body(i)
	by := math.Max(least, past*(x[1]-x[0]))
	return [2]float64{x[0] - by, x[1] + by}
}

// couplings are those that have a machine of the strip at one end or both.
func (s *strip) couplings() []int {
	var out []int
	for i := range s.Train.Couplings {
		if i+1 >= s.from && i < s.to {
			out = append(out, i)
		}
	}
	return out
}

// scale is points for each mm of the train's stations.
func (s *strip) scale() float64 {
	return float64(s.edge[1]-s.edge[0]) / math.Max(1, s.x[1]-s.x[0])
}

// at is where a station in mm is.
func (s *strip) at(x float64) vg.Length {
	return s.edge[0] + vg.Length((x-s.x[0])*s.scale())
}

// What a machine's name may take in points, and what follows that of one that is held.
const (
	mostOfName = 120
	held       = " (held)"
)

// names writes the machines' names above a height, and says how many lines they
// take. On no sheet it only says that.
func (s *strip) names(c *sheet, y vg.Length) (lines int) {
	var r rows
	for i := s.from; i < s.to; i++ {
		x := s.body(i)
		words := s.words.Machine(i)
		if s.Train.Machines[i].Hold {
			words = short(normal, words, mostOfName-wide(normal, held)) + held
		}
		words = short(normal, words, mostOfName)
		n, left := s.label(&r, normal, (x[0]+x[1])/2, words, 1)
		if lines = max(lines, n+1); c != nil {
			c.text(normal, 0, 0, left, y+vg.Length(n)*nameRoom, words)
		}
	}
	return lines
}

// label finds the place of so many lines of words about a station, kept within the
// drawing: the first line, and where they begin.
func (s *strip) label(r *rows, size, x float64, words string, lines int) (first int, left vg.Length) {
	w := wide(size, words)
	left = s.at(x) - w/2
	left = max(2, min(left, s.width-w-2))
	return r.place(left, left+w, lines), left
}

// stationBar draws the scale of stations.
func (s *strip) stationBar(c *sheet, x, y vg.Length) vg.Length {
	unit := s.Train.Units.Length()
	long := handy(90/s.scale()/unit) * unit
	w := vg.Length(long * s.scale())
	c.line(outline(), x, y, x+w, y)
	c.line(outline(), x, y-3, x, y+3)
	c.line(outline(), x+w, y-3, x+w, y+3)
	words := "stations: " + s.words.inLengths(long)
	c.text(small, 0, -0.35, x+w+4, y, words)
	return x + w + 4 + wide(small, words)
}

// of are those of some shafts that the strip has.
func (s *strip) of(lines []train.Centreline) []train.Centreline {
	var out []train.Centreline
	for _, c := range lines {
		if c.Machine >= s.from && c.Machine < s.to {
			out = append(out, c)
		}
	}
	return out
}

// misalignments are the shafts of the strip, off the straight line nearest to them.
func (s *strip) misalignments() (before, after []train.Centreline) {
	before, after = s.of(s.Course.Before), s.of(s.Course.After)
	if s.Course.Apart {
		level(before, nil)
		level(nil, after)
		return before, after
	}
	level(before, after)
	return before, after
}

// level takes the straight line nearest to all ends of shafts off them.
func level(before, after []train.Centreline) {
	var n, sx, sxx float64
	var left, up [2]float64 // sums, and sums times station
	each := func(do func(c *train.Centreline, e int)) {
		for _, all := range [][]train.Centreline{before, after} {
			for i := range all {
				for e := range all[i].X {
					do(&all[i], e)
				}
			}
		}
	}
	each(func(c *train.Centreline, e int) {
		n, sx, sxx = n+1, sx+c.X[e], sxx+c.X[e]*c.X[e]
		left[0], left[1] = left[0]+c.Left[e], left[1]+c.Left[e]*c.X[e]
		up[0], up[1] = up[0]+c.Up[e], up[1]+c.Up[e]*c.X[e]
	})
	det := n*sxx - sx*sx
	if !(det > 0) {
		return
	}
	line := func(sum [2]float64) func(float64) float64 {
		slope := (n*sum[1] - sx*sum[0]) / det
		start := (sum[0] - slope*sx) / n
		return func(x float64) float64 { return start + slope*x }
	}
	leftLine, upLine := line(left), line(up)
	each(func(c *train.Centreline, e int) {
		c.Left[e] -= leftLine(c.X[e])
		c.Up[e] -= upLine(c.X[e])
	})
}
