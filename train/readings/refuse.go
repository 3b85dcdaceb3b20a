package readings

import (
	"math"

	"leastmove/train"
)

// A RefusalKind is why readings can't be used.
type RefusalKind int

const (
	FewPositions RefusalKind = iota // Size of the 3 positions that a dial needs
	ShortArc                        // the dial's positions span Span degrees: an error of a reading becomes Size as much
	NoOffset                        // nothing but faces
	NoAngle                         // one plane, and no face
	NearPlanes                      // planes Span mm apart, or faces of too small a radius: the angle is good to Size mrad
)

// A Refusal says why readings do not determine a misalignment, with figures.
type Refusal struct {
	Kind RefusalKind
	Dial int     // index into the coupling's dials; -1: all of them
	Size float64 // by the kind
	Span float64 // degrees or mm, by the kind
	Far  float64 // mm, of NearPlanes: 95 % half-width at the farthest foot; NaN: not known
}

// refuseDials refuses a dial that does not determine its own share.
func refuseDials(dials []train.Dial) *Refusal {
	for i := range dials {
		d := &dials[i]
		if d.Kind == train.OffsetDial {
			continue
		}
		if n := positions(d); n < fewest {
			return &Refusal{Kind: FewPositions, Dial: i, Size: float64(n)}
		}
		if g := gain(d); !(g <= mostGain) {
			return &Refusal{Kind: ShortArc, Dial: i, Size: g, Span: arc(d)}
		}
	}
	return nil
}

// refuseSet says what is missing from dials that each are good.
func refuseSet(dials []train.Dial) *Refusal {
	for i := range dials {
		if dials[i].Kind != train.FaceDial {
			return &Refusal{Kind: NoAngle, Dial: -1}
		}
	}
	return &Refusal{Kind: NoOffset, Dial: -1}
}

// refuseAngle refuses dials that determine the angle too badly.
func (s *solved) refuseAngle(dials []train.Dial, far float64) *Refusal {
	c := s.solution.covariance
	angle := train.Half95 * math.Sqrt(math.Max(c.At(vAngle, vAngle), c.At(hAngle, hAngle)))
	if angle <= mostAngle {
		return nil
	}
	r := &Refusal{Kind: NearPlanes, Dial: -1, Size: angle, Far: math.NaN()}
	low, high := math.Inf(1), math.Inf(-1)
	for i := range dials {
		if dials[i].Kind != train.FaceDial {
			low, high = math.Min(low, dials[i].X), math.Max(high, dials[i].X)
		}
	}
	r.Span = high - low
	if far > 0 {
		v, h := s.covariance(vOffset, vAngle), s.covariance(hOffset, hAngle)
		r.Far = train.Half95 * math.Max(
			math.Max(v.Along(far), v.Along(-far)),
			math.Max(h.Along(far), h.Along(-far)))
	}
	return r
}

// gain is how many times the error of one reading goes into what the dial says
// in its worst direction; a face's at its radius. +Inf: it says nothing.
func gain(d *train.Dial) float64 {
	unit := *d
	unit.Kind = train.RimDial
	s, ok := alone(&unit, d.X, state{}).least()
	if !ok {
		return math.Inf(1)
	}
	a, b, c := s.covariance.At(1, 1), s.covariance.At(1, 2), s.covariance.At(2, 2)
	return math.Sqrt((a+c)/2 + math.Hypot((a-c)/2, b)) // the larger eigenvalue
}
