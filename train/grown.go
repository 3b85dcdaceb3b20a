package train

// GrowthOf is what moves a shaft from cold to running: its own growth, or that of its machine.
func (t *Train) GrowthOf(e End) *Growth {
	m := &t.Machines[e.Machine]
	if own := m.Shafts[e.Shaft].Growth; own != nil {
		return own
	}
	return &m.Growth
}

// share is how much of its growth and of its shafts' journal shift machine i has in the condition.
func (c *Condition) share(i int) Share {
	return Share{Growth: c.Growth[i], Run: c.Run, Own: c.OwnGrowth(i)}
}

// OwnGrowth is the growth that machine i has in this condition in place of a share; nil where it has a share.
func (c *Condition) OwnGrowth(i int) *Growth {
	for k := range c.Own {
		if c.Own[k].Machine == i {
			return &c.Own[k].Growth
		}
	}
	return nil
}

// Grown is how far growth from cold to running takes the centreline of a shaft at the train station x, in mm,
// + up, + left, + toward the last machine. The journal shift is not in it.
func (t *Train) Grown(e End, x float64) (up, left, axial float64) {
	w := t.warmed(e, x, Share{Growth: 1})
	return w.v, w.h, w.a
}

// Rolled is how far a roll of the case in mrad, + raises the left side, takes the centreline of a shaft, in mm,
// + up and + left, to first order: with the shaft y to the left of the machine's centreline and z above the shim
// plane, up = roll y and left = -roll z.
func (m *Machine) Rolled(shaft int, roll float64) (up, left float64) {
	s := &m.Shafts[shaft]
	return roll * s.Y / 1000, -roll * (m.Height + s.Z) / 1000
}
