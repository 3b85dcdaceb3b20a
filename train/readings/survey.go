package readings

import (
	"math"

	"leastmove/train"
)

// Lines are the lines of a train's shafts by the points of its survey, with what their errors follow from.
type Lines struct {
	train.Survey         // what the lines alone say
	lines        []lines // by machine
}

// Complete is the survey with what it says of couplings, once these are in the order of the train. Couplings that
// take what was found from it need not have it yet; those with readings have their fit.
func (s *Lines) Complete(t *train.Train) *train.Survey {
	out := *s
	for i := range t.Couplings {
		if c := &t.Couplings[i]; out.Line(c.From) && out.Line(c.To) {
			out.Couplings = append(out.Couplings, out.between(t, i))
		}
	}
	out.around(t)
	out.check(t)
	return &out.Survey
}

// LinesOf is the survey without what it says of couplings: the train need have
// none yet.
func LinesOf(t *train.Train) *Lines {
	s := &Lines{lines: make([]lines, len(t.Machines))}
	squares, freedom, bare := 0.0, 0, false
	for i := range t.Machines {
		m := &t.Machines[i]
		s.lines[i] = linesOf(m)
		if s.lines[i].v == nil {
			continue
		}
		squares += s.lines[i].squares
		freedom += s.lines[i].freedom
		for k := range m.Points {
			bare = bare || m.Points[k].Error <= 0
		}
	}
	s.Accuracy = accuracy(squares, freedom, usualPoint, bare)
	for i := range t.Machines {
		s.Lines = append(s.Lines, s.drawn(t, i)...)
	}
	return s
}

// drawn are the lines of one machine's shafts.
func (s *Lines) drawn(t *train.Train, i int) []train.SurveyLine {
	m, l := &t.Machines[i], &s.lines[i]
	if l.v == nil {
		return nil
	}
	var out []train.SurveyLine
	for j := range m.Shafts {
		if l.place[j] < 0 {
			continue
		}
		line := train.SurveyLine{Machine: i, Shaft: j, X: m.At + l.middle}
		line.V, line.H = l.at(j, line.X)
		line.SlopeV, line.SlopeH = l.slope()
		line.Half = train.Tilt{Offset: s.Times() * l.deviation(l.row(j, line.X)), Angle: s.Times() * l.deviation(l.tilt())}
		for k := range m.Points {
			if p := &m.Points[k]; p.Shaft == j {
				v, h := l.at(j, m.At+p.X)
				line.Points = append(line.Points, k)
				line.OffV, line.OffH = append(line.OffV, p.V-v), append(line.OffH, p.H-h)
			}
		}
		out = append(out, line)
	}
	return out
}

// Line says whether the survey gives a shaft's line.
func (s *Lines) Line(e train.End) bool { return s.lines[e.Machine].from(e.Shaft) >= 0 }

// Spread says whether the survey gives the slope of a machine.
func (s *Lines) Spread(machine int) bool { return s.lines[machine].v != nil }

// Found is what the survey says of a coupling between two shafts whose lines it
// gives.
func (s *Lines) Found(c *train.Coupling) train.Misalignment {
	from, to := &s.lines[c.From.Machine], &s.lines[c.To.Machine]
	var a, b train.Misalignment
	a.V.Offset, a.H.Offset = from.at(c.From.Shaft, c.X)
	b.V.Offset, b.H.Offset = to.at(c.To.Shaft, c.X)
	a.V.Angle, a.H.Angle = from.slope()
	b.V.Angle, b.H.Angle = to.slope()
	return less(b, a)
}

// Lent are the shafts that the lines of a coupling's From and To are taken from by
// y and z; -1: they have points of their own.
func (s *Lines) Lent(c *train.Coupling) [2]int {
	lent := [2]int{-1, -1}
	for k, e := range [...]train.End{c.From, c.To} {
		if base := s.lines[e.Machine].from(e.Shaft); base != e.Shaft {
			lent[k] = base
		}
	}
	return lent
}

// between is coupling i as the survey has it.
func (s *Lines) between(t *train.Train, i int) train.SurveyCoupling {
	c := &t.Couplings[i]
	b := train.SurveyCoupling{Coupling: i, Found: s.Found(c), Lent: s.Lent(c), Read: !c.Surveyed, Far: math.NaN()}
	b.Half = train.Tilt{Offset: s.Times() * s.deviation(c, c.X), Angle: s.Times() * s.slopeDeviation(c)}
	o := OptionsOf(t, c)
	if o.Far > 0 {
		b.Far = s.Times() * math.Max(s.deviation(c, c.X+o.Far), s.deviation(c, c.X-o.Far))
	}
	if b.Read {
		compare(&b, t, c)
	}
	return b
}

// deviation is the standard error in mm between the two lines of a coupling at a
// train station, errors of points being as stated or usual.
func (s *Lines) deviation(c *train.Coupling, x float64) float64 {
	from, to := &s.lines[c.From.Machine], &s.lines[c.To.Machine]
	return math.Hypot(from.deviation(from.row(c.From.Shaft, x)), to.deviation(to.row(c.To.Shaft, x)))
}

func (s *Lines) slopeDeviation(c *train.Coupling) float64 {
	from, to := &s.lines[c.From.Machine], &s.lines[c.To.Machine]
	return math.Hypot(from.deviation(from.tilt()), to.deviation(to.tilt()))
}

// compare sets the survey beside what was read at the coupling.
func compare(b *train.SurveyCoupling, t *train.Train, c *train.Coupling) {
	b.Apart = less(b.Found, c.Found)
	offset, angle := halves(t, c, 0)
	b.Error = train.Tilt{Offset: math.Hypot(b.Half.Offset, offset), Angle: math.Hypot(b.Half.Angle, angle)}
}

// halves are the 95 % half-widths of what was read at a coupling, the larger one
// of vertical and horizontal: in mm at a distance in mm from its plane, and of
// the angle in mrad. NaN where not known.
func halves(t *train.Train, c *train.Coupling, distance float64) (offset, angle float64) {
	if fit := c.Fit; fit != nil {
		v, h := fit.HalfAt(distance)
		return math.Max(v, h), math.Max(fit.Half.V.Angle, fit.Half.H.Angle)
	}
	e := t.Errors
	if e.Offset <= 0 || e.Angle <= 0 {
		return math.NaN(), math.NaN()
	}
	return math.Hypot(e.Offset, e.Angle*distance/1000), e.Angle
}

// less is a without b.
func less(a, b train.Misalignment) train.Misalignment {
	one := func(a, b train.Tilt) train.Tilt {
		return train.Tilt{Offset: a.Offset - b.Offset, Angle: a.Angle - b.Angle}
	}
	return train.Misalignment{V: one(a.V, b.V), H: one(a.H, b.H)}
}
