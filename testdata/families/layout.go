package families

// A layout is a train about to be written: lengths, moves and growth in mm,
// angles in mrad, signs as in the train file.
type layout struct {
	title      string
	inch       bool
	use        float64 // aim.use; 0: not written
	transient  float64 // aim.transient; 0: not written
	keep       float64 // mm, pack that must stay; 0: not written
	machines   []*machine
	bases      []*base
	couplings  []*coupling
	conditions []condition
}

type machine struct {
	name              string
	at                float64 // mm, station of the machine's own zero
	height            float64 // mm
	rpm               float64 // 1/min
	hold, roll, axial bool
	effort            float64 // 1 as usual
	step              string  // of its shims, as written; "": not written
	flat              float64 // mm, of its packs; 0: not written
	level             *level
	shafts            []shaft
	feet              []foot
	growth            []station
	nozzles           []nozzle

	v, h line // where the shaft stands off true, in train stations
}

// A base is a body on feet of its own under some of the machines: of the machine that it is written as it has
// name, at, height (of the first carried machine's shim plane above its own), hold, roll, axial, effort, step, flat,
// level and feet.
type base struct {
	machine
	carries []int
}

// A line is a shaft's stand off true: mm at station zero, and mrad.
type line struct{ start, slope float64 }

func (l line) at(x float64) float64 { return l.start + l.slope*x/1000 }

type level struct{ pitch, roll, foundPitch, foundRoll float64 } // mrad

type shaft struct {
	name       string
	y, z       float64 // mm
	runV, runH float64 // mm
}

// A foot is a pair at ±spread/2, or with spread 0 one foot at y.
type foot struct {
	name       string
	x          float64    // mm, in the machine's own stations
	spread, y  float64    // mm
	shim       float64    // mm
	lower      float64    // mm; 0: not written
	raise      float64    // mm; 0: not written
	bolt, hole float64    // mm; 0: not written
	axial      float64    // mm, of the bolt in the hole
	left       float64    // mm, of the bolt in the hole
	rise       float64    // °C, of a steel foot; 0: not written
	free       float64    // mm; 0: not written
	travel     [2]float64 // mm, left and right; 0: not written
	other      [2]float64 // mm, pack under the left and the right foot where it differs; 0: not written
}

type station struct{ x, v, h, a float64 } // mm

type nozzle struct {
	name           string
	x, y, z, limit float64 // mm
}

type coupling struct {
	name          string
	from, to      int
	fromShaft     string
	toShaft       string
	x             float64 // mm
	spacer        bool
	flex          [2]float64 // mm
	offset        float64    // mm, limit
	angle         float64    // mrad, limit
	gap           float64    // mm, limit; 0: not written
	eachPlane     bool
	combined      bool
	found, wanted [4]float64 // v offset mm, v angle mrad, h offset mm, h angle mrad
	foundGap      float64    // mm
	wantedGap     float64    // mm
	taken         float64    // share of growth; 0: not written
}

type condition struct {
	name    string
	growth  float64 // share
	machine int     // whose share is another; -1: nobody's
	other   float64 // share
	run     float64 // share
	use     float64 // share
	own     int     // machine with growth of its own, in place of all shares; -1: none
	grown   []station
}

// mirror swaps left and right.
func (t *layout) mirror() {
	for _, m := range t.machines {
		if m.level != nil {
			m.level.foundRoll = -m.level.foundRoll
		}
		for i := range m.shafts {
			m.shafts[i].y *= -1
			m.shafts[i].runH *= -1
		}
		for i := range m.feet {
			f := &m.feet[i]
			f.y, f.left = -f.y, -f.left
			f.swapSides()
		}
		for i := range m.growth {
			m.growth[i].h *= -1
		}
		for i := range m.nozzles {
			m.nozzles[i].y *= -1
		}
	}
	for _, c := range t.couplings {
		for k := 2; k < 4; k++ {
			c.found[k] *= -1
			c.wanted[k] *= -1
		}
	}
}

// turn looks at the train from its other end: x and y change sign, what was
// the From shaft is the To shaft, so vertical offsets and horizontal angles
// change sign while the other two stay.
func (t *layout) turn() {
	last := len(t.machines) - 1
	for i := range (last + 1) / 2 {
		t.machines[i], t.machines[last-i] = t.machines[last-i], t.machines[i]
	}
	for _, m := range t.machines {
		m.at = -m.at
		if m.level != nil {
			m.level.foundPitch, m.level.foundRoll = -m.level.foundPitch, -m.level.foundRoll
		}
		for i := range m.shafts {
			m.shafts[i].y *= -1
			m.shafts[i].runH *= -1
		}
		for i := range m.feet {
			f := &m.feet[i]
			f.x, f.y, f.axial, f.left = -f.x, -f.y, -f.axial, -f.left
			f.swapSides()
		}
		for i := range m.growth {
			g := &m.growth[i]
			g.x, g.h, g.a = -g.x, -g.h, -g.a
		}
		for i := range m.nozzles {
			n := &m.nozzles[i]
			n.x, n.y = -n.x, -n.y
		}
	}
	for i := range len(t.couplings) / 2 {
		j := len(t.couplings) - 1 - i
		t.couplings[i], t.couplings[j] = t.couplings[j], t.couplings[i]
	}
	for _, c := range t.couplings {
		c.from, c.to = last-c.to, last-c.from
		c.fromShaft, c.toShaft = c.toShaft, c.fromShaft
		c.x = -c.x
		c.flex = [2]float64{-c.flex[1], -c.flex[0]}
		for _, k := range [2]int{0, 3} {
			c.found[k] *= -1
			c.wanted[k] *= -1
		}
	}
	for i := range t.conditions {
		if c := &t.conditions[i]; c.machine >= 0 {
			c.machine = last - c.machine
		}
	}
}

func (f *foot) swapSides() {
	f.travel[0], f.travel[1] = f.travel[1], f.travel[0]
	f.other[0], f.other[1] = f.other[1], f.other[0]
}
