package readings

import (
	"math"
	"slices"

	"leastmove/train"
)

// A Doubt is a check of a survey that failed.
type Doubt struct {
	Kind     CheckKind
	Machine  int     // of Point, Copy and Shafts; else -1
	Point    int     // index into the machine's points, of Point and Copy; else -1
	Coupling int     // of Beside, BesideAngle and Sum, there the last one; else -1
	Other    int     // of Copy the point that it is like, of Shafts the second shaft, of Sum the first coupling; else -1
	Size     float64 // mm; of BesideAngle mrad
	Limit    float64 // the same
	Expected float64 // 95 % half-width that the errors let expect, in the unit of Size; NaN where not known
	Cause    Cause   // that what failed speaks for
	Blamed   int     // machine, of APoint
}

// A Cause is what a difference between survey and readings looks like.
type Cause int

const (
	Anything  Cause = iota
	APoint          // the two couplings of one machine differ the opposite ways: its points are off
	AMirror         // they agree with left and right of the survey swapped
	AReadings       // one coupling alone differs, its neighbours agree: what was read there is off
)

// shaftsLimit in mm is by how much the distance of two shafts of one machine may
// be other than their y and z say, which are often from a drawing. Ours.
const shaftsLimit = 1

// doubt looks for what is wrong with the survey.
func (s *Survey) doubt(t *train.Train) {
	for i := range t.Machines {
		s.doubtCopies(t, i)
	}
	for _, l := range s.Lines {
		worst, most := 0, 0.0
		for k := range l.Points {
			if off := math.Hypot(l.OffV[k], l.OffH[k]); off > most+tie {
				worst, most = k, off
			}
		}
		if most > t.Checks.Residual+tie {
			s.Checks = append(s.Checks, Doubt{Kind: Point, Machine: l.Machine, Point: l.Points[worst], Coupling: -1, Other: -1, Size: most, Limit: t.Checks.Residual, Expected: math.NaN()})
		}
	}
	for k, a := range s.Lines {
		for _, b := range s.Lines[k+1:] {
			if b.Machine != a.Machine {
				break
			}
			s.doubtShafts(t, &a, &b)
		}
	}
	mirrored := s.mirrored(t)
	for k := range s.Between {
		if b := &s.Between[k]; b.Read {
			s.doubtBetween(t, k, mirrored)
		}
	}
	for _, r := range s.Rounds {
		if size, limit := math.Hypot(r.V.Offset, r.H.Offset), atLeast(t.Checks.Survey, r.Error.Offset); size > limit+tie {
			s.Checks = append(s.Checks, Doubt{Kind: Sum, Machine: -1, Point: -1, Coupling: r.Last, Other: r.First, Size: size, Limit: limit, Expected: r.Error.Offset})
		}
	}
	slices.SortStableFunc(s.Checks, func(a, b Doubt) int { return int(a.Kind) - int(b.Kind) })
}

// atLeast is the larger of a threshold and what errors let expect.
func atLeast(limit, expected float64) float64 {
	if math.IsNaN(expected) {
		return limit
	}
	return math.Max(limit, expected)
}

// doubtCopies looks for points that are there twice to the last digit.
func (s *Survey) doubtCopies(t *train.Train, i int) {
	points := t.Machines[i].Points
	first := map[train.Point]int{}
	for k, p := range points {
		if before, there := first[p]; there {
			s.Checks = append(s.Checks, Doubt{Kind: Copy, Machine: i, Point: k, Coupling: -1, Other: before, Size: 0, Limit: 0, Expected: math.NaN()})
			continue
		}
		first[p] = k
	}
}

// doubtShafts holds the distance of two shafts of one machine against y and z.
func (s *Survey) doubtShafts(t *train.Train, a, b *Line) {
	v, h, known := t.Machines[a.Machine].Apart(a.Shaft, b.Shaft)
	if !known {
		return
	}
	if size := math.Abs(math.Hypot(b.V-a.V, b.H-a.H) - math.Hypot(v, h)); size > shaftsLimit {
		s.Checks = append(s.Checks, Doubt{Kind: Shafts, Machine: a.Machine, Point: b.Points[0], Coupling: -1, Other: b.Shaft, Size: size, Limit: shaftsLimit, Expected: math.NaN()})
	}
}

