package robust

import (
	"slices"

	"leastmove/optimize"
	"leastmove/train"
)

// newErrorModel writes down what may be off about a plan, and what that does to the
// coupling limits.
func newErrorModel(p *optimize.Plan) *errorModel {
	t := p.Train
	e := &errorModel{}
	start := make([]int, len(t.Couplings)*len(t.Conditions)) // first test of each
	for i := range t.Couplings {
		for k := range t.Conditions {
			start[i*len(t.Conditions)+k] = len(e.tests)
			for _, u := range p.Planned.Couplings[i][k].Uses {
				e.tests = append(e.tests, test{
					Limit: optimize.OfCoupling(u.Kind.LimitKind(), i, k),
					each:  t.Couplings[i].Limit.EachPlane,
				})
				e.rows = append(e.rows, jacobianRow{planned: u.V / u.Limit}, jacobianRow{planned: u.H / u.Limit})
			}
			for _, b := range t.Couplings[i].Blends() {
				e.tests = append(e.tests, test{Limit: optimize.OfCoupling(train.LimitSum, i, k)})
				for row := range 2 {
					var planned float64
					for n, u := range p.Planned.Couplings[i][k].Uses {
						planned += (b.By[n][row][0]*u.V + b.By[n][row][1]*u.H) / u.Limit
					}
					e.rows = append(e.rows, jacobianRow{planned: planned})
				}
			}
		}
	}
	// add adds an error that moves coupling i in condition k by some misalignment
	// and distance between shaft ends in mm, for one half-width.
	add := func(which, i, k int, m train.Misalignment, gap float64) {
		c := &t.Couplings[i]
		uses := p.Planned.Couplings[i][k].Uses
		shares := make([][2]float64, len(uses))
		for n, u := range uses {
			v, h := gap, 0.0
			if u.Kind != train.Gap {
				o, a := c.Weights(u.Kind)
				v, h = o*m.V.Offset+a*m.V.Angle, o*m.H.Offset+a*m.H.Angle
			}
			shares[n] = [2]float64{v / u.Limit, h / u.Limit}
			e.enter(start[i*len(t.Conditions)+k]+n, which, shares[n])
		}
		for n, b := range c.Blends() {
			var by [2]float64
			for m, share := range shares {
				for row := range by {
					by[row] += b.By[m][row][0]*share[0] + b.By[m][row][1]*share[1]
				}
			}
			e.enter(start[i*len(t.Conditions)+k]+len(uses)+n, which, by)
		}
	}
	e.readings(t, add)
	e.placing(p, add)
	e.growth(t, add)
	e.part()
	return e
}

// enter notes that an error moves the rows of a test by some shares of its limit, for one half-width.
func (e *errorModel) enter(test, which int, by [2]float64) {
	for d, share := range by {
		if share != 0 {
			row := &e.rows[2*test+d]
			row.entries = append(row.entries, jacobianEntry{which, share / train.Half95})
		}
	}
}

type addError func(which, coupling, condition int, m train.Misalignment, gap float64)

// fresh numbers a new error of a measurement.
func (e *errorModel) fresh(m optimize.Measurement) int {
	n := slices.Index(e.single, m)
	if n < 0 {
		n = len(e.single)
		e.single = append(e.single, m)
	}
	e.of = append(e.of, n)
	return len(e.of) - 1
}

// readings are the errors of what was found: of each plane of a coupling two that are independent, the first that of
// the offset with what the angle has of it.
func (e *errorModel) readings(t *train.Train, add addError) {
	for i := range t.Couplings {
		v, h := t.FoundErrors(i)
		for _, r := range []struct {
			source optimize.Source
			by     train.Misalignment
		}{
			{optimize.FromOffset, train.Misalignment{V: v[0]}},
			{optimize.FromOffset, train.Misalignment{H: h[0]}},
			{optimize.FromAngle, train.Misalignment{V: v[1]}},
			{optimize.FromAngle, train.Misalignment{H: h[1]}},
		} {
			if r.by == (train.Misalignment{}) {
				continue
			}
			which := e.fresh(optimize.Measurement{Source: r.source, Coupling: i, Machine: -1})
			for k := range t.Conditions {
				add(which, i, k, r.by, 0)
			}
		}
	}
}

// placing are the errors of side moves: at each foot station of a machine that
// is moved, left and right feet together.
func (e *errorModel) placing(p *optimize.Plan, add addError) {
	t := p.Train
	if t.Errors.Placing == 0 {
		return
	}
	for i := range t.Machines {
		if !p.Moves.Moved(i) {
			continue
		}
		s := t.Machines[i].Kinematics()
		for _, feet := range t.Machines[i].Stations() {
			var q train.Motion
			for _, f := range feet {
				for c := range q {
					q[c] += t.Errors.Placing * s.Side[f][c]
				}
			}
			which := e.fresh(optimize.Measurement{Source: optimize.FromPlacing, Coupling: -1, Machine: i})
			for c := range t.Couplings {
				m, gap := shifted(t, c, i, q)
				for k := range t.Conditions {
					add(which, c, k, m, gap)
				}
			}
		}
	}
}

// shifted is what a motion of machine i does to a coupling.
func shifted(t *train.Train, coupling, i int, q train.Motion) (m train.Misalignment, gap float64) {
	for _, f := range t.Forms(coupling) {
		if f.Body == i {
			return f.Of(q)
		}
	}
	return m, 0
}
