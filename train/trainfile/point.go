package trainfile

import (
	"fmt"
	"math"
	"slices"

	"leastmove/train"
	"leastmove/train/spelling"
)

// mostPoints is the most that one machine may have.
const mostPoints = 200

// points reads a machine's points of a survey, and the growth that follows where
// they were measured running too.
func (r *reader) points(m *train.Machine, part *machinePart) {
	list := part.section.subs("point")
	if len(list) > mostPoints {
		r.fault(list[mostPoints].node.Key, fmt.Sprintf("%s has %d points, at most %d are read", called(m), len(list),
			mostPoints), "")
		part.unpoint = true
		return
	}
	running := make([]train.Point, len(list)) // less the point at rest
	for i, e := range list {
		p := train.Point{X: e.number("x"), V: e.number("v"), H: e.number("h"), Error: e.numberOr("error", 0)}
		good := e.good("x") && e.good("v") && e.good("h") && (!e.has("error") || e.good("error"))
		var named bool
		p.Shaft, named = r.pointed(m, e)
		if running[i] = p; e.has("running") {
			run := e.sub("running")
			running[i].V, running[i].H = run.number("v")-p.V, run.number("h")-p.H
			good = good && run.good("v") && run.good("h")
		}
		part.unpoint = part.unpoint || !good || !named
		m.Points = append(m.Points, p)
		part.points = append(part.points, e)
	}
	if !part.unpoint {
		r.grown(m, part, running)
	}
}

// pointed is the shaft that a point is on.
func (r *reader) pointed(m *train.Machine, e *section) (int, bool) {
	var names []string
	for _, s := range m.Shafts {
		if s.Name != "" {
			names = append(names, s.Name)
		}
	}
	switch {
	case e.meant["shaft"] || e.has("shaft") && !e.good("shaft"):
		return 0, false
	case !e.has("shaft") && len(m.Shafts) == 1:
		return 0, true
	case !e.has("shaft"):
		r.fault(e.node.Key, fmt.Sprintf("%s has more than one shaft, and the point does not say which it is on",
			called(m)), "write shaft = one of "+list(names))
		return 0, false
	}
	name := e.text("shaft")
	if i := slices.Index(names, name); i >= 0 {
		for j, s := range m.Shafts {
			if s.Name == names[i] {
				return j, true
			}
		}
	}
	hint := "the machine has one shaft without a name: leave shaft out"
	if len(names) > 0 {
		hint = "it has " + list(names)
	}
	r.fault(e.at("shaft"), fmt.Sprintf("shaft is %s, a shaft that %s does not have", spelling.Quote(name), called(m)),
		hint)
	return 0, false
}

// grown is the growth of shafts whose points were measured running too: the line
// through what the points moved by, less the journal shift in the bearings, which
// is in it. One station is uniform growth.
func (r *reader) grown(m *train.Machine, part *machinePart, moved []train.Point) {
	for j := range m.Shafts {
		first := -1
		var x, v, h []float64
		for i, p := range moved {
			if p.Shaft != j || !part.points[i].has("running") {
				continue
			}
			if first < 0 {
				first = i
			}
			x, v, h = append(x, p.X), append(v, p.V), append(h, p.H)
		}
		if first < 0 {
			continue
		}
		other := ""
		switch {
		case part.section.has("growth"):
			other = "[[machine.growth]]"
		case m.Growth.Worked || slices.ContainsFunc(part.footings, func(f footing) bool { return f.has("rise") }):
			other = "the rise of the feet"
		case m.Shafts[j].Growth != nil:
			other = "growth of the shaft"
		}
		if other != "" {
			r.fault(part.points[first].key("running"), "growth is given twice: by points measured running and by "+other,
				"leave one of them out")
			return
		}
		p := planeOf(x, make([]float64, len(x)))
		var g train.Growth
		g.V, _ = p.fit(v)
		g.H, _ = p.fit(h)
		for i := range x {
			if off := math.Hypot(v[i]-g.V.At(x[i]), h[i]-g.H.At(x[i])); off > bent {
				r.warn(part.points[first].key("running"),
					fmt.Sprintf("what the points of this shaft moved by is up to %s off a straight line", r.show(off, Move)),
					"a machine is taken as rigid: look for a misread figure; or it bends")
				break
			}
		}
		g.V.Start -= m.Shafts[j].Run.V
		g.H.Start -= m.Shafts[j].Run.H
		g.AxialUnknown, m.Shafts[j].RunUnknown = true, false // what was measured has the journal shift in it
		if len(m.Shafts) == 1 {
			m.Growth = g
		} else {
			m.Shafts[j].Growth = &g
		}
	}
}
