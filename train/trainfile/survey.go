package trainfile

import (
	"fmt"
	"math"

	"leastmove/train"
	"leastmove/train/readings"
	"leastmove/train/spelling"
	"leastmove/train/trainfile/tree"
)

// surveyed works out how couplings were found that have no readings and no found
// misalignment, from the points of their machines. Where these do not tell, it
// says which point is missing. nil: there are no points, or they have faults.
func (r *reader) surveyed(t *train.Train, machines []machinePart, couplings []couplingPart) *readings.Lines {
	if !t.Pointed() || r.unknown {
		return nil
	}
	for i := range machines {
		if machines[i].unpoint {
			return nil // what is wrong with the points has its fault
		}
	}
	s := readings.LinesOf(t)
	needed := map[train.End]bool{}
	for i := range couplings {
		c, part := &couplings[i].coupling, couplings[i].section
		if !couplings[i].joined || !c.Surveyed || !part.good("x") {
			continue
		}
		whole := true
		for _, e := range [...]train.End{c.From, c.To} {
			if !needed[e] {
				whole = r.lineOf(t, machines, s, c, part, e) && whole
			}
			whole = whole && s.Line(e)
			needed[e] = true
		}
		if !whole {
			continue
		}
		if message, hint, dull := s.Dull(t, c); dull {
			r.fault(part.node.Key, message, hint)
			continue
		}
		c.Found = s.Found(c)
		r.warnLent(t, s, c, part)
		r.warnReduced(part.node.Key, c, "points of the survey at", r.pointHint(),
			"look at v and h of the points, their unit, their stations and their shafts")
	}
	r.warnUnused(t, machines, s)
	return s
}

// lineOf faults a shaft that a coupling needs the line of and the survey gives
// none.
func (r *reader) lineOf(t *train.Train, machines []machinePart, s *readings.Lines, c *train.Coupling, part *section,
	e train.End) bool {
	name, points := spelling.Quote(t.ShaftName(e)), machines[e.Machine].points
	need := fmt.Sprintf("coupling %s has no readings and needs the line of %s", spelling.Quote(c.Name), name)
	switch s.Loose(t, e) {
	case readings.NoPoint:
		r.fault(part.node.Key, need+", and no point of it was surveyed",
			"give two points or more of it, well apart, as [[machine.point]]; or [[coupling.reading]], or v and h in "+
				"[coupling.found]")
	case readings.OnePoint:
		r.fault(points[0].node.Key, need+", and this is its only point",
			"a line needs points at two stations or more, well apart")
	case readings.OneStation:
		r.fault(points[len(points)-1].at("x"), need+fmt.Sprintf(", and no shaft of %s has points at two stations",
			called(&t.Machines[e.Machine])),
			"give points of one shaft at two stations or more, well apart")
	case readings.NoRelation:
		r.fault(part.node.Key, need+", and no point of it was surveyed",
			"give one point of it or more; or y and z of the machine's shafts, by which its line follows from that "+
				"of another one")
	default:
		return true
	}
	return false
}

// warnLent warns of a line that is taken from another shaft's.
func (r *reader) warnLent(t *train.Train, s *readings.Lines, c *train.Coupling, part *section) {
	for k, e := range [...]train.End{c.From, c.To} {
		if base := s.Lent(c)[k]; base >= 0 {
			r.warn(part.node.Key, fmt.Sprintf("no point of %s was surveyed: its line is that of %s, moved by their y and z "+
				"and the roll found; what these are off goes into the offset at coupling %s",
				spelling.Quote(t.ShaftName(e)), spelling.Quote(t.ShaftName(train.End{Machine: e.Machine, Shaft: base})),
				spelling.Quote(c.Name)), "one point on it is enough to do without")
		}
	}
}

// warnUnused warns of points that give no line though nothing asks for it.
func (r *reader) warnUnused(t *train.Train, machines []machinePart, s *readings.Lines) {
	for i := range machines {
		if points := machines[i].points; len(points) > 0 && !s.Spread(i) {
			r.warn(points[0].node.Key, fmt.Sprintf("the points of %s give no line: they are not used",
				called(&t.Machines[i])), "give points of one shaft at two stations or more, well apart")
		}
	}
}

// warnSurvey completes the survey and warns of checks of the survey that failed, once the couplings are
// in the order of the train, and of points of a size that they hardly have.
func (r *reader) warnSurvey(t *train.Train, lines *readings.Lines, machines []machinePart, couplings []couplingPart) {
	if lines == nil || len(t.Couplings) == 0 || r.noted[Error] > 0 {
		return
	}
	headers := map[string]tree.Span{}
	for _, c := range couplings {
		headers[c.coupling.Name] = c.section.node.Key
	}
	t.Survey = lines.Complete(t)
	for _, d := range t.Survey.Checks {
		message, hint := readings.SurveyWords(t, d)
		at := tree.Span{}
		if d.Machine >= 0 {
			at = machines[d.Machine].points[d.Point].node.Key
		} else {
			at = headers[t.Couplings[d.Coupling].Name]
		}
		r.warn(at, message, hint)
	}
	r.warnPoints(t, machines)
}

// smallPoint in mm is what points in one frame differ by at least: a train whose
// points all lie nearer together was measured in m or inches.
const smallPoint = 0.01

// warnPoints warns of points that are too near their mean or too far from their
// machine.
func (r *reader) warnPoints(t *train.Train, machines []machinePart) {
	low, high, leftmost, rightmost := math.Inf(1), math.Inf(-1), math.Inf(1), math.Inf(-1)
	var first tree.Span
	count := 0
	for i := range machines {
		m := &t.Machines[i]
		start, end := ends(m)
		for k, p := range m.Points {
			if count++; count == 1 {
				first = machines[i].points[k].at("v")
			}
			low, high = math.Min(low, p.V), math.Max(high, p.V)
			leftmost, rightmost = math.Min(leftmost, p.H), math.Max(rightmost, p.H)
			if far := math.Max(start-p.X, p.X-end); len(m.Feet) > 0 && far > math.Max(nearReach, overhangs*(end-start)) {
				r.warn(machines[i].points[k].at("x"), fmt.Sprintf("x is %s, %s from the nearest foot of %s",
					r.value(machines[i].points[k], "x", Length), r.show(far, Length), called(m)),
					"a point's x counts from its machine's at, as a foot's does")
			}
		}
	}
	spread, least := math.Max(high-low, rightmost-leftmost), smallPoint
	if r.units == train.Inches {
		least = smallMil * train.Mil
	}
	if count > 2 && spread > 0 && spread < least {
		r.warn(first, fmt.Sprintf("all points of the survey lie within %s of each other", r.show(spread, Move)),
			r.pointHint())
	}
}

func (r *reader) pointHint() string {
	if r.units == train.Inches {
		return "v and h of points are in mils (0.001 inch) in this file: not in inches or micrometres"
	}
	return "v and h of points are in mm in this file: not in m or micrometres"
}
