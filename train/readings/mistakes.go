package readings

import (
	"math"
	"slices"

	"leastmove/train"
)

// How much is looked at for a mistake, and what counts as one. Ours.
const (
	mostSuspects  = 20 // dials of a coupling: with more of them one dial's mistake is named by its own residuals
	mostMisread   = 24 // positions of a dial that are changed one by one
	mostMistakes  = 3  // that are named
	explainedLeft = 25 // times smaller that a mistake put right makes the sum of squares
)

// Mistakes are the single slips without which the readings of a coupling would agree, where they do not: each is put
// right in turn, and all is fitted and checked anew. What no check can see has none here (see Unchecked).
func Mistakes(c *train.Coupling, f *train.Fit, most train.Checks) []train.Mistake {
	if len(c.Dials) > mostSuspects || !disagree(f.Checks) {
		return nil
	}
	before := squares(c, f)
	var out []train.Mistake
	for i := range c.Dials {
		for _, m := range slips(&c.Dials[i]) {
			m.Dial = i
			right := *c
			right.Dials = slices.Clone(c.Dials)
			right.Dials[i] = righted(&c.Dials[i], m)
			s, ok := solve(right.Dials, c.X)
			if !ok {
				continue
			}
			var fit train.Fit
			for k := range right.Dials {
				fit.Dials = append(fit.Dials, reduced(&right.Dials[k], c.X, s.state))
			}
			if m.Square = squares(&right, &fit); m.Square*explainedLeft > before || disagree(checks(&right, &fit, most)) {
				continue
			}
			out = append(out, m)
		}
	}
	slices.SortStableFunc(out, func(a, b train.Mistake) int {
		switch {
		case a.Square < b.Square-tie:
			return -1
		case a.Square > b.Square+tie:
			return 1
		}
		return 0
	})
	return out[:min(len(out), mostMistakes)]
}

// disagree says whether a check failed that holds readings against each other.
func disagree(failed []train.ReadingCheck) bool {
	return slices.ContainsFunc(failed, func(k train.ReadingCheck) bool { return k.Kind.Disagrees() })
}

// squares is what all readings leave to a fit, in standard errors of one reading, squared.
func squares(c *train.Coupling, f *train.Fit) float64 {
	sum := 0.0
	for i := range f.Dials {
		for _, r := range f.Dials[i].Residual {
			sum += math.Pow(r/standard(&c.Dials[i]), 2)
		}
	}
	return sum
}

// slips are those that one dial can have.
func slips(d *train.Dial) []train.Mistake {
	out := []train.Mistake{
		{Kind: train.MistakeSign, At: -1, Value: math.NaN()},
		{Kind: train.MistakeSides, At: -1, Value: math.NaN()},
	}
	values, factors := d.Values, []float64{10, 0.1, -1}
	if d.Kind == train.OffsetDial {
		values, factors = []float64{d.V, d.H}, factors[:2]
	}
	if len(values) > mostMisread {
		return out
	}
	for i, v := range values {
		for _, factor := range factors {
			if v != 0 {
				out = append(out, train.Mistake{Kind: train.MistakeValue, At: i, Value: factor * v})
			}
		}
	}
	return out
}

// righted is a dial without a slip.
func righted(d *train.Dial, m train.Mistake) train.Dial {
	out := *d
	out.Values, out.Angles = slices.Clone(d.Values), slices.Clone(d.Angles)
	offset := d.Kind == train.OffsetDial
	switch {
	case m.Kind == train.MistakeSign && offset:
		out.V = -d.V
	case m.Kind == train.MistakeSign:
		for i := range out.Values {
			out.Values[i] = -out.Values[i]
		}
	case m.Kind == train.MistakeSides && offset:
		out.H = -d.H
	case m.Kind == train.MistakeSides:
		for i := range out.Angles {
			out.Angles[i] = turned(-out.Angles[i])
		}
	case offset && m.At == 0:
		out.V = m.Value
	case offset:
		out.H = m.Value
	default:
		out.Values[m.At] = m.Value
	}
	return out
}

// checkedShare is the share of what a dial says that must be left to the fit if the dial is wrong for that to be seen.
const checkedShare = 0.1

// Unchecked are the dials of a coupling whose sign and sides no other reading of it can check: whatever they said up
// and sideways, the fit would take it whole.
func Unchecked(c *train.Coupling) []int {
	var out []int
	for i := range c.Dials {
		dials := slices.Clone(c.Dials)
		for k := range dials {
			said := 0.0 // mm: nothing but this dial says anything
			if k == i {
				said = 0.1
			}
			dials[k] = said45(&dials[k], said)
		}
		s, ok := solve(dials, c.X)
		if !ok {
			continue // it was refused
		}
		r := reduced(&dials[i], c.X, s.state)
		worst := 0.0
		for _, left := range r.Residual {
			worst = math.Max(worst, math.Abs(left))
		}
		if worst < checkedShare*0.1 {
			out = append(out, i)
		}
	}
	return out
}

// said45 is a dial that shows so many mm up and as many to the left, and nothing else.
func said45(d *train.Dial, mm float64) train.Dial {
	out := *d
	out.V, out.H, out.Sag, out.Radius = mm, mm, 0, math.NaN()
	if d.Kind == train.FaceDial {
		out.Radius = d.Radius
	}
	out.Values = nil
	for _, angle := range d.Angles {
		left, up := toward(angle)
		out.Values = append(out.Values, mm*(left+up))
	}
	return out
}
