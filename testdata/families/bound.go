package families

import "math"

// bound stands the crew before feet that are base-bound or bolt-bound, or both:
// little under many feet and little room above some; close holes with the bolts
// off their centres. Here and there a gear case, machines that may be shifted
// along, a third foot station. About half of the trains have a held machine; few
// have a cold start, so that it is feet that are in conflict and not conditions.
func (d *draw) bound() {
	base, side := d.chance(0.7), d.chance(0.7)
	if !base && !side {
		base, side = true, true
	}
	switch {
	case d.chance(0.12):
		d.gear()
	case d.chance(0.12):
		d.gaps()
	case d.chance(0.12):
		d.middleFeet()
	}
	for _, m := range d.t.machines {
		bolt := []float64{16, 18, 20, 22, 24, 27, 30, 33, 36, 39, 42}[d.rnd.IntN(11)]
		hole := bolt + d.between(0.4, 1.5, 0.1)
		off := 0.7
		if !side {
			hole, off = bolt+d.between(3, 5, 0.1), 0.2
		}
		for k := range m.feet {
			f := &m.feet[k]
			f.bolt, f.hole = bolt, hole
			slack := (hole - bolt) / 2
			f.axial, f.left = d.about(0.3*slack), d.about(off*slack)
			f.other = [2]float64{}
			if base {
				d.shortPack(f)
			}
		}
	}
	if n := len(d.t.machines); d.chance(0.5) {
		m := d.t.machines[d.rnd.IntN(n)]
		m.hold, m.v, m.h = true, line{}, line{}
	}
	if d.chance(0.15) {
		d.conditions = 2
		d.states()
	}
}

// middleFeet gives every machine a third foot station.
func (d *draw) middleFeet() {
	for _, m := range d.t.machines {
		a, b := m.feet[0], m.feet[1]
		middle := foot{name: "B", x: math.Round((a.x+b.x)/10) * 5, spread: a.spread, shim: a.shim}
		b.name = "C"
		m.feet = []foot{a, middle, b}
	}
}

// shortPack leaves little to take out of a pack, or as much as usual. A pack of
// nothing says that nothing can come out.
func (d *draw) shortPack(f *foot) {
	f.lower, f.raise = 0, 0
	switch {
	case d.chance(0.5):
		f.shim = d.between(0, 0.4, 0.05)
	case d.chance(0.6):
		f.shim = d.between(1, 4, 0.5)
		f.lower = d.between(0.05, 0.4, 0.05)
	default:
		f.shim = d.between(2, 6, 0.5)
	}
	switch {
	case d.chance(0.4):
		f.raise = d.between(0.2, 1, 0.1)
	case d.chance(0.5):
		f.raise = d.between(2, 6, 0.5)
	}
}
