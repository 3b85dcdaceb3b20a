package optimize

import (
	"cmp"
	"math"
	"slices"

	"leastmove/optimize/mip"
	"leastmove/train"
)

// A plan keeps its limits by true geometry; the search's rows are linear forms. What is
// proven is proven of true geometry all the same: each row has a bound on how far it may
// be off (train.Bend), limits are longer by as much in proofs, and where that leaves a
// box open it is split on (bnb.Firm).

// ranges are the ranges of motions, in mm along the train and in mrad, for which bounds
// are worked out, the closest first: second derivatives grow with the range.
var ranges = [...][2]float64{{10, 4}, {30, 9}, {50, 15}, {1100, 1.3 * Steepest}}

// Steepest is the most, in mrad, that a plan tilts or turns a machine: far beyond what any
// alignment takes. It makes what linear forms may be off finite where the file states no
// limit of how far a foot may go.
const Steepest = 10

// atHoles is how far in mm beyond the ends of its hole a side move is looked at in proofs.
// The hole itself bounds where the machine carries the foot by true geometry; an angle
// times an angle times a lever is far less than this.
const atHoles = 1.0

// curved is the task's problem with what its rows may be off, of its limits with those that
// are listed alone; nil: with all.
func (k *Model) curved(only []int) *mip.Problem {
	t, at := k.Train, k.at
	p, place := *k.Problem.Only(only), k.places(only)
	tangent := make([]train.Motion, len(t.Machines))
	if at != nil {
		tangent = at.motions
	}
	c := &curving{task: k, bender: t.Bender(tangent), turn: make([][6]int, len(t.Machines))}
	p.Turns = []mip.Row{}
	for i := range t.Machines {
		for q := range c.turn[i] {
			if c.turn[i][q] = -1; k.First[i] == k.Last[i] {
				continue
			}
			c.turn[i][q] = len(p.Turns)
			most := math.Inf(1)
			if q == train.Roll || q == train.Pitch || q == train.Yaw {
				most = Steepest*(1+2*CheckTolerance) + math.Abs(tangent[i][q])
			}
			p.TurnMost = append(p.TurnMost, most)
			p.Turns = append(p.Turns, k.row(mip.Row{Constant: -tangent[i][q]}, i, unit(q)))
		}
	}
	p.Vars = k.unholed(p.Vars)
	p.Limits = slices.Clone(p.Limits)
	for i := range p.Limits {
		if at == nil { // elsewhere they are as wide as the check takes them
			p.Limits[i].Radius *= 1 + CheckTolerance
		}
		p.Limits[i].Rows = slices.Clone(p.Limits[i].Rows)
		l := i
		if only != nil {
			l = only[i]
		}
		switch l := k.Labels[l]; l.Kind {
		case train.LimitBolt:
			p.Limits[i].Radius += train.BoltTilt
			f := &t.Machines[l.Machine].Feet[l.Foot]
			s := &k.kinematics[l.Machine]
			for axis, form := range [2]train.Form{s.AxialAt(l.Foot), s.LeftAt(l.Foot)} {
				p.Limits[i].Rows[axis].Off = c.point([]int{l.Machine}, f.X, f.Y, 0, axis, []train.Form{form})
			}
		case train.LimitNozzle:
			m := &t.Machines[l.Machine]
			z := m.Nozzles[l.Nozzle]
			for axis, form := range m.Point(&k.kinematics[l.Machine], z.X, z.Y, z.Z) {
				bodies, forms := []int{l.Machine}, []train.Form{form}
				if b := t.BaseOf(l.Machine); b >= 0 && k.First[b] < k.Last[b] {
					bodies, forms = append(bodies, b), append(forms, t.OnBase(l.Machine, form))
				}
				p.Limits[i].Rows[axis].Off = c.point(bodies, z.X, z.Y, z.Z, axis, forms)
			}
		}
	}
	next := slices.IndexFunc(k.Labels, func(l Limit) bool { return l.Coupling >= 0 })
	for i := range t.Couplings {
		for cond := range t.States() {
			for _, l := range couplingLimits(t, i, cond, at) {
				if at := place(next); at >= 0 {
					for n, q := range l.quantities {
						p.Limits[at].Rows[n].Off = c.coupling(i, cond, q)
					}
				}
				next++
			}
		}
	}
	k.steepest(&p)
	if only == nil {
		c.spacers(&p)
		c.apart(&p)
		k.slides(&p)
	}
	return &p
}

