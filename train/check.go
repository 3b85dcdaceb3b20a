package train

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/num/quat"
	"gonum.org/v1/gonum/spatial/r3"
)

// This file is the second way to a misalignment: true geometry. Machines are
// placed with finite rotations, shaft lines are met with the plane of each
// coupling, and the misalignment is measured there. It shares with forms.go
// only how far growth takes a point of a shaft.

// A State is the train after some moves, by true geometry.
type State struct {
	Machines  []MachineState
	Couplings [][]Reading // [coupling][condition]
	Warm      []Transient // of each coupling, the worst in warm-up; nil where that is not limited
}

// A MachineState is one machine after the moves.
type MachineState struct {
	Motion      Motion      // that follows from what was set at the feet; of a machine on a base, on that
	Feet        []FootState // as the machine carries them
	Nozzles     []float64   // mm, displacement of each nozzle
	Pitch, Roll float64     // mrad off level, as found and moved, with the base that carries it
}

// A FootState is where one foot ended.
type FootState struct {
	Axial, Left, Up float64 // mm from where it was found, on what it stands on
	Soft            float64 // mm, soft foot that its pack leaves; + too thick
}

// A Reading is one coupling in one condition.
type Reading struct {
	Misalignment
	Gap  float64 // mm between shaft ends; NaN where none was found
	Uses []Use
	Sum  float64 // of the shares, where they are limited together; else 0
}

// Worst is the largest share of a limit that the reading uses.
func (r *Reading) Worst() float64 {
	worst := r.Sum
	for _, u := range r.Uses {
		worst = math.Max(worst, u.Share)
	}
	return worst
}

// Worst is the largest share of a coupling limit that the state uses in
// any condition.
func (s *State) Worst() float64 {
	var worst float64
	for _, conditions := range s.Couplings {
		for k := range conditions {
			worst = math.Max(worst, conditions[k].Worst())
		}
	}
	return worst
}

// Check places every machine as it was found and then as the moves leave it,
// and measures every coupling in every condition from that geometry.
func (t *Train) Check(moves Moves) State {
	here := t.posed(t.placed(), t.Motions(moves))
	s := State{Machines: make([]MachineState, len(t.Machines)), Couplings: make([][]Reading, len(t.Couplings))}
	for i := range t.Machines {
		s.Machines[i] = t.state(i, moves[i], here)
	}
	for i := range t.Couplings {
		s.Couplings[i] = make([]Reading, len(t.Conditions))
		for k := range t.Conditions {
			s.Couplings[i][k] = t.measure(i, k, here)
		}
		if t.Between != nil {
			s.Warm = append(s.Warm, t.worstBetween(i, here))
		}
	}
	return s
}

// state is where machine i's feet ended on what it stands on, and its nozzles.
func (t *Train) state(i int, feet []FootMove, here *posed) MachineState {
	m, found, moved := &t.Machines[i], here.found[i], here.own[i]
	kinematics := m.Kinematics()
	s := MachineState{Motion: here.motions[i], Feet: make([]FootState, len(feet))}
	s.Pitch = m.Level.FoundPitch + s.Motion[Pitch]
	s.Roll = m.Level.FoundRoll + s.Motion[Roll]
	if b := t.BaseOf(i); b >= 0 {
		s.Pitch += here.motions[b][Pitch]
		s.Roll += here.motions[b][Roll]
	}
	soft := kinematics.Soft(m.WithExcess(feet))
	for i, f := range m.Feet {
		d := shift(found, moved, r3.Vec{X: f.X, Y: f.Y})
		s.Feet[i] = FootState{Axial: d.X, Left: d.Y, Up: d.Z, Soft: soft[i]}
	}
	for _, n := range m.Nozzles {
		s.Nozzles = append(s.Nozzles, r3.Norm(shift(found, here.whole[i], r3.Vec{X: n.X, Y: n.Y, Z: n.Z})))
	}
	return s
}

// WithExcess is what is set at the feet, in mm, with how much too thick their packs were before:
// what soft foot is worked out from.
func (m *Machine) WithExcess(feet []FootMove) []FootMove {
	out := slices.Clone(feet)
	for i := range out {
		out[i].Up += m.Feet[i].Excess
	}
	return out
}

// measure is coupling i in condition k with what it uses of its limits.
func (t *Train) measure(i, k int, here *posed) Reading {
	var r Reading
	r.Misalignment, r.Gap = t.misalignment(i, k, here)
	r.Uses = t.Uses(i, k, r.Misalignment, r.Gap)
	if t.Couplings[i].Limit.Combined {
		r.Sum = r.Added()
	}
	return r
}

