package train

import "math"

// A Centreline is one shaft between its ends, by true geometry, and how far it
// is from where it would run were every coupling in line and cold.
type Centreline struct {
	End
	Y, Z     float64    // mm, where it would run: left of the first machine's centreline, above its shim plane
	X        [2]float64 // mm, train stations of its ends
	Left, Up [2]float64 // mm, how far from there it is at its ends
}

// Centrelines are the shafts of the train after the moves in condition k, machine
// by machine. The first machine as it was found, cold, is the straight line that
// distances are from.
func (t *Train) Centrelines(moves Moves, k int) []Centreline {
	poses := t.posed(t.placed(), t.Motions(moves)).whole
	y, z := t.inLine()
	cond := &t.Conditions[k]
	var out []Centreline
	for i := range t.Machines {
		m := &t.Machines[i]
		for s := range m.Shafts {
			c := Centreline{End: End{i, s}, Y: y[i] + m.Shafts[s].Y, Z: z[i] + m.Height + m.Shafts[s].Z}
			c.X = t.shaftEnds(c.End)
			for n, x := range c.X {
				at := t.line(c.End, x, poses, cond.share(i)).point
				c.Left[n], c.Up[n] = at.Y-c.Y, at.Z-c.Z
			}
			out = append(out, c)
		}
	}
	return out
}

// inLine is where the machines would stand were every coupling in line: mm to the
// left of the first one's centreline, and above its shim plane. Bases are where base.go puts them.
func (t *Train) inLine() (y, z []float64) {
	y, z = make([]float64, len(t.Machines)), make([]float64, len(t.Machines))
	for i := range t.Couplings {
		from, to := t.Couplings[i].From, t.Couplings[i].To
		a, b := &t.Machines[from.Machine], &t.Machines[to.Machine]
		y[i+1] = y[i] + a.Shafts[from.Shaft].Y - b.Shafts[to.Shaft].Y
		z[i+1] = z[i] + a.Height + a.Shafts[from.Shaft].Z - b.Height - b.Shafts[to.Shaft].Z
	}
	for i := t.Row(); i < len(t.Machines); i++ {
		first := t.Machines[i].Carries[0]
		y[i], z[i] = y[first], z[first]-t.Machines[i].Height
	}
	return y, z
}

// shaftEnds are the train stations of a shaft's ends: its couplings' faces, and
// where it has none the outermost feet.
func (t *Train) shaftEnds(e End) [2]float64 {
	x := t.Body(e.Machine)
	if i := e.Machine - 1; i >= 0 && t.Couplings[i].To == e {
		_, x[0] = t.Couplings[i].FaceX()
	}
	if i := e.Machine; i < len(t.Couplings) && t.Couplings[i].From == e {
		x[1], _ = t.Couplings[i].FaceX()
	}
	return x
}

// Body is from where to where a machine stands, in train stations in mm: its
// outermost feet, or, where the file gives it none, between its couplings.
func (t *Train) Body(i int) [2]float64 {
	m := &t.Machines[i]
	x := [2]float64{math.Inf(1), math.Inf(-1)}
	for _, f := range m.Feet {
		x[0], x[1] = math.Min(x[0], m.At+f.X), math.Max(x[1], m.At+f.X)
	}
	if len(m.Feet) > 0 {
		return x
	}
	x = [2]float64{m.At, m.At}
	if i > 0 && i <= len(t.Couplings) {
		_, x[0] = t.Couplings[i-1].FaceX()
	}
	if i < len(t.Couplings) {
		x[1], _ = t.Couplings[i].FaceX()
	}
	return x
}