// places says where each limit of the model is among some; -1: it is not. nil: all are.
func (k *Model) places(only []int) func(i int) int {
	if only == nil {
		return func(i int) int { return i }
	}
	at := make([]int, len(k.Problem.Limits))
	for i := range at {
		at[i] = -1
	}
	for n, i := range only {
		at[i] = n
	}
	return func(i int) int { return at[i] }
}

// mostApart is the most conditions of a train of which each two are set against each other.
const mostApart = 4

// apart adds to a problem what the limits of a coupling in two conditions, or two states of warm-up, come to for the
// way from the one to the other, which growth alone makes: no move changes it but by an
// angle times what grows.
func (c *curving) apart(p *mip.Problem) {
	t := c.task.Train
	for i := range t.Couplings {
		for k := range t.States() {
			for l := range k {
				if !c.setApart(i, k, l) {
					continue
				}
				ours, theirs := couplingLimits(t, i, k, c.task.at), couplingLimits(t, i, l, c.task.at)
				for n := range ours {
					if ours[n].quantities[0].parts != nil {
						continue // it follows from no less than the limits that it adds up
					}
					p.Limits = append(p.Limits, c.between(i, k, l, &ours[n], &theirs[n]))
				}
			}
		}
	}
}

// setApart says whether states k and l of coupling i are set against each other: conditions where they are few, and in
// warm-up those that have nothing in common.
func (c *curving) setApart(i, k, l int) bool {
	t := c.task.Train
	n := len(t.Conditions)
	if k < n || l < n {
		return max(k, l) < n && n <= mostApart
	}
	a, b, cp := t.Condition(k), t.Condition(l), &t.Couplings[i]
	same := func(m int) bool {
		p, q := a.OwnGrowth(m), b.OwnGrowth(m)
		if p == nil || q == nil {
			return p == q && a.Growth[m] == b.Growth[m]
		}
		return *p == *q
	}
	return a.Run != b.Run && !same(cp.From.Machine) && !same(cp.To.Machine)
}

// slides adds to a problem what holes must let feet slide whatever the moves: from one condition, or cold, to another
// the bolt goes by no more than from one edge of its hole to the other.
func (k *Model) slides(p *mip.Problem) {
	for i := range k.Train.Machines {
		for f := range k.Train.Machines[i].Feet {
			b := &k.Train.Machines[i].Feet[f]
			if k.First[i] == k.Last[i] || !b.HoleKnown() {
				continue
			}
			ends := append([]train.Slide{{}}, k.Train.Slides(i, f)...)
			for n, to := range ends {
				for _, from := range ends[:n] {
					p.Limits = append(p.Limits, mip.Limit{
						Rows:   []mip.Row{{Constant: to.Axial - from.Axial}, {Constant: to.Left - from.Left}},
						Radius: 2 * (Play(b)*(1+2*CheckTolerance) + train.BoltTilt),
					})
				}
			}
		}
	}
}

// between is the limit of what a limit of coupling i in condition k is above that in
// condition l.
func (c *curving) between(i, k, l int, ours, theirs *couplingLimit) mip.Limit {
	out := mip.Limit{Radius: (ours.radius + theirs.radius) * (1 + CheckTolerance),
		Shared: k < len(c.task.Train.Conditions)}
	for n, a := range ours.quantities {
		b := theirs.quantities[n]
		forms := added(a.forms, -1, b.forms)
		constant := a.constant - b.constant
		r := c.task.couplingRow(i, constant, forms)
		r.Off = c.curves(bodies(c.task.Train, i), func(by []train.Range) []train.Bend {
			return c.bender.Apart(i, k, l, a.side, forms, constant, by)
		})
		out.Rows = append(out.Rows, r)
	}
	return out
}

