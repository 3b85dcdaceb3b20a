package diagnose

import (
	"math"

	"leastmove/train"
	"leastmove/train/readings"
)

// A Cause is one way for things to go wrong.
type Cause int

const (
	NotMade     Cause = iota // the move of a station, or of a machine, was not made
	OneFoot                  // the pack of one foot was not changed
	WrongWay                 // the move went the other way
	Elsewhere                // a station went somewhere else
	Strained                 // a machine was moved or pulled as a whole
	SagTwice                 // the bracket's sag was taken out twice, or was in readings without it
	Mirrored                 // left and right were swapped in the readings
	Misread                  // a coupling's readings are off by anything
	SidesTurned              // all side moves were made to the wrong side
	NoneMade                 // no move was made, or the readings are those of before
	MovedTwice               // the move was made twice
)

// A Fault is a cause and where it lies. Indices that do not apply are -1.
type Fault struct {
	Cause    Cause
	Machine  int
	Feet     []int // of one station; nil: the whole machine
	Coupling int
	Plane    Plane
	Before   bool // of a reading: the one before the moves
	station  int  // of Feet, among those of the machine
}

// same says whether two faults are at one place: a station, a machine, a
// coupling.
func (f *Fault) same(g *Fault) bool {
	if f.Machine != g.Machine || f.Coupling != g.Coupling || (f.Feet == nil) != (g.Feet == nil) {
		return false
	}
	if f.Machine < 0 && f.Coupling < 0 {
		return f.Cause == g.Cause // the whole train
	}
	return f.Feet == nil || f.station == g.station
}

// A candidate is a fault with what it would do.
type candidate struct {
	Fault
	weight float64              // logarithm of the prior weight
	shift  []float64            // of y; nil: none
	moved  map[int]train.Motion // what machines are off by a known amount
	free   []direction          // along which y may be off
}

// A direction is one that a fault may take by any amount.
type direction struct {
	machine int          // -1: in the readings
	motion  train.Motion // for one standard deviation of the prior
	shown   []float64    // what that does to y
}

// Prior weights, as logarithms: of faults that come up often, now and then, and
// rarely. Ours.
const (
	usual   = 0.0
	seldom  = -2.0
	unusual = -3.5
	rare    = -5.0
)

// anywhere in mm is how far off its plan a station is thought to be that went
// somewhere else: the standard deviation of its prior.
const anywhere = 0.3

// A way is one in which a move goes otherwise by all of it.
type way struct {
	cause  Cause
	off    float64 // what it is off, in moves
	weight float64 // logarithm of the prior weight
}

func ways() []way {
	return []way{{NotMade, -1, usual}, {WrongWay, -2, seldom}, {MovedTwice, 1, seldom}}
}

// nothing in mm is the move below which nothing was to be done.
const nothing = 1e-6

// candidates are all faults that are weighed.
func (j *judge) candidates() []candidate {
	var out []candidate
	for i := range j.t.Machines {
		if j.c.Moves.Moved(i) {
			out = append(out, j.ofStations(i)...)
			out = append(out, j.ofMachine(i)...)
		}
		out = append(out, j.strained(i))
	}
	for k := range j.t.Couplings {
		out = append(out, j.ofReadings(k)...)
	}
	return append(out, j.ofTrain()...)
}

// off is what a machine is off by if its feet are off by those moves.
func (j *judge) off(i int, by []train.FootMove) train.Motion { return j.kinematics[i].Motion(by) }

// known is a candidate whose effect follows from the plan.
func (j *judge) known(f Fault, weight float64, by []train.FootMove) candidate {
	q := j.off(f.Machine, by)
	return candidate{Fault: f, weight: weight, shift: j.shown(f.Machine, q), moved: map[int]train.Motion{f.Machine: q}}
}

// only are the moves of some feet of a machine in one plane, times a factor.
func (j *judge) only(i int, feet []int, plane Plane, times float64) (by []train.FootMove, any bool) {
	by = make([]train.FootMove, len(j.t.Machines[i].Feet))
	for _, f := range feet {
		m := j.c.Moves[i][f]
		if plane != Sideways {
			by[f].Up = times * m.Up
		}
		if plane != Vertical {
			by[f].Left = times * m.Left
		}
		any = any || math.Abs(by[f].Up) > nothing || math.Abs(by[f].Left) > nothing
	}
	return by, any
}

