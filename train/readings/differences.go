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

// repeats are the passes after the first against it: where each determines the
// misalignment by that, else dial by dial against the same dial of an earlier
// pass.
func repeats(c *train.Coupling, f *train.Fit) []difference {
	var out []difference
	var first *solved
	for _, set := range sets(c.Dials) {
		s, ok := solve(pick(c.Dials, func(d *train.Dial) bool { return d.Set == set }), c.X)
		switch {
		case ok && first == nil:
			first = &s
		case ok:
			d := difference{dial: slices.IndexFunc(c.Dials, func(d train.Dial) bool { return d.Set == set })}
			for i := range c.Dials {
				d.size = math.Max(d.size, apart(&c.Dials[i], c.X, s.state, first.state))
			}
			out = append(out, d)
		default:
			for i := range c.Dials {
				if c.Dials[i].Set != set {
					continue
				}
				if k := before(c.Dials, i); k >= 0 {
					out = append(out, difference{i, beside(&f.Dials[i], &c.Dials[i], &f.Dials[k])})
				}
			}
		}
	}
	return out
}

// before is the same dial in the earliest pass before that of dial i; -1: none.
func before(dials []train.Dial, i int) int {
	first := -1
	for k := range dials {
		if dials[k].Set < dials[i].Set && mountOf(&dials[k]) == mountOf(&dials[i]) &&
			(first < 0 || dials[k].Set < dials[first].Set) {
			first = k
		}
	}
	return first
}

// beside is how far in mm two shares of the same dial are from each other.
func beside(r *train.DialFit, d *train.Dial, other *train.DialFit) float64 {
	by := math.Hypot(r.V-other.V, r.H-other.H)
	if d.Kind == train.FaceDial {
		return d.Radius / 1000 * by
	}
	return by
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
func methods(c *train.Coupling, f *train.Fit) []difference {
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
func (s state) against(d *train.Dial, x float64, r *train.DialFit) float64 {
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
