package staging

import (
	"math"

	"leastmove/optimize"
	"leastmove/train"
)

// A AcceptanceTolerance is how far a coupling may read off what a plan expects, cold and at
// standstill, with all of its limits still kept. What is off cold is off by as
// much in every condition, to first order: growth does not depend on it.
type AcceptanceTolerance struct {
	Offset float64 // mm, up and down and sideways at once
	Angle  float64 // mrad, likewise, with the offset off too
	Gap    float64 // mm, of the distance between shaft ends; NaN: none is known
	Share  float64 // of the most that is let be, see AcceptanceTolerances, that Offset and Angle are
}

// MostTurned is the most in mrad that an angle may be off, whatever is left of its
// limits: ours, no source.
const MostTurned = 0.1

// AcceptanceTolerances are those of the plan's couplings. The offset is let be off by at most what
// a soft foot is, the angle by MostTurned, both in the same share; the distance
// between shaft ends, which is measured for itself, by twice as much.
//
// Of a limit L, the plan being (v, h) off what is wanted, an offset off by λ O and
// an angle off by λ A in both planes leave at worst
//
//	hypot(|v| + λ r, |h| + λ r) <= L, or each of them,  r = |o| O + |a| A
//
// with o and a as in train.Weights; λ is the largest that does so for every limit
// in every condition.
func AcceptanceTolerances(p *optimize.Plan) []AcceptanceTolerance {
	t := p.Train
	most := optimize.SoftFoot(t.Units)
	out := make([]AcceptanceTolerance, len(t.Couplings))
	for i := range out {
		c := &t.Couplings[i]
		g := AcceptanceTolerance{Share: 1, Gap: math.NaN()}
		if !math.IsNaN(c.FoundGap) {
			g.Gap = 2 * most // shaft ends are measured more coarsely
		}
		for k := range p.Planned.Couplings[i] {
			for _, u := range p.Planned.Couplings[i][k].Uses {
				limit := u.Limit * (1 - bent)
				if u.Kind == train.Gap {
					g.Gap = math.Max(0, math.Min(g.Gap, limit-math.Abs(u.V)))
					continue
				}
				o, a := c.Weights(u.Kind)
				r := math.Abs(o)*most + math.Abs(a)*MostTurned
				g.Share = math.Min(g.Share, room(math.Abs(u.V), math.Abs(u.H), limit, c.Limit.EachPlane)/r)
			}
		}
		if c.Limit.Combined {
			for k := range p.Planned.Couplings[i] {
				g.Share = math.Min(g.Share, roomTogether(c, &p.Planned.Couplings[i][k], most))
			}
		}
		g.Share = math.Max(0, g.Share)
		if c.Limit.Combined && !math.IsNaN(g.Gap) {
			g.Gap = math.Min(g.Gap, g.Share*most)
		}
		g.Offset, g.Angle = g.Share*most, g.Share*MostTurned
		out[i] = g
	}
	return out
}

// roomTogether is the largest share of what is let be, most in mm and MostTurned, with which the shares of a coupling's
// limits still add up to no more than 1; the distance between shaft ends, which is measured for itself, is let be off
// by the same share of most.
func roomTogether(c *train.Coupling, r *train.Reading, most float64) float64 {
	added := func(share float64) float64 {
		var sum float64
		for _, u := range r.Uses {
			off, v, h := most, math.Abs(u.V), math.Abs(u.H)
			if u.Kind != train.Gap {
				o, a := c.Weights(u.Kind)
				off = math.Abs(o)*most + math.Abs(a)*MostTurned
			}
			switch {
			case u.Kind == train.Gap:
				sum += (v + share*off) / u.Limit
			case c.Limit.EachPlane:
				sum += (math.Max(v, h) + share*off) / u.Limit
			default:
				sum += math.Hypot(v+share*off, h+share*off) / u.Limit
			}
		}
		return sum
	}
	low, high := 0.0, 1.0
	if added(high) <= 1-bent {
		return high
	}
	for range halvings { // it grows with the share
		if middle := (low + high) / 2; added(middle) <= 1-bent {
			low = middle
		} else {
			high = middle
		}
	}
	return low
}

// halvings leave less of a share than a dial shows of any.
const halvings = 40

// bent is the share of a limit that is left for what true geometry adds to first
// order: seen up to 4e-5 on random trains.
const bent = 1e-4

// room is by how much v and h, not negative, may both grow within a limit; negative
// where they are past it.
func room(v, h, limit float64, each bool) float64 {
	if each {
		return limit - math.Max(v, h)
	}
	// 2 x² + 2 (v + h) x + v² + h² - limit² = 0
	c := v*v + h*h - limit*limit
	return (math.Sqrt(math.Max(0, (v+h)*(v+h)-2*c)) - (v + h)) / 2
}
