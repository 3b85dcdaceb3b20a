package families

import "math"

// onBase puts some of the machines on a base that stands off true itself and takes them along. A machine on it is held
// here and there, so that the base alone can move it. A third of the machines on the ground are held.
func (d *draw) onBase() {
	n := len(d.t.machines)
	if n > 2 && d.chance(0.3) {
		d.gear()
	}
	if d.chance(0.3) {
		d.gaps()
	}
	count := max(1, n-1-d.rnd.IntN(2))
	first := d.rnd.IntN(n - count + 1)
	b := &base{machine: machine{name: "skid", effort: 1}}
	for k := range count {
		b.carries = append(b.carries, first+k)
	}
	if n > 2 && d.chance(0.15) { // both ends, with a machine on the ground between them
		b.carries = []int{0, n - 1}
	}
	start, end := math.Inf(1), math.Inf(-1)
	for _, i := range b.carries {
		m := d.t.machines[i]
		start = math.Min(start, m.at+m.feet[0].x)
		end = math.Max(end, m.at+m.feet[len(m.feet)-1].x)
		m.hold = d.chance(0.5)
		if d.chance(0.5) {
			m.effort = 1.5
		}
	}
	on := map[int]bool{}
	for _, i := range b.carries {
		on[i] = true
	}
	for i, m := range d.t.machines {
		if !on[i] && d.chance(0.33) {
			m.hold, m.v, m.h = true, line{}, line{}
		}
	}
	d.under(b, start-d.between(0, 300, 5), end+d.between(0, 300, 5))
	d.fault *= 2
	d.displace(&b.machine, start, end)
	for _, i := range b.carries {
		m := d.t.machines[i]
		m.v, m.h = b.v.with(m.v, 0.3), b.h.with(m.h, 0.3) // on the base they stand better than it does
		d.nozzleOn(m)
	}
	d.t.bases = append(d.t.bases, b)
}

// under gives the base feet from start to end.
func (d *draw) under(b *base, start, end float64) {
	if d.chance(0.5) {
		b.at = start
	}
	b.height = d.between(150, 500, 5)
	b.roll, b.axial, b.hold = d.chance(0.25), d.chance(0.25), d.chance(0.05)
	if d.chance(0.2) {
		b.effort = 1.5
	}
	if d.chance(0.3) {
		b.step = "0.1"
	}
	stations := 2 + d.rnd.IntN(2)
	if stations > 2 {
		b.flat = d.between(0.02, 0.06, 0.01)
	}
	if d.chance(0.4) {
		b.level = &level{pitch: 0.6, roll: 0.3, foundPitch: d.about(0.2), foundRoll: d.about(0.1)}
	}
	spread := d.between(800, 1600, 10)
	bolted := d.chance(0.5)
	for k := range stations {
		x := start + math.Round((end-start)*float64(k)/float64(stations-1)/5)*5
		f := foot{name: string(rune('P' + k)), x: x - b.at, spread: spread, shim: d.between(4, 12, 0.5),
			raise: d.between(3, 8, 0.5)}
		if bolted {
			f.bolt, f.hole = 30, 30+d.between(2, 5, 0.5)
		}
		b.feet = append(b.feet, f)
	}
}

// nozzleOn gives a machine a pipe now and then, which the base moves too.
func (d *draw) nozzleOn(m *machine) {
	if !d.chance(0.3) {
		return
	}
	m.nozzles = append(m.nozzles, nozzle{"suction", m.feet[0].x + d.between(0, 300, 10), d.between(-900, 900, 10),
		m.height + d.between(-200, 500, 10), d.between(0.6, 1.5, 0.05)})
}

// with is a line with a share of another added.
func (l line) with(m line, share float64) line {
	return line{l.start + share*m.start, l.slope + share*m.slope}
}