// ofStations are the faults at one foot station of machine i.
func (j *judge) ofStations(i int) []candidate {
	var out []candidate
	for s, feet := range j.t.Machines[i].Stations() {
		f := Fault{Machine: i, Feet: feet, Coupling: -1, station: s}
		for _, plane := range [2]Plane{Vertical, Sideways} {
			f := f
			f.Plane = plane
			for _, w := range ways() {
				by, any := j.only(i, feet, plane, w.off)
				if !any {
					continue
				}
				f.Cause = w.cause
				out = append(out, j.known(f, w.weight, by))
				if plane == Sideways || len(feet) < 2 {
					continue
				}
				for _, foot := range feet {
					if by, any := j.only(i, []int{foot}, plane, w.off); any {
						one := f
						one.Feet = []int{foot}
						if w.cause == NotMade {
							one.Cause = OneFoot
						}
						out = append(out, j.known(one, w.weight-0.7, by))
					}
				}
			}
			f.Cause = Elsewhere
			unit := make([]train.FootMove, len(j.t.Machines[i].Feet))
			for _, foot := range feet {
				if plane == Vertical {
					unit[foot].Up = anywhere
				} else {
					unit[foot].Left = anywhere
				}
			}
			q := j.off(i, unit)
			out = append(out, candidate{Fault: f, weight: seldom, free: []direction{{i, q, j.shown(i, q)}}})
		}
		if j.inBoth(i, feet) {
			out = append(out, j.inEvery(f, feet)...)
		}
	}
	return out
}

// inBoth says whether some feet of machine i were to move both up or down and sideways.
func (j *judge) inBoth(i int, feet []int) bool {
	_, up := j.only(i, feet, Vertical, 1)
	_, left := j.only(i, feet, Sideways, 1)
	return up && left
}

// inEvery is that all moves of some feet of a fault's machine went the same other way, up and down and sideways: all
// reversed as where the moves of the machine at the other side of a coupling were made.
func (j *judge) inEvery(f Fault, feet []int) []candidate {
	var out []candidate
	f.Plane = Every
	for _, w := range ways() {
		by, _ := j.only(f.Machine, feet, Every, w.off)
		f.Cause = w.cause
		out = append(out, j.known(f, w.weight-1, by))
	}
	return out
}

// ofMachine are the faults of machine i as a whole: its moves not made, or made to
// the other side. Where one station alone was to move, that is the station's.
func (j *judge) ofMachine(i int) []candidate {
	var out []candidate
	m := &j.t.Machines[i]
	all := make([]int, len(m.Feet))
	for f := range all {
		all[f] = f
	}
	several := func(plane Plane) bool {
		n := 0
		for _, feet := range m.Stations() {
			if _, any := j.only(i, feet, plane, 1); any {
				n++
			}
		}
		return n > 1
	}
	f := Fault{Machine: i, Coupling: -1}
	if several(Every) {
		every := j.inEvery(f, all)
		if !j.inBoth(i, all) {
			every = every[:1] // the rest is that of one plane, below
		}
		out = append(out, every...)
	}
	for _, plane := range [2]Plane{Vertical, Sideways} {
		if !several(plane) {
			continue
		}
		f.Plane = plane
		for _, w := range ways() {
			f.Cause = w.cause
			by, _ := j.only(i, all, plane, w.off)
			weight := w.weight
			if w.cause == NotMade {
				weight--
			}
			out = append(out, j.known(f, weight, by))
		}
	}
	if a := j.c.Moves[i][0].Axial; math.Abs(a) > nothing {
		by := make([]train.FootMove, len(m.Feet))
		for n := range by {
			by[n].Axial = -a
		}
		f.Plane, f.Cause = Along, NotMade
		out = append(out, j.known(f, usual, by))
	}
	return out
}

