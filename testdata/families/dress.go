package families

import "math"

// wanted asks here and there for a misalignment other than zero.
func (d *draw) wanted() {
	for _, c := range d.t.couplings {
		if d.chance(0.3) {
			c.wanted = [4]float64{d.about(0.1), d.about(0.2), d.about(0.1), d.about(0.2)}
		}
		if d.chance(0.2) {
			c.taken = 0.3
		}
	}
	if d.chance(0.3) {
		d.t.keep = 0.5
	}
}

// gear makes one of the machines a gear case with two shafts.
func (d *draw) gear() {
	n := len(d.t.machines)
	i := 1 + d.rnd.IntN(n-2)
	m := d.t.machines[i]
	m.roll = true
	side := 1.0
	if d.chance(0.5) {
		side = -1
	}
	m.shafts = []shaft{
		{name: "pinion", y: side * d.between(120, 220, 5), runV: d.between(0.02, 0.08, 0.01), runH: d.about(0.05)},
		{name: "wheel", y: -side * d.between(150, 280, 5), runV: d.between(-0.06, 0.02, 0.01), runH: d.about(0.05)},
	}
	if d.chance(0.3) {
		m.shafts[0].z = d.between(-40, 40, 5)
	}
	m.level = &level{pitch: 0.8, roll: d.between(0.2, 0.4, 0.05), foundPitch: d.about(0.2), foundRoll: d.about(0.1)}
	d.t.couplings[i-1].toShaft = "pinion"
	d.t.couplings[i].fromShaft = "wheel"
}

// pipes adds nozzles and travel limits, and stands a machine on one foot at
// one of its ends here and there.
func (d *draw) pipes() {
	for _, m := range d.t.machines {
		last := &m.feet[len(m.feet)-1]
		if d.chance(0.2) {
			last.spread = 0
			last.other = [2]float64{}
		}
		for k := range m.feet {
			if d.chance(0.3) {
				m.feet[k].travel[d.rnd.IntN(2)] = d.between(0.3, 1, 0.1)
			}
		}
		if !d.chance(0.6) {
			continue
		}
		y := d.between(-900, 900, 10)
		if math.Abs(y) < 100 {
			y = 0
		}
		m.nozzles = append(m.nozzles, nozzle{"suction", m.feet[0].x + d.between(0, 300, 10), y, m.height +
			d.between(-200, 500, 10), d.between(0.3, 0.9, 0.05)})
		if d.chance(0.5) {
			m.nozzles = append(m.nozzles, nozzle{"discharge", last.x - d.between(0, 300, 10), -y, m.height +
				d.between(-200, 500, 10), d.between(0.3, 0.9, 0.05)})
		}
	}
}

// gaps finds, wants and limits distances between shaft ends, and lets
// machines be shifted along the train.
func (d *draw) gaps() {
	for _, m := range d.t.machines {
		m.axial = d.chance(0.7)
	}
	for _, c := range d.t.couplings {
		if !d.chance(0.7) {
			continue
		}
		length := 5.0
		if c.spacer {
			length = c.flex[1] - c.flex[0]
		}
		c.gap = d.between(0.5, 1, 0.05)
		c.wantedGap = length
		c.foundGap = length + d.about(0.8)
	}
}

func (d *draw) eachPlane() {
	for _, c := range d.t.couplings {
		c.eachPlane = true
	}
}

func (d *draw) efforts() {
	for _, m := range d.t.machines {
		m.effort = [4]float64{1, 1.5, 2, 3}[d.rnd.IntN(4)]
	}
}

// everything puts the other dresses on one train. What is the same to left and
// right, or to both ends, is drawn apart so that a mirror shows.
func (d *draw) everything() {
	d.gear()
	d.pipes()
	d.gaps()
	d.efforts()
}

// equal makes all machines alike and most of what is found zero, so that many
// plans are equally good.
func (d *draw) equal() {
	t := d.t
	t.conditions = nil
	x := 0.0
	span, overhang := 500*float64(1+d.rnd.IntN(3)), 250.0
	for _, m := range t.machines {
		m.at, m.height, m.growth = x, 500, nil
		m.v, m.h = line{}, line{}
		m.feet = m.feet[:0]
		for k := range 2 {
			m.feet = append(m.feet, foot{name: string(rune('A' + k)), x: overhang + float64(k)*span, spread: 800, shim: 4,
				raise: 4, bolt: 24, hole: 28})
		}
		x += span + 2*overhang
	}
	for i, c := range t.couplings {
		c.x = t.machines[i+1].at
		c.offset, c.angle = 0.05, 0.5
	}
	middle := len(t.machines) / 2
	switch m := t.machines[middle]; d.rnd.IntN(5) {
	case 0: // nothing to do
	case 1: // one machine high and to the side by as much
		m.v.start, m.h.start = 0.5, 0.5
	case 2: // everything behind it slopes up, by a round figure
		for _, m := range t.machines[middle:] {
			m.v = line{-t.couplings[middle-1].x / 1000, 1}
		}
	case 3: // every other machine stands higher
		for i, m := range t.machines {
			m.v.start = 0.3 * float64(i%2)
		}
	case 4: // found exactly at 70 % of the limit
		m.v.start = 0.035
	}
}
