package optimize

import (
	"math"

	"leastmove/optimize/mip"
	"leastmove/train"
)

// limit adds a limit of the train; a radius of zero leaves rounding its due.
// Where true geometry is in, limits are as wide as the check of the plan takes
// them, so that a bound holds for every plan that passes the check.
func (k *Model) limit(label Limit, radius float64, shared bool, rows ...mip.Row) {
	const least = 1e-6
	k.Labels = append(k.Labels, label)
	k.Problem.Limits = append(k.Problem.Limits, mip.Limit{Rows: rows, Radius: math.Max(radius, least) * k.Widening,
		Shared: shared})
}

// footLimits adds what machine i's feet, level and nozzles limit beyond the
// range of a single variable.
func (k *Model) footLimits(i int) {
	m, s := &k.Train.Machines[i], &k.kinematics[i]
	at := func(kind train.LimitKind, foot, nozzle int) Limit {
		return Limit{Kind: kind, Machine: i, Foot: foot, Nozzle: nozzle, Coupling: -1, Condition: -1}
	}
	if !math.IsInf(m.Level.Pitch, 1) {
		k.limit(at(train.LimitPitch, -1, -1), m.Level.Pitch, false,
			k.whole(mip.Row{Constant: m.Level.FoundPitch}, i, train.Form{train.Pitch: 1}))
	}
	if !math.IsInf(m.Level.Roll, 1) {
		k.limit(at(train.LimitRoll, -1, -1), m.Level.Roll, false,
			k.whole(mip.Row{Constant: m.Level.FoundRoll}, i, train.Form{train.Roll: 1}))
	}
	if k.First[i] == k.Last[i] {
		if b := k.Train.BaseOf(i); b >= 0 && k.First[b] < k.Last[b] {
			k.nozzles(i, at)
		}
		return
	}
	before := s.Soft(m.WithExcess(make([]train.FootMove, len(m.Feet)))) // mm, before any move
	for f := range m.Feet {
		if b := &m.Feet[f]; b.HoleKnown() {
			k.limit(at(train.LimitBolt, f, -1), Play(b), false,
				k.row(mip.Row{Constant: -b.BoltAt[0]}, i, s.AxialAt(f)),
				k.row(mip.Row{Constant: -b.BoltAt[1]}, i, s.LeftAt(f)))
			for _, hot := range k.Train.Slides(i, f) {
				label := at(train.LimitBolt, f, -1)
				label.Condition = hot.Condition
				k.limit(label, Play(b), false,
					k.row(mip.Row{Constant: hot.Axial - b.BoltAt[0]}, i, s.AxialAt(f)),
					k.row(mip.Row{Constant: hot.Left - b.BoltAt[1]}, i, s.LeftAt(f)))
			}
		}
		k.residuals(i, f, before[f], at(train.LimitFlat, f, -1))
	}
	k.nozzles(i, at)
}

// nozzles adds what those of machine i limit.
func (k *Model) nozzles(i int, at func(kind train.LimitKind, foot, nozzle int) Limit) {
	m, s := &k.Train.Machines[i], &k.kinematics[i]
	for n, z := range m.Nozzles {
		if math.IsInf(z.Limit, 1) {
			continue
		}
		p := m.Point(s, z.X, z.Y, z.Z)
		k.limit(at(train.LimitNozzle, -1, n), z.Limit, false,
			k.whole(mip.Row{}, i, p[0]), k.whole(mip.Row{}, i, p[1]), k.whole(mip.Row{}, i, p[2]))
	}
}

// residuals keeps what is set at foot f, which was before mm too thick before, near what the machine's rigid body
// uses: packs within the soft foot allowed, side moves within one step of
// the dial. Where the feet fix the motion without slack there is nothing to
// keep.
func (k *Model) residuals(i, f int, before float64, label Limit) {
	s := &k.kinematics[i]
	own := func(a Act) int {
		for v := k.First[i]; v < k.Last[i]; v++ {
			if k.Groups[v].Act == a {
				for _, g := range k.Groups[v].Feet {
					if g == f {
						return v
					}
				}
			}
		}
		panic("optimize: a foot without a variable")
	}
	if free := 1 - s.Leverage[f]; free > 1e-9 {
		r := k.row(mip.Row{Constant: before}, i, s.UpAt(f).Times(-1/free))
		if r = tidy(plus(r, own(ShimChange), 1/free)); len(r.Terms) > 0 {
			k.limit(label, k.Train.Machines[i].MostSoft(), false, r)
		}
	}
	r := k.row(mip.Row{}, i, s.LeftAt(f).Times(-1))
	if r = tidy(plus(r, own(SideMove), 1)); len(r.Terms) > 0 {
		label.Kind = train.LimitSteps
		k.limit(label, k.Train.Units.Resolution(), false, r)
	}
}

// tidy drops terms that cancelled to rounding.
func tidy(r mip.Row) mip.Row {
	kept := r.Terms[:0]
	for _, t := range r.Terms {
		if math.Abs(t.Coefficient) > 1e-9 {
			kept = append(kept, t)
		}
	}
	r.Terms = kept
	return r
}

