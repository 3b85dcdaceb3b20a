package ways

import (
	"math"

	"leastmove/optimize"
	"leastmove/train"
)

// This file has what is done without a planner, as yardsticks: limits are not
// looked at, and what the moves break is listed (Plan.Broken). Both are worked
// out to first order in the motions, then rounded to what a crew can set and
// checked by true geometry like any plan. Machines are moved as rigid bodies
// without roll or shift along the train, on bases that stay.

// Cascade lets one machine stay and sets its neighbours, one after another
// outwards, to the misalignment that is wanted when running, each against the
// machine before it as that stands by then. Machines that the file holds are
// moved like others.
func Cascade(t *train.Train, stays int) *optimize.Plan {
	moves := t.Stay()
	outwards(t, stays, func(i int, q train.Motion) train.Motion {
		moves[i] = settable(t, i, q)
		s := t.Machines[i].Kinematics()
		return s.Motion(moves[i])
	})
	return optimize.Try(t, moves)
}

// outwards are the motions of a cascade; settle is how each is set, from what
// is wanted.
func outwards(t *train.Train, stays int, settle func(i int, q train.Motion) train.Motion) []train.Motion {
	q := make([]train.Motion, len(t.Machines))
	for i := stays + 1; i < t.Row(); i++ {
		q[i] = settle(i, wantedMotion(t, i-1, i, q))
	}
	for i := stays - 1; i >= 0; i-- {
		q[i] = settle(i, wantedMotion(t, i, i, q))
	}
	return q
}

// exactly settles a motion as it is wanted.
func exactly(_ int, q train.Motion) train.Motion { return q }

// StraightLine moves every machine to the best straight line: of all lines that
// the running shafts could lie along with every coupling as wanted, the one with
// the smallest sum of squares, up and to the sides, over all foot stations.
//
// Where every coupling is as wanted the train may still be moved as a whole:
// with d_f the displacement of foot station f in a cascade from the first
// machine, station x_f, the line a + b x that makes Σ (d_f - a - b x_f)² least
// is taken off.
func StraightLine(t *train.Train) *optimize.Plan {
	moves := t.Stay()
	for i, q := range straightened(t) {
		moves[i] = settable(t, i, q)
	}
	return optimize.Try(t, moves)
}

// straightened are the motions to the best straight line.
func straightened(t *train.Train) []train.Motion {
	q := outwards(t, 0, exactly)
	var x, up, left []float64 // m from the train's zero, mm, mm
	for i := range t.Row() {
		m := &t.Machines[i]
		s := m.Kinematics()
		for _, feet := range m.Stations() {
			f := feet[0]
			x = append(x, (m.At+m.Feet[f].X)/1000)
			up = append(up, s.UpAt(f).Of(q[i]))
			left = append(left, s.LeftAt(f).Of(q[i]))
		}
	}
	upLine, leftLine := fitted(x, up), fitted(x, left)
	for i := range t.Row() {
		s := t.Machines[i].Kinematics()
		middle := t.Machines[i].At + s.Middle
		q[i][train.Up] -= upLine.At(middle)
		q[i][train.Pitch] += upLine.Slope
		q[i][train.Left] -= leftLine.At(middle)
		q[i][train.Yaw] -= leftLine.Slope
	}
	return q
}

// wantedMotion is the motion of machine i that brings a coupling of it, running,
// to what is wanted, the other machine having moved by its own motion.
func wantedMotion(t *train.Train, coupling, i int, q []train.Motion) train.Motion {
	c := &t.Couplings[coupling]
	still := make([]train.Motion, len(q))
	copy(still, q)
	still[i] = train.Motion{}
	is, _ := t.Linear(coupling, 0, still)
	forms := t.Forms(coupling)
	// What machine i has to add to its own shaft.
	form, sign := forms[1].EndForms, -1.0
	if i == c.From.Machine {
		form, sign = forms[0].Times(-1), 1
	}
	off := func(now, wanted train.Tilt) train.Tilt {
		return train.Tilt{Offset: sign * (now.Offset - wanted.Offset), Angle: sign * (now.Angle - wanted.Angle)}
	}
	v, h := off(is.V, c.Wanted.V), off(is.H, c.Wanted.H)
	m := train.Motion{train.Pitch: -v.Angle, train.Yaw: h.Angle}
	m[train.Up] = v.Offset - form.V.Of(m)
	m[train.Left] = h.Offset - form.H.Of(m)
	return m
}

// settable is what is set at the feet of machine i for a motion, to whole steps.
func settable(t *train.Train, i int, q train.Motion) []train.FootMove {
	m := &t.Machines[i]
	s := m.Kinematics()
	feet := make([]train.FootMove, len(m.Feet))
	for f := range feet {
		feet[f] = train.FootMove{
			Up:   whole(s.UpAt(f).Of(q), t.ShimsOf(i).Step),
			Left: whole(s.LeftAt(f).Of(q), t.Units.Resolution()),
		}
	}
	return feet
}

// whole is the multiple of a step that is nearest.
func whole(x, step float64) float64 { return math.Round(x/step) * step }

// fitted is the least-squares line through points, x in m.
func fitted(x, y []float64) train.Line {
	n := float64(len(x))
	var meanX, meanY, xx, xy float64
	for i := range x {
		meanX += x[i] / n
		meanY += y[i] / n
	}
	for i := range x {
		xx += (x[i] - meanX) * (x[i] - meanX)
		xy += (x[i] - meanX) * (y[i] - meanY)
	}
	var l train.Line
	if xx > 0 {
		l.Slope = xy / xx
	}
	l.Start = meanY - l.Slope*meanX
	return l
}