// doubtBetween holds one coupling against what was read there.
func (s *Survey) doubtBetween(t *train.Train, k int, mirrored bool) {
	b := &s.Between[k]
	d := Doubt{Kind: Beside, Machine: -1, Point: -1, Coupling: b.Coupling, Other: -1}
	switch machine, ok := s.blamed(t, k); {
	case mirrored:
		d.Cause = AMirror
	case ok:
		d.Cause, d.Blamed = APoint, machine
	case s.alone(t, k):
		d.Cause = AReadings
	}
	d.Size, d.Expected = math.Hypot(b.Apart.V.Offset, b.Apart.H.Offset), b.Error.Offset
	d.Limit = atLeast(t.Checks.Survey, d.Expected)
	if d.Size > d.Limit+tie {
		s.Checks = append(s.Checks, d)
	}
	d.Kind, d.Size, d.Expected = BesideAngle, math.Hypot(b.Apart.V.Angle, b.Apart.H.Angle), b.Error.Angle
	d.Limit = atLeast(t.Checks.Turned, d.Expected)
	if d.Size > d.Limit+tie {
		s.Checks = append(s.Checks, d)
	}
}

// near says whether a coupling agrees with the survey, or would with the
// survey's left and right swapped.
func (b *Between) near(t *train.Train, swapped bool) bool {
	h := b.Apart.H
	if swapped { // read - survey: -survey - read
		h.Offset, h.Angle = h.Offset-2*b.Found.H.Offset, h.Angle-2*b.Found.H.Angle
	}
	return math.Hypot(b.Apart.V.Offset, h.Offset) <= atLeast(t.Checks.Survey, b.Error.Offset) &&
		math.Hypot(b.Apart.V.Angle, h.Angle) <= atLeast(t.Checks.Turned, b.Error.Angle)
}

// mirrored says whether all couplings agree with left and right of the survey
// swapped, and not as they are.
func (s *Survey) mirrored(t *train.Train) bool {
	better := false
	for k := range s.Between {
		if b := &s.Between[k]; b.Read {
			if !b.near(t, true) {
				return false
			}
			better = better || !b.near(t, false)
		}
	}
	return better
}

// neighbour is the coupling before (-1) or behind (1) that was read too; nil:
// none.
func (s *Survey) neighbour(k, side int) *Between {
	if k+side < 0 || k+side >= len(s.Between) {
		return nil
	}
	if b := &s.Between[k+side]; b.Read && b.Coupling == s.Between[k].Coupling+side {
		return b
	}
	return nil
}

// blamed is the machine whose points speak against what was read at both of its
// couplings, the opposite ways and alike: by its line alone.
func (s *Survey) blamed(t *train.Train, k int) (machine int, ok bool) {
	b := &s.Between[k]
	for _, side := range [...]int{-1, 1} {
		o := s.neighbour(k, side)
		if o == nil || o.near(t, false) {
			continue
		}
		machine := t.Couplings[b.Coupling].From.Machine
		if side > 0 {
			machine = t.Couplings[b.Coupling].To.Machine
		}
		x := t.Machines[machine].At + s.lines[machine].middle
		v, h := b.apart(t, x)
		ov, oh := o.apart(t, x)
		if math.Hypot(v+ov, h+oh) < math.Min(math.Hypot(v, h), math.Hypot(ov, oh))/2 {
			return machine, true
		}
	}
	return 0, false
}

// apart is survey less readings in mm at a train station.
func (b *Between) apart(t *train.Train, x float64) (v, h float64) {
	h, v = stateOf(b.Apart).at(x - t.Couplings[b.Coupling].X)
	return v, h
}

// alone says whether the couplings beside one agree, and there is one.
func (s *Survey) alone(t *train.Train, k int) bool {
	before, behind := s.neighbour(k, -1), s.neighbour(k, 1)
	return (before != nil || behind != nil) && (before == nil || before.near(t, false)) && (behind == nil || behind.near(t, false))
}
