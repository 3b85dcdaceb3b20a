package readings

import (
	"math"
	"slices"

	"leastmove/train"
)

// A difference is the largest one in mm at a plunger, and the first dial that
// it is about.
type difference struct {
	dial int
	size float64
}

// repeats are the passes after the first against it.
func repeats(c *train.Coupling) []difference {
	var out []difference
	var first *solved
	for _, set := range sets(c.Dials) {
		s, ok := solve(pick(c.Dials, func(d *train.Dial) bool { return d.Set == set }), c.X)
		if !ok {
			continue
		}
		if first == nil {
			first = &s
			continue
		}
		d := difference{dial: slices.IndexFunc(c.Dials, func(d train.Dial) bool { return d.Set == set })}
		for i := range c.Dials {
			d.size = math.Max(d.size, apart(&c.Dials[i], c.X, s.state, first.state))
		}
		out = append(out, d)
	}
	return out
}

// apart is how far two states are from each other in mm where the dial is.
func apart(d *train.Dial, x float64, a, b state) float64 {
	if d.Kind == train.FaceDial {
		return d.Radius / 1000 * math.Hypot(a[vAngle]-b[vAngle], a[hAngle]-b[hAngle])
	}
	aLeft, aUp := a.at(d.X - x)
	bLeft, bUp := b.at(d.X - x)
	return math.Hypot(aLeft-bLeft, aUp-bUp)
}

// methods are the kinds of reading against all others, where those determine
// the misalignment without it. Of two kinds that can do without each other the
// second is named.
func methods(c *train.Coupling, f *Fit) []difference {
	var out []difference
	for kind := train.OffsetDial; kind >= train.RimDial; kind-- {
		others := pick(c.Dials, func(d *train.Dial) bool { return d.Kind != kind })
		s, ok := solve(others, c.X)
		if !ok || len(others) == len(c.Dials) {
			continue
		}
		d := difference{dial: -1}
		for i := range c.Dials {
			if c.Dials[i].Kind == kind {
				if by := s.against(&c.Dials[i], c.X, &f.Dials[i]); by > d.size || d.dial < 0 {
					d = difference{i, by}
				}
			}
		}
		return append(out, d)
	}
	return out
}

// against is how far in mm at the plunger a dial's own share is from the state.
func (s state) against(d *train.Dial, x float64, r *Reduced) float64 {
	if d.Kind == train.FaceDial {
		return d.Radius / 1000 * math.Hypot(r.V-s[vAngle], r.H-s[hAngle])
	}
	left, up := s.at(d.X - x)
	return math.Hypot(r.V-up, r.H-left)
}

// sets are the numbers of the passes, ascending.
func sets(dials []train.Dial) []int {
	var out []int
	for i := range dials {
		out = append(out, dials[i].Set)
	}
	slices.Sort(out)
	return slices.Compact(out)
}

func pick(dials []train.Dial, is func(*train.Dial) bool) []train.Dial {
	var out []train.Dial
	for i := range dials {
		if is(&dials[i]) {
			out = append(out, dials[i])
		}
	}
	return out
}