// spacers adds to a problem what the limits at a spacer's two flex planes come to for the
// angle between its shafts, which is their sum. It follows from them, but linear forms are
// off the angle by far less than off the offsets at the planes.
func (c *curving) spacers(p *mip.Problem) {
	k := c.task
	for i := range k.Train.Couplings {
		cp := &k.Train.Couplings[i]
		if !cp.Spacer {
			continue
		}
		for cond := range k.Train.Conditions {
			var sum [2]quantity // up, left
			var radius float64
			for _, l := range couplingLimits(k.Train, i, cond, k.at) {
				if l.label.Kind != train.LimitFlex {
					continue
				}
				for _, q := range l.quantities {
					s := &sum[0]
					if q.side.Sideways {
						s = &sum[1]
					}
					s.constant += q.constant
					s.forms = added(s.forms, 1, q.forms)
					s.side.Offset, s.side.Angle, s.side.Sideways = s.side.Offset+q.side.Offset, s.side.Angle+q.side.Angle,
						q.side.Sideways
				}
				radius = 2 * l.radius
			}
			if cp.Limit.EachPlane {
				radius *= math.Sqrt2
			}
			l := mip.Limit{Radius: radius * (1 + CheckTolerance), Shared: true}
			for _, q := range sum {
				r := k.couplingRow(i, q.constant, q.forms)
				r.Off = c.coupling(i, cond, q)
				l.Rows = append(l.Rows, r)
			}
			p.Limits = append(p.Limits, l)
		}
	}
}

// steepest adds to a problem that no machine is tilted or turned by more than Steepest.
func (k *Model) steepest(p *mip.Problem) {
	for i := range k.Train.Machines {
		if k.First[i] == k.Last[i] {
			continue
		}
		for _, q := range [...]int{train.Roll, train.Pitch, train.Yaw} {
			if r := k.row(mip.Row{}, i, unit(q)); len(r.Terms) > 0 {
				p.Limits = append(p.Limits, mip.Limit{Rows: []mip.Row{r}, Radius: Steepest * (1 + CheckTolerance)})
			}
		}
	}
}

// A curving works out what rows may be off.
type curving struct {
	task   *Model
	bender *train.Bender
	turn   [][6]int // the problem's turn of each component of each machine's motion; -1: it stays
}

// point are the curves of the displacement of a point of a machine along an axis, by forms of its motion and of that of
// its base where that takes it along.
func (c *curving) point(bodies []int, x, y, z float64, axis int, forms []train.Form) []mip.Curve {
	return c.curves(bodies, func(by []train.Range) []train.Bend {
		return []train.Bend{c.bender.Point(bodies, x, y, z, axis, forms, by)}
	})
}

// coupling are the curves of a quantity of a coupling in a condition.
func (c *curving) coupling(i, cond int, q quantity) []mip.Curve {
	if q.parts != nil {
		return c.added(i, cond, q.parts)
	}
	return c.curves(bodies(c.task.Train, i), func(by []train.Range) []train.Bend {
		return c.bender.Coupling(i, cond, q.side, q.forms, q.constant, by)
	})
}

// bodies are those of coupling i.
func bodies(t *train.Train, i int) []int {
	var out []int
	for _, b := range t.Bodies(i) {
		out = append(out, b.Body)
	}
	return out
}

