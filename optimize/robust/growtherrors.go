package robust

import (
	"slices"

	"leastmove/optimize"
	"leastmove/train"
)

// growth are the errors of growth and of journal shifts, as far as they come between the reading of a coupling and a
// condition. Each machine has
//
//	growth        a share of what it grows, one error for all of it
//	growth_least  up, to the left and along the train, the machine as a whole
//
// and each shaft that a coupling sits on the same of its journal shift, without one along the train. An error
// is the same
// in every condition, by the share of growth or shift that it has.
func (e *errorModel) growth(t *train.Train, add addError) {
	for i := range t.Machines {
		if t.Errors.Growth > 0 {
			e.ofShare(t, i, add)
		}
		e.ofLeast(t, add, optimize.Measurement{Source: optimize.FromGrowth, Coupling: -1, Machine: i},
			func(end train.End) bool { return end.Machine == i },
			func(c *train.Coupling, k *train.Condition) float64 {
				if k.OwnGrowth(i) != nil {
					return 1 - c.Taken.Growth
				}
				return k.Growth[i] - c.Taken.Growth
			}, true)
		for s := range t.Machines[i].Shafts {
			e.journal(t, train.End{Machine: i, Shaft: s}, add)
		}
	}
}

// ofShare is the error of a share of what machine i grows: the difference that its growth makes, times that share.
func (e *errorModel) ofShare(t *train.Train, i int, add addError) {
	which := e.fresh(optimize.Measurement{Source: optimize.FromGrowth, Coupling: -1, Machine: i})
	by := t.Errors.Growth
	for c := range t.Couplings {
		if t.Couplings[c].From.Machine != i && t.Couplings[c].To.Machine != i {
			continue
		}
		without := *t
		without.Conditions = slices.Clone(t.Conditions)
		for k := range without.Conditions {
			u := &without.Conditions[k]
			u.Growth, u.Own = slices.Clone(u.Growth), slices.Clone(u.Own)
			u.Growth[i] = t.Couplings[c].Taken.Growth
			u.Own = slices.DeleteFunc(u.Own, func(o train.OwnGrowth) bool { return o.Machine == i })
		}
		for k := range t.Conditions {
			is, gap := t.AsFound(c, k)
			none, noneGap := without.AsFound(c, k)
			change := func(a, b train.Tilt) train.Tilt {
				return train.Tilt{Offset: by * (a.Offset - b.Offset), Angle: by * (a.Angle - b.Angle)}
			}
			add(which, c, k, train.Misalignment{V: change(is.V, none.V), H: change(is.H, none.H)}, by*(gap-noneGap))
		}
	}
}

// ofLeast are errors of Errors.GrowthLeast in each direction, of the shafts that on picks, by the share that a
// condition
// has beyond what was there when a coupling was read.
func (e *errorModel) ofLeast(t *train.Train, add addError, m optimize.Measurement, on func(train.End) bool,
	share func(*train.Coupling, *train.Condition) float64, along bool,
) {
	least := t.Errors.GrowthLeast
	if least == 0 {
		return
	}
	ways := []struct {
		by  train.Misalignment
		gap float64
	}{{train.Misalignment{V: train.Tilt{Offset: least}}, 0}, {train.Misalignment{H: train.Tilt{Offset: least}}, 0}}
	if along {
		ways = append(ways, struct {
			by  train.Misalignment
			gap float64
		}{train.Misalignment{}, least})
	}
	for _, way := range ways {
		e.shifts(t, add, m, on, share, way.by, way.gap)
	}
}

// shifts is one error that shifts shafts: by in mm up or to the left, gap in mm along the train.
func (e *errorModel) shifts(t *train.Train, add addError, m optimize.Measurement, on func(train.End) bool,
	share func(*train.Coupling, *train.Condition) float64, by train.Misalignment, gap float64,
) {
	which := e.fresh(m)
	for i := range t.Couplings {
		c := &t.Couplings[i]
		sign := 0.0
		if on(c.To) {
			sign++
		}
		if on(c.From) {
			sign--
		}
		if sign == 0 {
			continue
		}
		for k := range t.Conditions {
			size := sign * share(c, &t.Conditions[k])
			add(which, i, k, train.Misalignment{
				V: train.Tilt{Offset: size * by.V.Offset}, H: train.Tilt{Offset: size * by.H.Offset},
			}, size*gap)
		}
	}
}

// journal are the errors of the journal shift of one shaft.
func (e *errorModel) journal(t *train.Train, end train.End, add addError) {
	on := func(other train.End) bool { return other == end }
	if !slices.ContainsFunc(t.Couplings, func(c train.Coupling) bool { return on(c.From) || on(c.To) }) {
		return
	}
	m := optimize.Measurement{Source: optimize.FromGrowth, Coupling: -1, Machine: end.Machine}
	share := func(c *train.Coupling, k *train.Condition) float64 { return k.Run - c.Taken.Run }
	run := t.Machines[end.Machine].Shafts[end.Shaft].Run
	if by := t.Errors.Growth; by > 0 && run != (train.Shift{}) {
		e.shifts(t, add, m, on, share,
			train.Misalignment{V: train.Tilt{Offset: by * run.V}, H: train.Tilt{Offset: by * run.H}}, 0)
	}
	e.ofLeast(t, add, m, on, share, false)
}
