package families

// together adds up the shares of the limits of most couplings.
func (d *draw) together() {
	switch {
	case d.chance(0.4):
		d.gaps()
	case d.chance(0.3):
		d.eachPlane()
	}
	for i, c := range d.t.couplings {
		c.combined = i == 0 || d.chance(0.7)
	}
}

// slides makes holes close and feet slide in them; some machines grow by the rise of their feet, and in some trains a
// machine has growth of its own in one condition.
func (d *draw) slides() {
	for i, m := range d.t.machines {
		rise := 0.0
		if d.chance(0.4) {
			m.growth, rise = nil, d.between(10, 60, 1)
		}
		for k := range m.feet {
			f := &m.feet[k]
			f.hole = f.bolt + d.between(1, 3, 0.1)
			slack := (f.hole - f.bolt) / 2
			f.axial, f.left = d.about(0.3*slack), d.about(0.3*slack)
			if f.rise = rise; rise > 0 && k > 0 {
				f.rise += d.between(0, 20, 1)
			}
			if d.chance(0.3) {
				f.free = d.between(0.05, 0.2, 0.05)
			}
		}
		if i > 0 && d.chance(0.3) {
			m.axial = true
		}
	}
	if !d.chance(0.5) {
		return
	}
	i := d.rnd.IntN(len(d.t.machines))
	m := d.t.machines[i]
	c := condition{name: "other load", machine: -1, run: 1, use: 1.2, own: i}
	for _, f := range m.feet {
		c.grown = append(c.grown, station{x: f.x, v: d.between(0, 0.5, 0.01), h: d.about(0.1), a: d.about(0.4)})
	}
	d.t.conditions = append(d.t.conditions, c)
}

// flats gives machines shim steps and soft foot of their own; gear cases roll.
func (d *draw) flats() {
	if len(d.t.machines) > 2 && d.chance(0.3) {
		d.gear()
	}
	for _, m := range d.t.machines {
		if d.chance(0.5) {
			m.step = [...]string{"0.02", "0.1", "0"}[d.rnd.IntN(3)]
		}
		if d.chance(0.6) {
			m.flat = d.between(0.01, 0.08, 0.01)
		}
	}
}

// warm limits warm-up in between.
func (d *draw) warm() {
	d.t.transient = d.between(1, 2, 0.1)
	for _, c := range d.t.couplings {
		c.combined = d.chance(0.2)
	}
}
