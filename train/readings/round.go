package readings

import (
	"math"

	"leastmove/train"
)

// A Round is a sum round the train: along couplings that were both read and
// surveyed, from the shaft before the first to the shaft behind the last by
// what was read, and back by the survey. Without errors it is zero.
//
//	sum = Σ (survey - read) of the offset at X + (survey - read) of the angle × (X - x) / 1000
//
// with x the plane of each coupling and X that of the last.
type Round struct {
	First, Last int        // couplings
	X           float64    // mm, train station that it is taken at: the plane of the last coupling
	V, H        train.Tilt // mm and mrad that are left
	Error       train.Tilt // 95 % half-widths that the errors of points and readings let expect; NaN where not known
}

// around adds the sums along the train.
func (s *Survey) around(t *train.Train) {
	for k := 0; k < len(s.Between); {
		end := k
		for end < len(s.Between) && s.Between[end].Read && s.Between[end].Coupling == s.Between[k].Coupling+end-k {
			end++
		}
		if end-k > 1 {
			s.Rounds = append(s.Rounds, s.round(t, s.Between[k:end]))
		}
		k = max(end, k+1)
	}
}

// round is the sum along couplings in a row.
func (s *Survey) round(t *train.Train, row []Between) Round {
	r := Round{First: row[0].Coupling, Last: row[len(row)-1].Coupling}
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
			*e.sum = math.Hypot(*e.sum, s.times*s.lines[m].deviation(e.row))
		}
	}
	return r
}
