package readings

import (
	"math"

	"leastmove/train"
)

// around adds the sums along the train.
func (s *Lines) around(t *train.Train) {
	for k := 0; k < len(s.Couplings); {
		end := k
		for end < len(s.Couplings) && s.Couplings[end].Read && s.Couplings[end].Coupling == s.Couplings[k].Coupling+end-k {
			end++
		}
		if end-k > 1 {
			s.Closures = append(s.Closures, s.round(t, s.Couplings[k:end]))
		}
		k = max(end, k+1)
	}
}

// round is the sum along couplings in a row.
func (s *Lines) round(t *train.Train, row []train.SurveyCoupling) train.Closure {
	r := train.Closure{First: row[0].Coupling, Last: row[len(row)-1].Coupling}
	r.X = t.Couplings[r.Last].X
	// What the survey adds follows the unknowns of each machine: a shaft that is
	// come to and left by the same line adds nothing.
	place, slope := map[int][]float64{}, map[int][]float64{}
	add := func(e train.End, sign float64) {
		l := &s.lines[e.Machine]
		if place[e.Machine] == nil {
			place[e.Machine], slope[e.Machine] = make([]float64, len(l.v)), make([]float64, len(l.v))
		}
		tilt := l.tilt()
		for i, c := range l.row(e.Shaft, r.X) {
			place[e.Machine][i] += sign * c
			slope[e.Machine][i] += sign * tilt[i]
		}
	}
	for _, b := range row {
		c := &t.Couplings[b.Coupling]
		arm := (r.X - c.X) / 1000
		r.V.Offset += b.Apart.V.Offset + arm*b.Apart.V.Angle
		r.H.Offset += b.Apart.H.Offset + arm*b.Apart.H.Angle
		r.V.Angle += b.Apart.V.Angle
		r.H.Angle += b.Apart.H.Angle
		add(c.From, -1)
		add(c.To, 1)
		offset, angle := halves(t, c, r.X-c.X)
		r.Error.Offset = math.Hypot(r.Error.Offset, offset)
		r.Error.Angle = math.Hypot(r.Error.Angle, angle)
	}
	for m := row[0].Coupling; m <= row[len(row)-1].Coupling+1; m++ {
		for _, e := range [...]struct {
			sum *float64
			row []float64
		}{{&r.Error.Offset, place[m]}, {&r.Error.Angle, slope[m]}} {
			*e.sum = math.Hypot(*e.sum, s.Times()*s.lines[m].deviation(e.row))
		}
	}
	return r
}