// misalignment meets the shaft lines of coupling i in condition k with its plane. The
// distance between the shaft ends is in mm.
func (t *Train) misalignment(i, k int, here *posed) (Misalignment, float64) {
	c, cond := &t.Couplings[i], t.Condition(k)
	moved := here.at(c)
	from := t.line(c.From, c.X, moved, cond.share(c.From.Machine))
	to := t.line(c.To, c.X, moved, cond.share(c.To.Machine))
	fromX, toX := c.FaceX()
	along := func(e End, x float64) float64 {
		now := t.material(e, x, moved, cond.share(e.Machine))
		return now.X - t.material(e, x, here.found, c.Taken).X
	}
	return between(from, to, c.X), c.FoundGap + along(c.To, toX) - along(c.From, fromX)
}

// A pose takes a machine's own points to the train's frame: own stations, mm
// from the centreline and mm above the shim plane to stations, left and up.
type pose struct {
	middle r3.Vec      // of the feet, in the machine's own frame
	at     r3.Vec      // where that middle is, in the train's frame
	turn   r3.Rotation // about that middle
}

func (p pose) point(own r3.Vec) r3.Vec {
	return r3.Add(p.at, p.turn.Rotate(r3.Sub(own, p.middle)))
}

// moved is the pose after a motion about the middle of the feet.
func (p pose) moved(q Motion) pose {
	p.at = r3.Add(p.at, r3.Vec{X: q[Axial], Y: q[Left], Z: q[Up]})
	r := r3.Vec{X: q[Roll] / 1000, Y: q[Pitch] / 1000, Z: q[Yaw] / 1000} // rad
	if angle := r3.Norm(r); angle > 0 {
		p.turn = compose(r3.NewRotation(angle, r), p.turn)
	}
	return p
}

// compose turns first by b, then by a.
func compose(a, b r3.Rotation) r3.Rotation {
	return r3.Rotation(quat.Mul(quat.Number(a), quat.Number(b)))
}

// shift is how far a point of the machine goes from one pose to another.
func shift(from, to pose, own r3.Vec) r3.Vec { return r3.Sub(to.point(own), from.point(own)) }

// placed puts the machines where they were found: the first one square in the
// train's frame, each next one so that its coupling, measured in true geometry
// with what growth was there, shows what was read.
func (t *Train) placed() []pose {
	poses := make([]pose, len(t.Machines))
	for i := range t.Machines {
		m := &t.Machines[i]
		kinematics := m.Kinematics()
		poses[i] = pose{
			middle: r3.Vec{X: kinematics.Middle},
			at:     r3.Vec{X: m.At + kinematics.Middle},
			turn:   r3.NewRotation(0, r3.Vec{X: 1}),
		}
	}
	t.placeBases(poses)
	for i := range t.Couplings {
		c := &t.Couplings[i]
		want := t.line(c.From, c.X, poses, c.Taken)
		want.direction.Y += c.Found.H.Angle / 1000
		want.direction.Z += c.Found.V.Angle / 1000
		want.point.Y += c.Found.H.Offset
		want.point.Z += c.Found.V.Offset
		p := &poses[c.To.Machine]
		p.turn = turning(t.line(c.To, c.X, poses, c.Taken).direction, want.direction)
		have := t.line(c.To, c.X, poses, c.Taken)
		p.at.Y += want.point.Y - have.point.Y
		p.at.Z += want.point.Z - have.point.Z
	}
	return poses
}

// turning is the rotation that takes one direction to another the short way.
func turning(from, to r3.Vec) r3.Rotation {
	axis := r3.Cross(from, to)
	if r3.Norm(axis) == 0 {
		return r3.NewRotation(0, r3.Vec{X: 1})
	}
	return r3.NewRotation(math.Atan2(r3.Norm(axis), r3.Dot(from, to)), axis)
}

// A line is a shaft's centreline: where it meets a plane of the train, and its
// direction, scaled to 1 along the train.
type line struct{ point, direction r3.Vec }

// arm is how far apart, in mm, the two points of a shaft are taken that give
// its centreline.
const arm = 1000

// line is the centreline of the shaft at the train station x.
func (t *Train) line(e End, x float64, poses []pose, s Share) line {
	a := t.material(e, x, poses, s)
	d := r3.Sub(t.material(e, x+arm, poses, s), a)
	d = r3.Scale(1/d.X, d)
	return line{point: r3.Add(a, r3.Scale(x-a.X, d)), direction: d}
}

// material is where the point of the shaft that was at the train station x
// when cold has gone.
func (t *Train) material(e End, x float64, poses []pose, s Share) r3.Vec {
	m := &t.Machines[e.Machine]
	shaft := &m.Shafts[e.Shaft]
	w := t.warmed(e, x, s)
	return poses[e.Machine].point(r3.Vec{X: x - m.At + w.a, Y: shaft.Y + w.h, Z: m.Height + shaft.Z + w.v})
}

// between is the misalignment of two lines at the train station x.
func between(from, to line, x float64) Misalignment {
	return Misalignment{
		V: Tilt{Offset: to.point.Z - from.point.Z, Angle: 1000 * (to.direction.Z - from.direction.Z)},
		H: Tilt{Offset: to.point.Y - from.point.Y, Angle: 1000 * (to.direction.Y - from.direction.Y)},
	}
}
