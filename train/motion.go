package train

// The six components of a Motion and of a Form, in the package's frame.
const (
	Axial = iota
	Left
	Up
	Roll
	Pitch
	Yaw
)

// A Motion is a small rigid-body motion of a machine about the middle of its
// feet at the shim plane: Axial, Left and Up in mm; Roll, Pitch and Yaw in
// mrad.
type Motion [6]float64

// A FootMove is what the crew sets at one foot, in mm.
type FootMove struct {
	Up    float64 // shims added; negative: removed
	Left  float64 // negative: to the right
	Axial float64 // shift of the machine as a whole along the train; the same at all its feet
}

// Moves are what the crew sets: one FootMove for each foot of each machine.
type Moves [][]FootMove

// Stay are the moves that leave the train as it was found.
func (t *Train) Stay() Moves {
	moves := make(Moves, len(t.Machines))
	for i := range t.Machines {
		moves[i] = make([]FootMove, len(t.Machines[i].Feet))
	}
	return moves
}

// Moved says whether anything is moved at machine i.
func (m Moves) Moved(i int) bool {
	for _, f := range m[i] {
		if f != (FootMove{}) {
			return true
		}
	}
	return false
}

// A Kinematics says how a machine follows its feet: which rigid motion follows
// from what is set at each foot. The machine sits on the least-squares plane
// of its packs, and the side moves are those of the least-squares line through
// them; where the feet fix a motion without slack both fit exactly.
type Kinematics struct {
	Middle   float64    // mm, mean station of the feet, in the machine's own stations
	Pack     []Motion   // Pack[f]: motion for 1 mm more pack at foot f alone
	Side     []Motion   // Side[f]: motion for 1 mm to the left at foot f alone
	Leverage []float64  // of foot f in the plane of the packs: 1 where no other foot checks it
	dx, dy   []float64  // m, of each foot from the middle of all feet
	inverse  [3]float64 // of the moments of the feet about their middle: xx, xy, yy, in 1/m²
	meanY    float64    // m
	side     [2]float64 // of the side moves: 1/n, and 1/sum of dx² in 1/m²
}

// flatLine is the share of the feet's own spread below which they count as
// standing on one line, so that nothing fixes the roll.
const flatLine = 1e-6

// Kinematics works out how the machine follows its feet. A direction that the
// feet do not fix (the roll of a machine whose feet are all on one line) does
// not move.
func (m *Machine) Kinematics() Kinematics {
	n := len(m.Feet)
	s := Kinematics{
		Pack: make([]Motion, n), Side: make([]Motion, n), Leverage: make([]float64, n),
		dx: make([]float64, n), dy: make([]float64, n),
	}
	if n == 0 {
		return s
	}
	for _, f := range m.Feet {
		s.Middle += f.X / float64(n)
		s.meanY += f.Y / 1000 / float64(n)
	}
	var xx, xy, yy float64
	for i, f := range m.Feet {
		s.dx[i] = (f.X - s.Middle) / 1000
		s.dy[i] = f.Y/1000 - s.meanY
		xx += s.dx[i] * s.dx[i]
		xy += s.dx[i] * s.dy[i]
		yy += s.dy[i] * s.dy[i]
	}
	switch det := xx*yy - xy*xy; {
	case det > flatLine*xx*yy && xx > 0:
		s.inverse = [3]float64{yy / det, -xy / det, xx / det}
	case xx > 0:
		s.inverse = [3]float64{1 / xx, 0, 0}
	case yy > 0:
		s.inverse = [3]float64{0, 0, 1 / yy}
	}
	s.side[0] = 1 / float64(n)
	if xx > 0 {
		s.side[1] = 1 / xx
	}
	for i := range m.Feet {
		slopeX := s.inverse[0]*s.dx[i] + s.inverse[1]*s.dy[i]
		slopeY := s.inverse[1]*s.dx[i] + s.inverse[2]*s.dy[i]
		s.Pack[i][Up] = 1/float64(n) - slopeY*s.meanY
		s.Pack[i][Roll] = slopeY
		s.Pack[i][Pitch] = -slopeX
		s.Side[i][Left] = s.side[0]
		s.Side[i][Yaw] = s.side[1] * s.dx[i]
		s.Leverage[i] = 1/float64(n) + slopeX*s.dx[i] + slopeY*s.dy[i]
	}
	return s
}

// Motion is the rigid motion that follows from what is set at the feet.
func (s *Kinematics) Motion(feet []FootMove) Motion {
	var q Motion
	for i, f := range feet {
		for c := range q {
			q[c] += s.Pack[i][c]*f.Up + s.Side[i][c]*f.Left
		}
		q[Axial] += f.Axial / float64(len(feet))
	}
	return q
}

// firm is the leverage from which on a foot has no other feet to be soft
// against.
const firm = 1 - 1e-9

// Soft is the soft foot in mm that the packs leave at each foot: how far its
// pack is from the plane through the other feet. Positive: the pack is
// too thick. A foot that the others do not check has none.
func (s *Kinematics) Soft(feet []FootMove) []float64 {
	q := s.Motion(feet)
	soft := make([]float64, len(feet))
	for i, f := range feet {
		if s.Leverage[i] < firm {
			soft[i] = (f.Up - s.UpAt(i).Of(q)) / (1 - s.Leverage[i])
		}
	}
	return soft
}

// UpAt and LeftAt are how far the machine carries foot i up and to the left,
// and AxialAt along the train, as forms of its motion.
func (s *Kinematics) UpAt(i int) Form    { return s.point(i, 2) }
func (s *Kinematics) LeftAt(i int) Form  { return s.point(i, 1) }
func (s *Kinematics) AxialAt(i int) Form { return s.point(i, 0) }

func (s *Kinematics) point(i, axis int) Form {
	return displacement(s.dx[i], s.dy[i]+s.meanY, 0)[axis]
}

// A Form is a linear function of a machine's motion: the sum of its
// components times those of the Motion.
type Form [6]float64

// Of is the form's value for a motion.
func (f Form) Of(q Motion) float64 {
	var sum float64
	for i := range f {
		sum += f[i] * q[i]
	}
	return sum
}

// Plus is f + k·g.
func (f Form) Plus(k float64, g Form) Form {
	for i := range f {
		f[i] += k * g[i]
	}
	return f
}

// Times is k·f.
func (f Form) Times(k float64) Form { return Form{}.Plus(k, f) }

// displacement is d = t + r × p, axis by axis (along, left, up), as forms of
// the motion, for a point p in metres from the middle of the feet.
func displacement(x, y, z float64) [3]Form {
	return [3]Form{
		{Axial: 1, Pitch: z, Yaw: -y},
		{Left: 1, Yaw: x, Roll: -z},
		{Up: 1, Roll: y, Pitch: -x},
	}
}

// Point is the displacement along, left and up of the point (x, y, z) of the
// machine, in mm in its own stations, as forms of its motion.
func (m *Machine) Point(s *Kinematics, x, y, z float64) [3]Form {
	return displacement((x-s.Middle)/1000, y/1000, z/1000)
}
