package pages

import (
	"encoding/json"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/optimize"
	"leastmove/train"
)

// assured is the handmade plan as if a chance had been asked for.
func assured(t *testing.T) *optimize.Plan {
	p := plannedMM(t)
	p.Train.Errors = train.Errors{Offset: 0.02, Growth: 0.2}
	p.Probability = &optimize.Probability{
		Draws: 100_000, Within: 0.95349, Error: 0.000666,
		Better: []optimize.BetterProbability{
			{Measurement: optimize.Measurement{Source: optimize.FromGrowth, Coupling: -1, Machine: 2}, Within: 0.98},
			{Measurement: optimize.Measurement{Source: optimize.FromOffset, Coupling: 1, Machine: -1}, Within: 0.9599},
			{Measurement: optimize.Measurement{Source: optimize.FromPlacing, Coupling: -1, Machine: 0}, Within: 0.9535},
		},
	}
	p.ChanceConstraint = &optimize.ChanceConstraint{Asked: 0.95, Reached: true, BackOff: 2.0151, Most: 0.4612,
		Least: 0.0829, Without: p.Total - 0.30, WithoutProbability: 0.22999}
	return p
}

func TestAssuranceOnThePage(t *testing.T) {
	p := assured(t)
	s := flat(textOf(t, p, Page{}))
	assert.Contains(t, s, "A chance of 95 % of ending within limits was asked for; this plan has 95.3 % (100000 "+
		"simulated jobs, good to ±0.07 %).")
	assert.Contains(t, s, "With the file's weights that takes 0.30 mm more movement than the plan that may use all "+
		"of every limit")
	assert.Contains(t, s, "whose chance is 22.9 %. Every coupling limit was held short by about 2.02 standard "+
		"deviations of its own errors, which is 9 % to 47 % of it.")
	assert.Contains(t, s, "No plan with a chance of 95 % has a smaller total than")
	assert.Contains(t, s, "that none moves less was not proven")
	assert.Contains(t, s, "growth and journal shift of compressor 98.0 % found offset of \"low speed\" 95.9 %",
		"never rounded up")
	assert.NotContains(t, s, "placing of the side moves of turbine", "less than the draws tell")
	var doc struct {
		Assurance struct {
			Asked, Margin, Most, Least, Extra float64
			Reached, None                     bool
			Without                           struct{ Total, Within float64 }
		}
		Chance struct {
			Better []struct {
				Source, Coupling, Machine string
				Within                    float64
			}
		}
	}
	require.NoError(t, json.Unmarshal(asJSON(t, p), &doc))
	assert.Equal(t, 0.95, doc.Assurance.Asked)
	assert.InDelta(t, 0.30, doc.Assurance.Extra, 1e-9)
	assert.Equal(t, 0.2299, doc.Assurance.Without.Within)
	require.Len(t, doc.Chance.Better, 3)
	assert.Equal(t, "growth", doc.Chance.Better[0].Source)
	assert.Equal(t, "compressor", doc.Chance.Better[0].Machine)
	assert.Equal(t, "low speed", doc.Chance.Better[1].Coupling)

	p.ChanceConstraint.Without, p.ChanceConstraint.Most = p.Total, 0
	assert.Contains(t, flat(textOf(t, p, Page{})), "That takes no more movement than the plan that may use all "+
		"of every limit")
}

func TestAssuranceThatWasNotReached(t *testing.T) {
	p := assured(t)
	p.ChanceConstraint.Asked, p.ChanceConstraint.Reached = 0.995, false
	s := flat(textOf(t, p, Page{}))
	assert.Contains(t, s, "NOT REACHED: a chance of 99.5 % of ending within limits was asked for. That no plan has "+
		"it was not proven. The highest that was found is 95.3 %")
	// The answer is "not reached": no plan is printed that nobody is to carry out, not even in full.
	for _, none := range []string{"CARRY OUT", "Shim packs", "Total movement", "raise 0."} {
		assert.NotContains(t, s, none)
	}
	assert.Contains(t, s, "What would raise the chance")
	total := func() string { return flat(laidOut(t, p, Page{Show: []string{"total"}})) }
	assert.Contains(t, total(), "No plan within the limits and with that chance has a smaller total than")
	p.ChanceConstraint.None = true
	s = flat(textOf(t, p, Page{}))
	assert.Contains(t, s, "No plan has it (proven).")
	assert.Contains(t, total(), "No plan within the limits, whatever its chance, has a smaller total than")
	p.Bound = math.NaN()
	assert.Contains(t, total(), "How small the total could be was not proven.")
}
