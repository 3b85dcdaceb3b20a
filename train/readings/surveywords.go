package readings

import (
	"fmt"
	"math"

	"leastmove/train"
)

// SurveyWords say what failed in a survey and what to do about it, a line each.
func SurveyWords(t *train.Train, d train.SurveyCheck) (message, hint string) {
	s := formatter{t, nil}
	coupling, read := "", "readings"
	if d.Coupling >= 0 {
		c := &t.Couplings[d.Coupling]
		if coupling = fmt.Sprintf("%q", c.Name); len(c.Dials) == 0 {
			read = "what is given as found"
		}
	}
	switch d.Kind {
	case train.CheckCopy:
		return s.point(d.Machine, d.Point) + " is there twice, the same to the last digit",
			"if it was copied, take it out: it makes the errors seem smaller than they are"
	case train.CheckPoint:
		return fmt.Sprintf("%s is %s off the line through the points of its shaft, over %s, and none is further off",
				s.point(d.Machine, d.Point), s.move(d.Size), s.move(d.Limit)),
			"measure it again: a misread figure, a wrong station, the wrong shaft, or a point that is not on the shaft's centre"
	case train.CheckShafts:
		m := &t.Machines[d.Machine]
		return fmt.Sprintf("the survey has %q and another shaft of %q %s further apart or nearer than their y and z "+
				"say, over %s",
				t.ShaftName(train.End{Machine: d.Machine, Shaft: d.Other}), m.Name, s.move(d.Size), s.length(d.Limit)),
			"look at y and z of the shafts, and at which shaft each point is on"
	case train.CheckSurvey:
		return fmt.Sprintf("at coupling %s survey and %s differ by %s, over %s%s", coupling, read, s.move(d.Size),
			s.move(d.Limit), expected(s.move(d.Expected), d.Expected)), means(t, d)
	case train.CheckSurveyAngle:
		return fmt.Sprintf("at coupling %s the angles of the survey and of %s differ by %s mrad, over %s mrad%s",
			coupling, read, figure(d.Size), figure(d.Limit),
			expected(figure(d.Expected)+" mrad", d.Expected)), means(t, d)
	case train.CheckClosure:
		return fmt.Sprintf("round the train, from coupling %q to %s, survey and readings differ by %s, over %s%s",
				t.Couplings[d.Other].Name, coupling,
				s.move(d.Size), s.move(d.Limit), expected(s.move(d.Expected), d.Expected)),
			"one of the two is off by more than its errors: look for the coupling that differs most, and measure that again"
	}
	panic("a check of a survey without words")
}

// expected says what errors of points and readings would explain.
func expected(words string, size float64) string {
	if math.IsNaN(size) {
		return ""
	}
	return "; errors explain " + words
}

// means says what a difference at a coupling looks like.
func means(t *train.Train, d train.SurveyCheck) string {
	switch d.Cause {
	case train.CausePoint:
		return fmt.Sprintf("the couplings of %q differ by as much the opposite ways: look at its points, or at whether "+
			"it was moved in between", t.Machines[d.Blamed].Name)
	case train.CauseMirror:
		return "with left and right of the survey swapped they agree: h is + to the left, looking from the first " +
			"machine to the last"
	case train.CauseReadings:
		return "the couplings beside it agree with the survey: look at what was read here, its planes, sag and signs"
	}
	return "look for points on the wrong shaft or station, a sign, sag left out; or for a machine that was " +
		"moved in between"
}

// point names a point.
func (s formatter) point(machine, point int) string {
	m := &s.t.Machines[machine]
	p := &m.Points[point]
	return fmt.Sprintf("the point of %q at x = %s", s.t.ShaftName(train.End{Machine: machine, Shaft: p.Shaft}),
		asTyped(p.X/s.t.Units.Length()))
}

// A Loose is why the survey gives no line of a shaft that a coupling needs.
type Loose int

const (
	Known      Loose = iota // it gives one
	NoPoint                 // its machine has none
	OnePoint                // its machine has one alone
	OneStation              // its machine has no two points of one shaft at different stations
	NoRelation              // it has no point, and how far it is from the shafts that have is not stated
)

// Loose says why the survey gives no line of a shaft.
func (s *Lines) Loose(t *train.Train, e train.End) Loose {
	points := t.Machines[e.Machine].Points
	switch {
	case s.Line(e):
		return Known
	case len(points) == 0:
		return NoPoint
	case len(points) == 1:
		return OnePoint
	case s.lines[e.Machine].v == nil:
		return OneStation
	}
	return NoRelation
}

// Dull says that the points cannot tell the angle of a coupling between two
// lines: with errors as stated or usual it may be off by more than is allowed.
func (s *Lines) Dull(t *train.Train, c *train.Coupling) (message, hint string, dull bool) {
	angle := train.Half95 * s.slopeDeviation(c)
	if angle <= mostAngle {
		return "", "", false
	}
	far := ""
	if o := OptionsOf(t, c); o.Far > 0 {
		far = fmt.Sprintf(", which is %s at the farthest foot",
			formatter{t, c}.move(train.Half95*math.Max(s.deviation(c, c.X+o.Far), s.deviation(c, c.X-o.Far))))
	}
	return fmt.Sprintf("the points of the survey can't tell the angle at coupling %q well enough: it may be %s mrad "+
			"off (95 %%)%s; at most %d mrad is allowed", c.Name, figure(angle), far, mostAngle),
		"measure points farther apart along each shaft, or read the coupling", true
}
