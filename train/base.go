package train

import "gonum.org/v1/gonum/spatial/r3"

// A base is a rigid body on feet of its own that carries machines. It stands in Train.Machines, after the machines
// that couplings join, and has no shafts. Its Height is where the shim plane of the first machine that it carries
// lies above its own, in mm; its y counts from that machine's centreline. Where the others stand follows from the
// couplings, were they in line.
//
// With G the rigid motion of the base and q what a machine is moved by on it, the machine goes by q first and G
// takes all of it along. To first order a point p of the machine, seen from the middle of the base's feet, goes by
//
//	d(p) = t + r × p + T + R × p.
//
// What is between the machine and its base (feet, holes, packs, soft foot) knows q alone. So does a coupling between
// two machines of one base: it is measured as the base carries it.

// Row is how many machines couplings join; the bases come after them.
func (t *Train) Row() int {
	n := len(t.Machines)
	for n > 0 && t.Machines[n-1].IsBase() {
		n--
	}
	return n
}

// IsBase says whether the machine is a base that carries others.
func (m *Machine) IsBase() bool { return len(m.Carries) > 0 }

// BaseOf is the base that carries machine i; -1: it stands on the ground.
func (t *Train) BaseOf(i int) int {
	for b := len(t.Machines) - 1; b >= 0 && t.Machines[b].IsBase(); b-- {
		for _, c := range t.Machines[b].Carries {
			if c == i {
				return b
			}
		}
	}
	return -1
}

// Order are the machines from the first to the last, a base right before the first machine that it carries.
func (t *Train) Order() []int {
	before := make([][]int, t.Row())
	for b := t.Row(); b < len(t.Machines); b++ {
		first := t.Machines[b].Carries[0]
		before[first] = append(before[first], b)
	}
	var out []int
	for i := range before {
		out = append(append(out, before[i]...), i)
	}
	return out
}

// Moves says whether a motion of machine i, or of a base, changes coupling c.
func (t *Train) Moves(i, c int) bool {
	for _, b := range t.Bodies(c) {
		if b.Body == i {
			return true
		}
	}
	return false
}

// A Body is one whose motion moves a shaft of a coupling.
type Body struct {
	Body int  // index into Train.Machines
	To   bool // it carries the To shaft; else the From shaft
}

// Bodies are those of coupling i: its From and its To machine, and then the bases that these stand on, unless it is
// one and the same.
func (t *Train) Bodies(i int) []Body {
	c := &t.Couplings[i]
	out := []Body{{c.From.Machine, false}, {c.To.Machine, true}}
	from, to := t.BaseOf(c.From.Machine), t.BaseOf(c.To.Machine)
	if from == to {
		return out
	}
	if from >= 0 {
		out = append(out, Body{from, false})
	}
	if to >= 0 {
		out = append(out, Body{to, true})
	}
	return out
}

// A carriage is where a machine stands on its base: m from the middle of the base's feet to the middle of its own.
type carriage struct{ x, y, z float64 }

// onBase is the carriage of machine i, which a base carries.
func (t *Train) onBase(i int) carriage {
	b := t.BaseOf(i)
	own, base := t.Machines[i].Kinematics(), t.Machines[b].Kinematics()
	y, z := t.inLine()
	return carriage{
		x: (t.Machines[i].At + own.Middle - t.Machines[b].At - base.Middle) / 1000,
		y: (y[i] - y[b]) / 1000, z: (z[i] - z[b]) / 1000,
	}
}

// form is a form of the machine's motion as one of the motion of its base.
func (c carriage) form(f Form) Form {
	out := Form{Roll: f[Roll], Pitch: f[Pitch], Yaw: f[Yaw]}
	for axis, d := range displacement(c.x, c.y, c.z) {
		out = out.Plus(f[axis], d)
	}
	return out
}

// OnBase is a form of machine i's motion as one of the motion of the base that carries it.
func (t *Train) OnBase(i int, f Form) Form { return t.onBase(i).form(f) }

// Motions are what the moves come to, of each machine on what it stands on.
func (t *Train) Motions(moves Moves) []Motion {
	out := make([]Motion, len(t.Machines))
	for i := range out {
		s := t.Machines[i].Kinematics()
		out[i] = s.Motion(moves[i])
	}
	return out
}

// placeBases puts the bases square under the machines, which stand in line.
func (t *Train) placeBases(poses []pose) {
	row := t.Row()
	if row == len(t.Machines) {
		return
	}
	y, z := t.inLine()
	for i := row; i < len(poses); i++ {
		poses[i].at.Y, poses[i].at.Z = y[i], z[i]
	}
}

// A posed train is one after some motions by true geometry.
type posed struct {
	train   *Train
	found   []pose
	motions []Motion
	own     []pose // as each machine was moved on what it stands on
	whole   []pose // with what its base took it along
}

func (t *Train) posed(found []pose, motions []Motion) *posed {
	p := &posed{train: t, found: found, motions: append([]Motion(nil), motions...), own: make([]pose, len(found))}
	for i := range found {
		p.own[i] = found[i].moved(motions[i])
	}
	p.whole = append([]pose(nil), p.own...)
	for i := t.Row(); i < len(found); i++ {
		p.carry(i)
	}
	return p
}

// set changes the motion of one machine.
func (p *posed) set(i int, q Motion) {
	p.motions[i], p.own[i] = q, p.found[i].moved(q)
	p.whole[i] = p.own[i]
	if p.train.Machines[i].IsBase() {
		p.carry(i)
	} else if b := p.train.BaseOf(i); b >= 0 {
		p.whole[i] = p.carried(i, b)
	}
}

// carry takes along what base b carries.
func (p *posed) carry(b int) {
	for _, i := range p.train.Machines[b].Carries {
		p.whole[i] = p.carried(i, b)
	}
}

// carried is machine i as its base b takes it along.
func (p *posed) carried(i, b int) pose {
	out := p.own[i]
	if p.motions[b] == (Motion{}) {
		return out
	}
	base := p.own[b] // placed square, so that its turn is what it was turned by
	out.at = r3.Add(base.at, base.turn.Rotate(r3.Sub(out.at, p.found[b].at)))
	out.turn = compose(base.turn, out.turn)
	return out
}

// at is where the coupling's machines are measured from: on their base where both stand on the same.
func (p *posed) at(c *Coupling) []pose {
	if b := p.train.BaseOf(c.From.Machine); b >= 0 && b == p.train.BaseOf(c.To.Machine) {
		return p.own
	}
	return p.whole
}
