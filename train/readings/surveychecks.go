package readings

import (
	"math"
	"slices"

	"leastmove/train"
)

// shaftsLimit in mm is by how much the distance of two shafts of one machine may
// be other than their y and z say, which are often from a drawing. Ours.
const shaftsLimit = 1

// check looks for what is wrong with the survey.
func (s *Lines) check(t *train.Train) {
	for i := range t.Machines {
		s.checkCopies(t, i)
	}
	for _, l := range s.Lines {
		worst, most := 0, 0.0
		for k := range l.Points {
			if off := math.Hypot(l.OffV[k], l.OffH[k]); off > most+tie {
				worst, most = k, off
			}
		}
		if most > t.Checks.Residual+tie {
			s.Checks = append(s.Checks, train.SurveyCheck{Kind: train.CheckPoint, Machine: l.Machine, Point: l.Points[worst],
				Coupling: -1, Other: -1, Size: most, Limit: t.Checks.Residual, Expected: math.NaN()})
		}
	}
	for k, a := range s.Lines {
		for _, b := range s.Lines[k+1:] {
			if b.Machine != a.Machine {
				break
			}
			s.checkShafts(t, &a, &b)
		}
	}
	mirrored := s.mirrored(t)
	for k := range s.Couplings {
		if b := &s.Couplings[k]; b.Read {
			s.checkCoupling(t, k, mirrored)
		}
	}
	for _, r := range s.Closures {
		if size, limit := math.Hypot(r.V.Offset, r.H.Offset), atLeast(t.Checks.Survey, r.Error.Offset); size > limit+tie {
			s.Checks = append(s.Checks, train.SurveyCheck{Kind: train.CheckClosure, Machine: -1, Point: -1, Coupling: r.Last,
				Other: r.First, Size: size, Limit: limit, Expected: r.Error.Offset})
		}
	}
	slices.SortStableFunc(s.Checks, func(a, b train.SurveyCheck) int { return int(a.Kind) - int(b.Kind) })
}

// atLeast is the larger of a threshold and what errors let expect.
func atLeast(limit, expected float64) float64 {
	if math.IsNaN(expected) {
		return limit
	}
	return math.Max(limit, expected)
}

// checkCopies looks for points that are there twice to the last digit.
func (s *Lines) checkCopies(t *train.Train, i int) {
	points := t.Machines[i].Points
	first := map[train.Point]int{}
	for k, p := range points {
		if before, there := first[p]; there {
			s.Checks = append(s.Checks, train.SurveyCheck{Kind: train.CheckCopy, Machine: i, Point: k, Coupling: -1,
				Other: before, Size: 0, Limit: 0, Expected: math.NaN()})
			continue
		}
		first[p] = k
	}
}

// checkShafts holds the distance of two shafts of one machine against y and z.
func (s *Lines) checkShafts(t *train.Train, a, b *train.SurveyLine) {
	v, h, known := t.Machines[a.Machine].Apart(a.Shaft, b.Shaft)
	if !known {
		return
	}
	if size := math.Abs(math.Hypot(b.V-a.V, b.H-a.H) - math.Hypot(v, h)); size > shaftsLimit {
		s.Checks = append(s.Checks, train.SurveyCheck{Kind: train.CheckShafts, Machine: a.Machine, Point: b.Points[0],
			Coupling: -1, Other: b.Shaft, Size: size, Limit: shaftsLimit, Expected: math.NaN()})
	}
}

// checkCoupling holds one coupling against what was read there.
func (s *Lines) checkCoupling(t *train.Train, k int, mirrored bool) {
	b := &s.Couplings[k]
	d := train.SurveyCheck{Kind: train.CheckSurvey, Machine: -1, Point: -1, Coupling: b.Coupling, Other: -1}
	switch machine, ok := s.blamed(t, k); {
	case mirrored:
		d.Cause = train.CauseMirror
	case ok:
		d.Cause, d.Blamed = train.CausePoint, machine
	case s.alone(t, k):
		d.Cause = train.CauseReadings
	}
	d.Size, d.Expected = math.Hypot(b.Apart.V.Offset, b.Apart.H.Offset), b.Error.Offset
	d.Limit = atLeast(t.Checks.Survey, d.Expected)
	if d.Size > d.Limit+tie {
		s.Checks = append(s.Checks, d)
	}
	d.Kind, d.Size, d.Expected = train.CheckSurveyAngle, math.Hypot(b.Apart.V.Angle, b.Apart.H.Angle), b.Error.Angle
	d.Limit = atLeast(t.Checks.Turned, d.Expected)
	if d.Size > d.Limit+tie {
		s.Checks = append(s.Checks, d)
	}
}

// near says whether a coupling agrees with the survey, or would with the
// survey's left and right swapped.
func near(b *train.SurveyCoupling, t *train.Train, swapped bool) bool {
	h := b.Apart.H
	if swapped { // read - survey: -survey - read
		h.Offset, h.Angle = h.Offset-2*b.Found.H.Offset, h.Angle-2*b.Found.H.Angle
	}
	return math.Hypot(b.Apart.V.Offset, h.Offset) <= atLeast(t.Checks.Survey, b.Error.Offset) &&
		math.Hypot(b.Apart.V.Angle, h.Angle) <= atLeast(t.Checks.Turned, b.Error.Angle)
}

// mirrored says whether all couplings agree with left and right of the survey
// swapped, and not as they are.
func (s *Lines) mirrored(t *train.Train) bool {
	better := false
	for k := range s.Couplings {
		if b := &s.Couplings[k]; b.Read {
			if !near(b, t, true) {
				return false
			}
			better = better || !near(b, t, false)
		}
	}
	return better
}

// neighbour is the coupling before (-1) or behind (1) that was read too; nil:
// none.
func (s *Lines) neighbour(k, side int) *train.SurveyCoupling {
	if k+side < 0 || k+side >= len(s.Couplings) {
		return nil
	}
	if b := &s.Couplings[k+side]; b.Read && b.Coupling == s.Couplings[k].Coupling+side {
		return b
	}
	return nil
}

// blamed is the machine whose points speak against what was read at both of its
// couplings, the opposite ways and alike: by its line alone.
func (s *Lines) blamed(t *train.Train, k int) (machine int, ok bool) {
	b := &s.Couplings[k]
	for _, side := range [...]int{-1, 1} {
		o := s.neighbour(k, side)
		if o == nil || near(o, t, false) {
			continue
		}
		machine := t.Couplings[b.Coupling].From.Machine
		if side > 0 {
			machine = t.Couplings[b.Coupling].To.Machine
		}
		x := t.Machines[machine].At + s.lines[machine].middle
		v, h := apartAt(b, t, x)
		ov, oh := apartAt(o, t, x)
		if math.Hypot(v+ov, h+oh) < math.Min(math.Hypot(v, h), math.Hypot(ov, oh))/2 {
			return machine, true
		}
	}
	return 0, false
}

// apart is survey less readings in mm at a train station.
func apartAt(b *train.SurveyCoupling, t *train.Train, x float64) (v, h float64) {
	h, v = stateOf(b.Apart).at(x - t.Couplings[b.Coupling].X)
	return v, h
}

// alone says whether the couplings beside one agree, and there is one.
func (s *Lines) alone(t *train.Train, k int) bool {
	before, behind := s.neighbour(k, -1), s.neighbour(k, 1)
	return (before != nil || behind != nil) && (before == nil || near(before, t,
		false)) && (behind == nil || near(behind, t, false))
}
