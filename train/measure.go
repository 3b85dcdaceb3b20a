package train

import "math"

// A Kind is one thing that a coupling's limits bound.
type Kind int

const (
	Offset Kind = iota // mm, at the engagement plane
	Angle              // mrad, between the shafts
	Flex1              // mrad, across the flexing element at the first flex plane
	Flex2              // mrad, across the flexing element at the second flex plane
	Gap                // mm, distance between shaft ends
)

// String is the kind in words.
func (k Kind) String() string {
	return [...]string{"offset", "angle", "first flex plane", "second flex plane", "distance between shaft ends"}[k]
}

// Angular says whether the kind is in mrad rather than mm.
func (k Kind) Angular() bool { return k == Angle || k == Flex1 || k == Flex2 }

// Measures are the kinds of misalignment that the coupling has limits for.
func (c *Coupling) Measures() []Kind {
	kinds := []Kind{Offset, Angle}
	if c.Spacer {
		kinds = []Kind{Flex1, Flex2}
	}
	if c.GapLimited() {
		kinds = append(kinds, Gap)
	}
	return kinds
}

// Of is the limit of one kind.
func (l *Limit) Of(k Kind) *float64 {
	switch k {
	case Offset:
		return &l.Offset
	case Gap:
		return &l.Gap
	}
	return &l.Angle
}

// Bound is the stated limit of one kind, in mm or mrad.
func (c *Coupling) Bound(k Kind) float64 { return *c.Limit.Of(k) }

// Weights say how one kind follows from a misalignment in one plane: it is
// offset × Offset + angle × Angle.
//
// At the first flex plane the angle across the element is the offset at the
// second one over the distance L between them, at the second it is less the
// offset at the first one over L; the offset changes along x by the angle.
func (c *Coupling) Weights(k Kind) (offset, angle float64) {
	l := (c.Flex[1] - c.Flex[0]) / 1000 // m
	switch k {
	case Offset:
		return 1, 0
	case Angle:
		return 0, 1
	case Flex1:
		return 1 / l, (c.Flex[1] - c.X) / 1000 / l
	case Flex2:
		return -1 / l, -(c.Flex[0] - c.X) / 1000 / l
	}
	panic("train: the distance between shaft ends does not follow from the misalignment")
}

// Aim is what the coupling's misalignment is compared with in condition k:
// what is wanted in the running one, zero in the others.
func (c *Coupling) Aim(k int) Misalignment {
	if k == 0 {
		return c.Wanted
	}
	return Misalignment{}
}

// A Use is how much of a limit is used.
type Use struct {
	Kind  Kind
	V, H  float64 // mm or mrad off what is wanted: + high or sloping up, + left; V alone for Gap
	Limit float64 // mm or mrad, with the condition's share
	Share float64 // of the limit that is used; 1 is at the limit
}

// Uses are the shares of the coupling's limits that a misalignment and a
// distance between shaft ends in mm use in condition k of the train.
func (t *Train) Uses(i, k int, m Misalignment, gap float64) []Use {
	c := &t.Couplings[i]
	aim := c.Aim(k)
	var uses []Use
	for _, kind := range c.Measures() {
		u := Use{Kind: kind, Limit: c.Bound(kind) * t.Condition(k).Use}
		if kind == Gap {
			u.V = gap - c.WantedGap
			u.Share = math.Abs(u.V) / u.Limit
		} else {
			o, a := c.Weights(kind)
			u.V = o*(m.V.Offset-aim.V.Offset) + a*(m.V.Angle-aim.V.Angle)
			u.H = o*(m.H.Offset-aim.H.Offset) + a*(m.H.Angle-aim.H.Angle)
			if c.Limit.EachPlane {
				u.Share = math.Max(math.Abs(u.V), math.Abs(u.H)) / u.Limit
			} else {
				u.Share = math.Hypot(u.V, u.H) / u.Limit
			}
		}
		uses = append(uses, u)
	}
	return uses
}