// added are the curves of a sum of quantities: it is off by no more than they are together.
func (c *curving) added(i, cond int, parts []quantityPart) []mip.Curve {
	out := make([]mip.Curve, len(ranges))
	for _, part := range parts {
		by := math.Abs(part.by)
		for n, curve := range c.coupling(i, cond, part.quantity) {
			out[n].Fixed += by * curve.Fixed
			out[n].Caps = append(out[n].Caps, curve.Caps...)
			for _, bend := range curve.Sum {
				bend.By, bend.Mean = bend.By*by, bend.Mean*part.by
				out[n].Sum = append(out[n].Sum, bend)
			}
		}
	}
	for n := range out {
		gathered(&out[n])
	}
	return out
}

// gathered makes one of the caps that are alike, and of the bends of the same two turns their sum.
func gathered(c *mip.Curve) {
	slices.SortStableFunc(c.Sum, func(a, b mip.Bend) int { return cmp.Or(a.A-b.A, a.B-b.B) })
	sum := c.Sum[:0]
	for _, b := range c.Sum {
		if n := len(sum); n > 0 && sum[n-1].A == b.A && sum[n-1].B == b.B {
			sum[n-1].By, sum[n-1].Mean = sum[n-1].By+b.By, sum[n-1].Mean+b.Mean
		} else {
			sum = append(sum, b)
		}
	}
	c.Sum = sum
	slices.SortFunc(c.Caps, func(a, b mip.Cap) int { return cmp.Or(a.Turn-b.Turn, cmp.Compare(a.Most, b.Most)) })
	c.Caps = slices.Compact(c.Caps)
}

// curves are the bends of a quantity of some bodies as curves of the problem, one for
// each of the ranges.
func (c *curving) curves(machines []int, bends func(by []train.Range) []train.Bend) []mip.Curve {
	var out []mip.Curve
	for _, reach := range ranges {
		var curve mip.Curve
		by := make([]train.Range, len(machines))
		for n, m := range machines {
			for q, turn := range c.turn[m] {
				if turn < 0 {
					continue
				}
				by[n][q] = 2 * Reach
				switch q {
				case train.Axial:
					by[n][q] = reach[0]
				case train.Roll, train.Pitch, train.Yaw:
					by[n][q] = reach[1]
				}
				if q != train.Left && q != train.Up {
					curve.Caps = append(curve.Caps, mip.Cap{Turn: turn, Most: by[n][q]})
				}
			}
		}
		known := true
		for _, b := range bends(by) {
			var turn []int
			for _, m := range b.Bodies {
				turn = append(turn, c.turn[m][:]...)
			}
			curve.Fixed += b.Fixed
			for a := range turn {
				if turn[a] < 0 {
					continue
				}
				known = known && !math.IsInf(b.Line[a], 0)
				if b.Line[a] > 0 {
					curve.Sum = append(curve.Sum, mip.Bend{A: turn[a], B: -1, By: b.Line[a]})
				}
				for d := a; d < len(turn); d++ {
					known = known && !math.IsInf(b.Square[a][d], 0)
					if b.Square[a][d] > 0 {
						curve.Sum = append(curve.Sum, mip.Bend{A: turn[a], B: turn[d], By: b.Square[a][d], Mean: b.Mean[a][d]})
					}
				}
			}
		}
		if !known { // Never holds
			curve = mip.Curve{Caps: []mip.Cap{{Turn: 0, Most: -1}}}
		}
		out = append(out, curve)
	}
	return out
}

// unholed are the variables with the range of a side move wider where it ends at a hole, and nowhere else.
func (k *Model) unholed(vars []mip.Var) []mip.Var {
	vars = slices.Clone(vars)
	for v := range vars {
		g, x := &k.Groups[v], &vars[v]
		if g.Act != SideMove || x.Lo == x.Hi {
			continue
		}
		travel, hole := k.sideRanges(g.Machine, g.Feet)
		if x.Lo == hole[0] {
			x.Lo = math.Max(travel[0], x.Lo-atHoles)
		}
		if x.Hi == hole[1] {
			x.Hi = math.Min(travel[1], x.Hi+atHoles)
		}
	}
	return vars
}

// unit is the form that is one component of a motion.
func unit(component int) train.Form {
	var f train.Form
	f[component] = 1
	return f
}