// coupling adds the limits of coupling i in condition c; one of warm-up may use a share of its own.
func (k *Model) coupling(i, c int, at *Linearization) {
	for _, l := range couplingLimits(k.Train, i, c, at) {
		rows := make([]mip.Row, len(l.quantities))
		for n, q := range l.quantities {
			rows[n] = k.couplingRow(i, q.constant, q.forms)
		}
		k.limit(l.label, l.radius, c < len(k.Train.Conditions), rows...)
	}
}

// couplingRow is a constant and forms of the bodies of coupling i as a row over their variables.
func (k *Model) couplingRow(i int, constant float64, forms []train.Form) mip.Row {
	r := mip.Row{Constant: constant}
	for n, body := range k.Train.Bodies(i) {
		r = k.row(r, body.Body, forms[n])
	}
	return r
}

// A couplingLimit holds the length of one or two quantities of a coupling within a radius.
type couplingLimit struct {
	label      Limit
	radius     float64 // mm or mrad
	quantities []quantity
}

// A quantity of a coupling is what it is without any motion, off what is aimed at, and the
// forms of its bodies' motions.
type quantity struct {
	constant float64 // mm or mrad
	forms    []train.Form
	side     train.Side
	parts    []quantityPart // what it is the sum of; nil: itself
}

// A quantityPart is a quantity by which another one changes, times a factor.
type quantityPart struct {
	quantity
	by float64
}

// couplingLimits are the limits of coupling i in condition c, by forms that are tangent to
// true geometry somewhere; nil: where the train stands. All those in warm-up are one limit.
func couplingLimits(t *train.Train, i, c int, at *Linearization) (out []couplingLimit) {
	cp, may := &t.Couplings[i], t.Condition(c).Use
	of := func(kind train.LimitKind) Limit { return OfCoupling(kind, i, c) }
	if c >= len(t.Conditions) {
		may = t.Aim.Transient
		of = func(train.LimitKind) Limit { return OfCoupling(train.LimitWarm, i, -1) }
	}
	aim := cp.Aim(c)
	found, gap := t.AsFound(i, c)
	forms := t.Forms(i)
	if at != nil {
		found, gap, forms = at.back(&at.tangents[i][c])
	}
	by := func(form func(f *train.BodyForms) train.Form) []train.Form {
		out := make([]train.Form, len(forms))
		for n := range forms {
			out[n] = form(&forms[n])
		}
		return out
	}
	var shares [][2]quantityPart // up and left of each measure, as shares of its limit
	for _, kind := range cp.Measures() {
		label := of(kind.LimitKind())
		radius := cp.Bound(kind) * may
		if kind == train.Gap {
			along := quantity{gap - cp.WantedGap, by(func(f *train.BodyForms) train.Form { return f.Along }),
				train.Side{Along: 1}, nil}
			out = append(out, couplingLimit{label, radius, []quantity{along}})
			shares = append(shares, [2]quantityPart{{along, 1 / radius}})
			continue
		}
		o, a := cp.Weights(kind)
		v := quantity{o*(found.V.Offset-aim.V.Offset) + a*(found.V.Angle-aim.V.Angle),
			by(func(f *train.BodyForms) train.Form { return f.V.Times(o).Plus(a, f.VSlope) }),
			train.Side{Offset: o, Angle: a}, nil}
		h := quantity{o*(found.H.Offset-aim.H.Offset) + a*(found.H.Angle-aim.H.Angle),
			by(func(f *train.BodyForms) train.Form { return f.H.Times(o).Plus(a, f.HSlope) }),
			train.Side{Offset: o, Angle: a, Sideways: true}, nil}
		shares = append(shares, [2]quantityPart{{v, 1 / radius}, {h, 1 / radius}})
		if cp.Limit.EachPlane {
			out = append(out, couplingLimit{label, radius, []quantity{v}}, couplingLimit{label, radius, []quantity{h}})
		} else {
			out = append(out, couplingLimit{label, radius, []quantity{v, h}})
		}
	}
	for _, b := range cp.Blends() {
		out = append(out, couplingLimit{of(train.LimitSum), 1, blended(&b, shares)})
	}
	return out
}

// blended are the rows of one disc of a combined limit.
func blended(b *train.Blend, shares [][2]quantityPart) []quantity {
	var out []quantity
	for row := range 2 {
		var q quantity
		for n, by := range b.By {
			for plane, part := range shares[n] {
				if k := by[row][plane]; math.Abs(k) > idle {
					part.by *= k
					q.parts = append(q.parts, part)
					q.constant += part.by * part.constant
					q.forms = added(q.forms, part.by, part.forms)
				}
			}
		}
		if q.parts != nil {
			out = append(out, q)
		}
	}
	return out
}

// added are forms plus k × others of the same bodies; nil are none.
func added(forms []train.Form, k float64, others []train.Form) []train.Form {
	out := make([]train.Form, len(others))
	copy(out, forms)
	for n := range out {
		out[n] = out[n].Plus(k, others[n])
	}
	return out
}

// back are the forms of a tangent, and what they come to without any motion.
func (a *Linearization) back(t *train.Tangent) (m train.Misalignment, gap float64, forms []train.BodyForms) {
	by, along := train.Moved(t.Forms, a.motions)
	return t.Misalignment.Less(by), t.Gap - along, t.Forms
}
