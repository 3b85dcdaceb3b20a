package families

import (
	"fmt"
	"math"
	"math/rand/v2"
)

// A draw makes one train of a recipe.
type draw struct {
	recipe
	rnd *rand.Rand
	t   *layout
}

// between is an evenly drawn number in [lo, hi), to a whole multiple of step.
func (d *draw) between(lo, hi, step float64) float64 {
	return math.Round((lo+(hi-lo)*d.rnd.Float64())/step) * step
}

// about is a number in ±most, to 0.01.
func (d *draw) about(most float64) float64 { return d.between(-most, most, 0.01) }

func (d *draw) chance(p float64) bool { return d.rnd.Float64() < p }

func (d *draw) train() *layout {
	d.t = &layout{inch: d.inch}
	if d.chance(0.5) {
		d.t.use = 0.7
	}
	n := d.least + d.rnd.IntN(d.most-d.least+1)
	base := d.between(0, math.Max(0, d.grow-d.spread), 0.01)
	own := d.chance(0.5) // every machine counts its stations from its own zero
	end := 0.0
	for i := range n {
		d.machine(i, end, own, base)
		m := d.t.machines[i]
		end = m.at + m.feet[len(m.feet)-1].x + d.between(150, 500, 5)
		if i < n-1 {
			end = d.coupling(i, end)
		}
	}
	d.hold()
	d.states()
	if d.dress != nil {
		d.dress(d)
	}
	d.measure()
	return d.t
}

// machine adds machine i, whose shaft starts at the station start.
func (d *draw) machine(i int, start float64, own bool, base float64) {
	m := &machine{name: fmt.Sprintf("machine %d", i+1), effort: 1}
	m.height = d.between(350, 900, 5)
	m.rpm = d.between(1500, 12000, 10)
	if own {
		m.at = start
	}
	first := start + d.between(150, 500, 5)
	span := d.between(500, 2500, 5)
	spread := d.between(400, 1200, 5)
	b := d.bolt()
	for k := range d.stations {
		x := first + math.Round(span*float64(k)/float64(d.stations-1)/5)*5
		f := foot{name: string(rune('A' + k)), x: x - m.at, spread: spread}
		d.pack(&f)
		f.bolt, f.hole = b[0], b[1]
		if slack := (f.hole - f.bolt) / 2; d.chance(0.5) {
			f.axial, f.left = d.about(0.25*slack), d.about(0.25*slack)
		}
		m.feet = append(m.feet, f)
	}
	d.grows(m, base, first, first+span)
	d.displace(m, first, first+span)
	d.t.machines = append(d.t.machines, m)
}

func (d *draw) pack(f *foot) {
	if d.fine {
		f.shim = d.between(0.3, 1.2, 0.1)
		f.raise = d.between(0.5, 1.5, 0.1)
		return
	}
	f.shim = d.between(2, 8, 0.5)
	if d.chance(0.3) {
		f.lower = f.shim - 0.5
	}
	if d.chance(0.7) {
		f.raise = d.between(2, 6, 0.5)
	}
	if d.chance(0.1) {
		f.other[d.rnd.IntN(2)] = f.shim + 0.2
	}
}

// bolt is a bolt and its hole, both in mm: ISO 273 fine, medium or coarse,
// or ASME B18.2.8 close, normal or loose.
func (d *draw) bolt() [2]float64 {
	sizes := [][4]float64{{20, 21, 22, 24}, {24, 25, 26, 28}, {30, 31, 33, 35}, {36, 37, 39, 42}}
	unit := 1.0
	if d.inch {
		sizes = [][4]float64{{0.75, 0.781, 0.812, 0.906}, {1, 1.031, 1.094, 1.156}, {1.25, 1.281, 1.344, 1.438}}
		unit = 25.4
	}
	s := sizes[d.rnd.IntN(len(sizes))]
	fit := 2 + d.rnd.IntN(2)
	if d.fine {
		fit = 1 + d.rnd.IntN(2)
	}
	return [2]float64{s[0] * unit, s[fit] * unit}
}

