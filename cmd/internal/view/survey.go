package view

import (
	"math"

	"leastmove/train"
	"leastmove/train/readings"
)

// A Survey is what the points of a survey come to.
type Survey struct {
	*train.Survey
	Shafts  []SurveyedShaft
	Between []SurveyedCoupling
	Around  []SurveyedAround
	Read    bool // a coupling that it speaks of was read or given too
	Failed  []FailedCheck
}

// A SurveyedShaft is one shaft by its points.
type SurveyedShaft struct {
	Shaft  train.End
	Line   *train.SurveyLine
	Points []SurveyedPoint
}

// A SurveyedPoint is one of them.
type SurveyedPoint struct {
	X          float64 // mm, station of the machine's own
	At         float64 // mm, the same as a train station
	V, H       float64 // mm, as measured, + up and + left
	OffV, OffH float64 // mm, residual from the line, + above it and + left of it
}

// A SurveyedCoupling is a coupling by the lines of its two shafts.
type SurveyedCoupling struct {
	*train.SurveyCoupling
	X     float64 // mm, train station of its plane
	Dials bool    // it has readings; else what was found is given
	Lent  []LentLine
}

// A LentLine is the line of a shaft without points, by that of another shaft of its machine.
type LentLine struct{ Shaft, From train.End }

// A SurveyedAround is a closure error.
type SurveyedAround struct {
	*train.Closure
	Limit     float64 // mm, of the offset: what the checks allow, or the errors explain where that is more
	Agreement Agreement
}

// An Agreement is how survey and readings agree round the train.
type Agreement int

const (
	Disagree       Agreement = iota // points or readings are off by more than their errors
	AgreeByErrors                   // as well as their errors let expect
	AgreeWithinMax                  // within what the checks allow
)

// surveyOf is the survey of a train; nil where there is none.
func surveyOf(t *train.Train) *Survey {
	if t.Survey == nil {
		return nil
	}
	out := &Survey{Survey: t.Survey}
	for i := range t.Survey.Lines {
		l := &t.Survey.Lines[i]
		s := SurveyedShaft{Shaft: train.End{Machine: l.Machine, Shaft: l.Shaft}, Line: l}
		m := &t.Machines[l.Machine]
		for k, n := range l.Points {
			p := &m.Points[n]
			s.Points = append(s.Points, SurveyedPoint{X: p.X, At: m.At + p.X, V: p.V, H: p.H, OffV: l.OffV[k], OffH: l.OffH[k]})
		}
		out.Shafts = append(out.Shafts, s)
	}
	for i := range t.Survey.Couplings {
		b := &t.Survey.Couplings[i]
		c := &t.Couplings[b.Coupling]
		s := SurveyedCoupling{SurveyCoupling: b, X: c.X, Dials: len(c.Dials) > 0}
		for k, e := range [...]train.End{c.From, c.To} {
			if b.Lent[k] >= 0 {
				s.Lent = append(s.Lent, LentLine{e, train.End{Machine: e.Machine, Shaft: b.Lent[k]}})
			}
		}
		out.Between, out.Read = append(out.Between, s), out.Read || b.Read
	}
	for i := range t.Survey.Closures {
		out.Around = append(out.Around, around(&t.Survey.Closures[i], t.Checks.Survey))
	}
	for _, k := range t.Survey.Checks {
		f := FailedCheck{Kind: k.Kind, Size: k.Size, Limit: k.Limit, Angular: k.Kind == train.CheckSurveyAngle}
		f.Message, f.Hint = readings.SurveyWords(t, k)
		out.Failed = append(out.Failed, f)
	}
	return out
}

// around is a closure error against what the checks allow, in mm.
func around(r *train.Closure, allowed float64) SurveyedAround {
	out := SurveyedAround{Closure: r, Limit: allowed, Agreement: AgreeWithinMax}
	if r.Error.Offset > allowed {
		out.Limit = r.Error.Offset
	}
	switch size := math.Hypot(r.V.Offset, r.H.Offset); {
	case size > out.Limit:
		out.Agreement = Disagree
	case size <= r.Error.Offset:
		out.Agreement = AgreeByErrors
	}
	return out
}
