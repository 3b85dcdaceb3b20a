// Package diagnose says, from what the couplings show after the moves, whether the
// moves were made as planned, and if not which foot or machine most likely did
// not go where the plan sent it.
//
// # Equations
//
// y is what was read after the moves less what was planned, at every coupling,
// cold and at standstill: offset and angle, vertical and horizontal, in mm and
// mrad, and the distance between shaft ends where it was found. With u what
// every foot station of a moved machine is off its plan, up and to the left, and
// A what that does to the couplings (to first order, train.Forms),
//
//	y = A u + e
//
// Where nothing went wrong u and e are errors of placing and of reading, Gaussian
// and independent, so that y ~ N(0, S) with S = placing² A Aᵀ + diag(reading²)
// and yᵀ S⁻¹ y is chi-square with as many degrees of freedom as y has numbers.
//
// n machines have more stations than n - 1 couplings have numbers: u does not
// follow from y. So single faults are weighed, each a shift μ of y that is known
// (a move not made: minus the move), or a direction F along which y may be off by
// anything, with a Gaussian prior of its own:
//
//	y ~ N(μ, S + F Fᵀ)
//
// The density of y under a fault times the fault's prior weight says how well it
// explains what was read; directions that could explain anything weigh less for
// it. Both feet of a station go sideways together, so side readings can't tell
// left from right.
//
// The thresholds and prior weights (weigh.go, faults.go) are ours: there is no
// published figure for them.
package diagnose

import (
	"math"

	"leastmove/train"
)

// A Case is what is known of a train whose moves were made.
type Case struct {
	Train     *train.Train // as it stands now
	Moves     train.Moves  // that were planned
	Couplings []Coupling   // one for each of the train's
	Placing   float64      // mm, standard error of a move at a foot station, up or sideways
}

// A Coupling is what one coupling showed and was to show, cold and at standstill.
type Coupling struct {
	Before, Planned, Now Pose               // Before is NaN where it is not known
	Error                train.Misalignment // standard errors of Now less Planned, from reading before and after
	GapError             float64            // mm, the same of the distance between shaft ends
}

// A Pose is how two shafts sit relative to each other.
type Pose struct {
	train.Misalignment
	Gap float64 // mm between shaft ends; NaN: not found
}

// Plane is up and down, sideways, along the train, or more than one of these.
type Plane int

const (
	Every Plane = iota
	Vertical
	Sideways
	Along
)

// A rowOf is one number of y.
type rowOf struct {
	coupling int
	part     int // 0 to 3: vertical offset and angle, horizontal offset and angle; 4: gap
}

// rows are the numbers of y, with y itself and the standard errors of reading.
func (c *Case) rows() (rows []rowOf, y, sigma []float64) {
	for i := range c.Couplings {
		k := &c.Couplings[i]
		d := parts(k.Now, k.Planned)
		e := [5]float64{k.Error.V.Offset, k.Error.V.Angle, k.Error.H.Offset, k.Error.H.Angle, k.GapError}
		for p := range d {
			if math.IsNaN(d[p]) {
				continue
			}
			rows = append(rows, rowOf{i, p})
			y = append(y, d[p])
			sigma = append(sigma, e[p])
		}
	}
	return rows, y, sigma
}

// parts is a less b, number by number.
func parts(a, b Pose) [5]float64 {
	return [5]float64{
		a.V.Offset - b.V.Offset, a.V.Angle - b.V.Angle,
		a.H.Offset - b.H.Offset, a.H.Angle - b.H.Angle, a.Gap - b.Gap,
	}
}

// shift is what a motion of machine i does to coupling k, number by number.
func shift(t *train.Train, k, i int, q train.Motion) [5]float64 {
	for _, f := range t.Forms(k) {
		if f.Body == i {
			m, gap := f.Of(q)
			return [5]float64{m.V.Offset, m.V.Angle, m.H.Offset, m.H.Angle, gap}
		}
	}
	return [5]float64{}
}

// shown is what a motion of machine i does to y.
func (j *judge) shown(i int, q train.Motion) []float64 {
	out := make([]float64, len(j.rows))
	at := map[int][5]float64{}
	for n, r := range j.rows {
		s, there := at[r.coupling]
		if !there {
			s = shift(j.t, r.coupling, i, q)
			at[r.coupling] = s
		}
		out[n] = s[r.part]
	}
	return out
}
