package trainfile

import (
	"fmt"
	"strings"

	"leastmove/train"
	"leastmove/train/spelling"
)

// mostStations is the most at which one growth may be measured.
const mostStations = 50

// stations is the growth that was given or measured at stations: uniform, a line,
// or, at more than two or at two sides, the line that fits best. height in mm is
// that of the shaft, where sideways growth is measured.
func (r *reader) stations(list []*section, height float64) train.Growth {
	var g train.Growth
	if len(list) > mostStations {
		r.fault(list[mostStations].node.Key, fmt.Sprintf("growth is given at %d stations, at most %d are read", len(list),
			mostStations), "")
		return g
	}
	aside := false
	for _, s := range list {
		aside = aside || s.numberOr("y", 0) != list[0].numberOr("y", 0)
	}
	if len(list) > 2 || aside {
		return r.measured(list, height)
	}
	line := func(key string) train.Line {
		first := list[0].number(key)
		if len(list) == 1 {
			return train.Line{Start: first}
		}
		from, to := list[0].number("x"), list[1].number("x")
		slope := (list[1].number(key) - first) / (to - from) * 1000
		return train.Line{Start: first - slope*from/1000, Slope: slope}
	}
	if len(list) == 2 {
		d := list[1].number("x") - list[0].number("x")
		if d < apart && d > -apart {
			r.fault(list[1].at("x"), fmt.Sprintf("both stations of the growth are at %s", r.show(list[1].number("x"), Length)),
				"give two different x, or one station alone")
			return g
		}
	}
	return r.stated(list, train.Growth{V: line("v"), H: line("h"), A: line("a")})
}

// stated notes what the stations leave open: growth upwards where one of them does not state it, growth along the train
// where none does.
func (r *reader) stated(list []*section, g train.Growth) train.Growth {
	g.AxialUnknown = true
	for _, s := range list {
		g.Unknown = g.Unknown || !s.tried("v")
		g.AxialUnknown = g.AxialUnknown && !s.tried("a")
	}
	return g
}

// growth reads a machine's growth, or works it out from the rise of its feet:
// at each foot coefficient × rise × height (McMillan eq. 8.2), and over the
// feet the plane that fits best. Its line at the centreline is the shaft's
// growth, its tilt to the side the roll.
func (r *reader) growth(m *train.Machine, part *machinePart) {
	given := part.section.subs("growth")
	m.Growth.Unknown, m.Growth.AxialUnknown = true, true
	if len(given) > 0 {
		m.Growth = r.stations(given, m.Height)
	}
	risen, bare := -1, -1
	for i, f := range part.footings {
		if f.has("rise") {
			risen = i
		} else {
			bare = i
		}
	}
	up := make([]train.FootMove, len(m.Feet))
	whole := true
	for i, f := range part.footings {
		var ok bool
		up[i].Up, ok = r.rise(f, m.Height)
		whole = whole && ok
	}
	switch {
	case risen < 0 || !whole:
		return
	case len(given) > 0:
		f := part.footings[risen]
		r.fault(f.of("rise").key("rise"), "growth is given twice: by [[machine.growth]] and by the rise of the feet",
			"leave one of them out")
		return
	case bare >= 0:
		f := part.footings[bare]
		r.fault(f.pair.node.Key, fmt.Sprintf("rise is missing at foot %s, other feet of the machine have one",
			spelling.Quote(m.Feet[bare].Name)),
			"give rise at every foot of the machine or at none")
		return
	}
	kinematics := m.Kinematics()
	q := kinematics.Motion(up)
	slope := -q[train.Pitch]
	m.Growth = train.Growth{
		V:      train.Line{Start: q[train.Up] - slope*kinematics.Middle/1000, Slope: slope},
		Roll:   q[train.Roll],
		Worked: true, AxialUnknown: true,
	}
}

// rise is how far in mm a foot's support grows; 0 where no rise is stated.
func (r *reader) rise(f footing, height float64) (float64, bool) {
	if !f.has("rise") {
		if f.has("material") && !f.meant("rise") {
			r.fault(f.of("material").key("material"), "material is given without rise", "give the rise in temperature too")
		}
		if f.has("material") || f.meant("rise") {
			return 0, false
		}
		if f.has("height") {
			r.warn(f.of("height").key("height"), "height at a foot has no effect without rise", "")
		}
		return 0, true
	}
	if !f.has("material") {
		if f.meant("material") {
			return 0, false
		}
		r.fault(f.of("rise").key("rise"), "rise is given without material",
			"give material, one of: "+strings.Join(materialNames(), ", "))
		return 0, false
	}
	if per, ok := r.expansion(f); ok {
		return per * f.numberOr("height", height), true
	}
	if f.of("material").good("material") {
		r.fault(f.at("material"), "unknown material "+spelling.Quote(f.of("material").text("material")),
			"known: "+strings.Join(materialNames(), ", "))
	}
	return 0, false
}

// expansion is what a length of 1 mm at a foot expands by from cold to running, in mm; false where the file does not
// say.
func (r *reader) expansion(f footing) (float64, bool) {
	if !f.has("rise") || !f.has("material") {
		return 0, false
	}
	name := f.of("material").text("material")
	for _, m := range Materials() {
		if m.called(name) {
			return m.Coefficient * perCelsius * f.numberOr("rise", 0), true
		}
	}
	return 0, false
}

// slides notes how far the growth of machines takes their feet along the train.
func slides(t *train.Train) {
	for i := range t.Machines {
		m := &t.Machines[i]
		for f := range m.Feet {
			m.Feet[f].Slide[0] = m.Growth.A.At(m.Feet[f].X)
		}
	}
}

func materialNames() []string {
	var names []string
	for _, m := range Materials() {
		names = append(names, m.Names[0])
	}
	return names
}
