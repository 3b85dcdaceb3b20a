package view

import (
	"cmp"
	"math"
	"slices"

	"leastmove/train"
	"leastmove/train/readings"
)

// A ReadBack is what a train file says, for the people who measured it: how every coupling was found and how every
// machine grows. A sign the wrong way round or two feet swapped can be seen there and nowhere else.
type ReadBack struct {
	Couplings []CouplingBack // of every coupling
	Growth    []FootGrowth   // machine by machine, along the train
	Bolts     []int          // machines at whose feet the file says where a bolt sits in its hole: nothing checks the side
	// of the couplings nothing checks; nil where what was read is checked throughout
	Unchecked []UncheckedAt
}

// A CouplingBack is how one coupling was found.
type CouplingBack struct {
	Read    Misalignment // as the file has it
	Running Misalignment // with growth and journal shift
	Face    FaceGap      // as read, at the diameter of its face readings, else a round one
	Swapped *FaceGap     // the gap if 3 and 9 of one of its rims were swapped; nil: that is not strikingly smaller
	Taken   train.Share  // of growth and journal shift that was there when it was read
}

// A FootGrowth is how a machine grows at a station of its feet, or one of its shafts that has growth of its own.
type FootGrowth struct {
	Machine         int
	Feet            []int   // at that station
	X               float64 // mm, train station
	Shaft           string  // of a machine whose shafts grow differently; "" else
	Up, Left, Axial float64 // mm of the shaft there, from cold to running, Axial + toward the last machine
	UpUnknown       bool    // the file does not state it
	AxialUnknown    bool
}

// An UncheckedAt is a coupling where no second reading checks the signs and sides of some.
type UncheckedAt struct {
	Coupling int
	Dials    []int // indices into its dials; nil: what was found was given, or surveyed
	All      bool  // of its dials
}

// roundFace are diameters in mm at which a gap is told where no face reading says one: 200 mm, 8 inch.
var roundFace = map[train.Units]float64{train.Millimetres: 200, Inches: 8 * train.Inch}

// readBackOf is that of a train as found, running in its first condition.
func readBackOf(t *Train, running [][]Reading) ReadBack {
	var out ReadBack
	for i := range t.Couplings {
		c := &t.Couplings[i]
		d := faceDiameter(c)
		if math.IsNaN(d) {
			d = roundFace[t.Units]
		}
		out.Couplings = append(out.Couplings, CouplingBack{
			Read: c.Found, Running: running[i][0].Misalignment, Taken: c.Taken,
			Face: faceGap(i, d, &c.Found),
		})
		if angle, striking := readings.IfSwapped(c); striking {
			swapped := faceGap(i, d, &Misalignment{H: train.Tilt{Angle: angle}})
			out.Couplings[i].Swapped = &swapped
		}
		if u, some := uncheckedAt(t, i); some {
			out.Unchecked = append(out.Unchecked, u)
		}
	}
	for i := range t.Machines {
		m := &t.Machines[i]
		if !m.IsBase() {
			out.Growth = append(out.Growth, footGrowth(t, i)...)
		}
		if slices.ContainsFunc(m.Feet, func(f train.Foot) bool { return f.BoltAt != [2]float64{} }) {
			out.Bolts = append(out.Bolts, i)
		}
	}
	return out
}

// faceGap is how much wider the gap is on one side of a diameter in mm. A shaft that slopes up as it goes on carries
// the top of its face back, toward the coupling: the gap is wider at the bottom. Sideways likewise.
func faceGap(coupling int, diameter float64, m *Misalignment) FaceGap {
	return FaceGap{coupling, diameter, -m.V.Angle * diameter / 1000, -m.H.Angle * diameter / 1000}
}

// uncheckedAt says what no second reading checks at a coupling.
func uncheckedAt(t *Train, i int) (UncheckedAt, bool) {
	c := &t.Couplings[i]
	if s := t.Survey; s != nil {
		for k := range s.Couplings {
			if b := &s.Couplings[k]; b.Coupling == i && b.Read {
				return UncheckedAt{}, false // the survey and what was read check each other
			}
		}
	}
	if len(c.Dials) == 0 {
		return UncheckedAt{Coupling: i}, true
	}
	dials := readings.Unchecked(c)
	return UncheckedAt{i, dials, len(dials) == len(c.Dials)}, dials != nil
}

// footGrowth is the growth of a machine at each station of its feet, in the order of the train.
func footGrowth(t *Train, i int) []FootGrowth {
	m := &t.Machines[i]
	shafts := 1
	for s := range m.Shafts {
		if m.Shafts[s].Growth != nil || m.Growth.Roll != 0 {
			shafts = len(m.Shafts)
		}
	}
	feet := make([]int, len(m.Feet))
	for f := range feet {
		feet[f] = f
	}
	slices.SortStableFunc(feet, func(a, b int) int { return cmp.Compare(m.Feet[a].X, m.Feet[b].X) })
	var out []FootGrowth
	grows := func(g FootGrowth) {
		for s := range shafts {
			e := End{Machine: i, Shaft: s}
			own := t.GrowthOf(e)
			if shafts > 1 {
				g.Shaft = m.Shafts[s].Name
			}
			g.Up, g.Left, g.Axial = t.Grown(e, g.X)
			g.UpUnknown, g.AxialUnknown = own.Unknown, own.AxialUnknown
			out = append(out, g)
		}
	}
	for n := 0; n < len(feet); {
		x := m.Feet[feet[n]].X
		g := FootGrowth{Machine: i, X: m.At + x}
		for ; n < len(feet) && m.Feet[feet[n]].X == x; n++ {
			g.Feet = append(g.Feet, feet[n])
		}
		grows(g)
	}
	if len(feet) == 0 {
		for _, x := range t.Body(i) {
			grows(FootGrowth{Machine: i, X: x})
		}
	}
	return out
}