// strained is machine i pulled somewhere as a whole, in both planes.
func (j *judge) strained(i int) candidate {
	m := &j.t.Machines[i]
	c := candidate{Fault: Fault{Cause: Strained, Machine: i, Coupling: -1}, weight: unusual}
	if !j.c.Moves.Moved(i) {
		c.weight = rare
	}
	half := 0.5 // m
	for _, f := range m.Feet {
		half = math.Max(half, math.Abs(f.X-j.kinematics[i].Middle)/1000)
	}
	for _, q := range []train.Motion{
		{train.Up: anywhere}, {train.Pitch: anywhere / half},
		{train.Left: anywhere}, {train.Yaw: anywhere / half},
	} {
		c.free = append(c.free, direction{i, q, j.shown(i, q)})
	}
	return c
}

// ofReadings are the faults in the readings of coupling k.
func (j *judge) ofReadings(k int) []candidate {
	var out []candidate
	c := &j.c.Couplings[k]
	for _, before := range [2]bool{false, true} {
		f := Fault{Machine: -1, Coupling: k, Before: before}
		sign := 1.0
		is := c.Planned
		if before {
			sign, is = -1, c.Before
		}
		if sag, ok := sagAgain(j.t, k); ok {
			f.Cause, f.Plane = SagTwice, Vertical
			out = append(out, candidate{Fault: f, weight: seldom,
				shift: j.at(k, [5]float64{sign * sag.V.Offset, sign * sag.V.Angle})})
		}
		if h := is.H; math.Hypot(h.Offset, h.Angle) > nothing { // not where it is NaN
			f.Cause, f.Plane = Mirrored, Sideways
			out = append(out, candidate{Fault: f, weight: seldom, shift: j.at(k, [5]float64{2: -2 * h.Offset, 3: -2 * h.Angle})})
		}
	}
	free := candidate{Fault: Fault{Cause: Misread, Machine: -1, Coupling: k}, weight: unusual}
	for p := range 4 {
		var by [5]float64
		by[p] = anywhere // mm and mrad
		free.free = append(free.free, direction{-1, train.Motion{}, j.at(k, by)})
	}
	return append(out, free)
}

// at is a change of one coupling as a change of y.
func (j *judge) at(k int, by [5]float64) []float64 {
	out := make([]float64, len(j.rows))
	for n, r := range j.rows {
		if r.coupling == k {
			out[n] = by[r.part]
		}
	}
	return out
}

// sagAgain is what the misalignment of coupling k is off where the sag that the
// file states was taken out of readings that had none in them any more; false
// where no dial states one.
func sagAgain(t *train.Train, k int) (train.Misalignment, bool) {
	c := &t.Couplings[k]
	stiff := *c
	stiff.Dials = nil
	any := false
	for _, d := range c.Dials {
		any = any || d.Sag != 0 && !math.IsNaN(d.Sag)
		d.Sag = 0
		stiff.Dials = append(stiff.Dials, d)
	}
	if !any || c.Fit == nil {
		return train.Misalignment{}, false
	}
	was, refusal := readings.Reduce(&stiff, readings.OptionsOf(t, &stiff))
	if refusal != nil {
		return train.Misalignment{}, false
	}
	d := parts(Pose{Misalignment: c.Fit.Found}, Pose{Misalignment: was.Found})
	return train.Misalignment{V: train.Tilt{Offset: d[0], Angle: d[1]}}, true
}

// ofTrain are the faults of the train as a whole: no move made at all, or every
// side move made to the wrong side.
func (j *judge) ofTrain() []candidate {
	var out []candidate
	for _, f := range []struct {
		cause Cause
		plane Plane
		times float64
	}{{NoneMade, Every, -1}, {SidesTurned, Sideways, -2}} {
		c := candidate{
			Fault:  Fault{Cause: f.cause, Machine: -1, Coupling: -1, Plane: f.plane},
			weight: seldom, shift: make([]float64, len(j.rows)), moved: map[int]train.Motion{},
		}
		for i := range j.t.Machines {
			all := make([]int, len(j.t.Machines[i].Feet))
			for n := range all {
				all[n] = n
			}
			by, any := j.only(i, all, f.plane, f.times)
			if f.plane == Every {
				for n := range by {
					by[n].Axial = f.times * j.c.Moves[i][n].Axial
					any = any || by[n].Axial != 0
				}
			}
			if !any {
				continue
			}
			q := j.off(i, by)
			c.moved[i] = q
			for n, v := range j.shown(i, q) {
				c.shift[n] += v
			}
		}
		if len(c.moved) > 1 { // else it is the fault of one machine
			out = append(out, c)
		}
	}
	return out
}
