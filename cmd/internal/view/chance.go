package view

import (
	"math"

	"leastmove/optimize"
)

// A Chance is how likely it is that the couplings end within their limits, and what would raise that.
type Chance struct {
	*Probability
	Helps  Source              // whose error halved raises it most; below 0: none by more than the draws tell
	Better []BetterMeasurement // the most useful single measurements, at most mostBetter
}

// A BetterMeasurement is one, better by half and the others as they are.
type BetterMeasurement struct {
	Measurement
	Within float64 // chance that it brings, 0 to 1
}

// mostBetter is how many measurements are told.
const mostBetter = 3

func chanceOf(c *optimize.Probability) *Chance {
	if c == nil {
		return nil
	}
	out := &Chance{Probability: c, Helps: -1}
	// What the draws tell apart: a chance has to be above it to be called better.
	tellable := c.Within + 2*math.Max(c.Error, 1/float64(c.Draws))
	most := tellable
	for _, s := range Sources() {
		if c.Halved[s] > most {
			out.Helps, most = s, c.Halved[s]
		}
	}
	for n, b := range c.Better {
		if n < mostBetter && b.Within > tellable && c.Better[0].Within > tellable {
			out.Better = append(out.Better, BetterMeasurement{b.Measurement, b.Within})
		}
	}
	return out
}

// Sources are all sources of errors.
func Sources() []Source { return optimize.Sources() }

// A Looser is a coupling whose readings are less certain, by what they show themselves, than the errors of
// the train file that a chance is counted with.
type Looser struct {
	Coupling      int
	Offset, Angle float64 // mm and mrad, half of the 95 % interval; NaN: not larger
}

// looserOf are those of a train.
func looserOf(t *Train) []Looser {
	const more = 1.2 // times as much is to be said
	var out []Looser
	for i := range t.Couplings {
		c := &t.Couplings[i]
		if len(c.Dials) == 0 || c.Surveyed {
			continue
		}
		fit := c.Fit
		l := Looser{i, math.NaN(), math.NaN()}
		if offset := math.Max(fit.Half.V.Offset, fit.Half.H.Offset); offset > more*t.Errors.Offset {
			l.Offset = offset
		}
		if angle := math.Max(fit.Half.V.Angle, fit.Half.H.Angle); angle > more*t.Errors.Angle {
			l.Angle = angle
		}
		if !math.IsNaN(l.Offset) || !math.IsNaN(l.Angle) {
			out = append(out, l)
		}
	}
	return out
}