// grows gives a machine its growth: around the train's, a line or uniform.
func (d *draw) grows(m *machine, base, first, last float64) {
	g := station{x: first - m.at, v: base + d.between(0, d.spread, 0.01), h: d.about(0.3 * d.spread),
		a: d.between(0, 0.5, 0.01)}
	m.growth = append(m.growth, g)
	if d.chance(0.6) {
		g.x = last - m.at
		g.v = math.Max(0, g.v+d.about(0.5*d.spread))
		g.h += d.about(0.2 * d.spread)
		g.a += d.between(0, 0.6, 0.01)
		m.growth = append(m.growth, g)
	}
}

// displace puts a machine off true, by what its first and last feet are off.
func (d *draw) displace(m *machine, first, last float64) {
	off := func() line {
		a, b := d.about(d.fault), d.about(d.fault)
		slope := (b - a) / (last - first) * 1000
		slope = math.Max(-1, math.Min(1, slope))
		return line{a - slope*first/1000, slope}
	}
	m.v, m.h = off(), off()
}

// coupling adds the coupling behind machine i, whose shaft ends at the station
// end, and returns where the next shaft starts.
func (d *draw) coupling(i int, end float64) float64 {
	c := &coupling{name: fmt.Sprintf("coupling %d", i+1), from: i, to: i + 1, x: end}
	next := end
	if c.spacer = d.chance(d.spacers); c.spacer {
		length := d.between(150, 600, 5)
		next = end + length
		c.flex = [2]float64{end, next}
		c.x = end + math.Round(length*d.rnd.Float64())
		c.angle = d.between(0.3, 0.6, 0.05) * d.limit
	} else {
		c.offset = d.between(0.03, 0.10, 0.01) * d.limit
		c.angle = d.between(0.3, 1, 0.05) * d.limit
	}
	d.t.couplings = append(d.t.couplings, c)
	return next
}

// hold holds one or more machines, no two of them neighbours. A held machine
// stands true, or nothing could be planned around it.
func (d *draw) hold() {
	if d.held == 0 {
		return
	}
	n := len(d.t.machines)
	held := []int{d.rnd.IntN(n)}
	if d.held > 1 && d.chance(0.5) {
		if j := d.rnd.IntN(n); j < held[0]-1 || j > held[0]+1 {
			held = append(held, j)
		}
	}
	for _, i := range held {
		m := d.t.machines[i]
		m.hold, m.v, m.h = true, line{}, line{}
	}
}

// states adds the conditions beside "running". Where couplings are no spacers
// a cold start is only half cold, or hardly any train could be both.
func (d *draw) states() {
	cold := 0.6 * (1 - d.spacers)
	if d.conditions > 1 && (d.conditions > 2 || d.chance(0.5)) {
		c := condition{name: "cold start", growth: cold + d.between(0, 0.6-0.5*cold, 0.05), machine: -1,
			run: 0, use: 1.3, own: -1}
		if d.chance(0.4) {
			c.machine = d.rnd.IntN(len(d.t.machines))
			c.other = math.Min(1, c.growth+0.2)
		}
		d.t.conditions = append(d.t.conditions, c)
	}
	if d.conditions > 2 {
		d.t.conditions = append(d.t.conditions, condition{name: "high guess", growth: d.between(1.05, 1.25, 0.05),
			machine: -1, run: 1, use: 1, own: -1})
	}
}

// measure works out the found misalignments from how the machines stand.
func (d *draw) measure() {
	for _, c := range d.t.couplings {
		from, to := d.t.machines[c.from], d.t.machines[c.to]
		c.found = [4]float64{
			to.v.at(c.x) - from.v.at(c.x), to.v.slope - from.v.slope,
			to.h.at(c.x) - from.h.at(c.x), to.h.slope - from.h.slope,
		}
	}
}
