package pages

import (
	"bytes"
	"context"
	"encoding/json"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/cmd/internal/view"
	"leastmove/optimize"
	"leastmove/optimize/robust"
	"leastmove/train"
)

func TestChanceOnThePage(t *testing.T) {
	p := plannedMM(t)
	p.Train.Errors = train.Errors{Offset: 0.02, Angle: 0.05, Placing: 0.03, Growth: 0.2, GrowthLeast: 0.01,
		Assumed: train.AssumedErrors{Angle: true}}
	p.Probability = &optimize.Probability{
		Draws: 100_000, Within: 0.89869, Error: 0.000954, Halved: [4]float64{0.9155, 0.9064, 0.9322, 0.97729},
		Couplings: []optimize.CouplingProbability{
			{Within: 0.9002, Worst: couplingLimit(train.LimitFlex, 0, 0), Shares: [4]float64{0.09, 0.04, 0.21, 0.66}},
			{Within: 0.99997, Worst: couplingLimit(train.LimitOffset, 1, 1), Shares: [4]float64{0.16, 0.03, 0.41, 0.40}},
			{Within: 1, Worst: couplingLimit(train.LimitAngle, 2, 0), Shares: [4]float64{1, 0, 0, 0}},
		},
	}
	s := flat(textOf(t, p, Page{}))
	assert.Contains(t, s, "89.8 % that every coupling ends within all of its limits in both conditions in 100000 "+
		"simulated jobs (the share is good to ±0.10 %)")
	assert.Contains(t, s, "found offsets ±0.020 mm, found angles ±0.050 mrad (default), side moves ±0.030 mm, growth "+
		"and journal shift ±20 % and besides ±0.010 mm.")
	assert.Contains(t, s, "99.9 % 16 % 3 % 41 % 40 %", "never rounded up to certain")
	assert.Contains(t, s, "half the error of growth would bring the chance to 97.7 %.")
	var doc struct {
		Chance struct {
			Within    float64
			Halved    map[string]float64
			Couplings []struct {
				Condition string
				Shares    map[string]float64
			}
		}
	}
	var b bytes.Buffer
	require.NoError(t, planJSON(&b, view.Of(p), Page{}))
	require.NoError(t, json.Unmarshal(b.Bytes(), &doc))
	assert.Equal(t, 0.8986, doc.Chance.Within)
	assert.Equal(t, 0.9772, doc.Chance.Halved["growth"])
	assert.Equal(t, 0.41, doc.Chance.Couplings[1].Shares["placing"])
	assert.Equal(t, "cold start", doc.Chance.Couplings[1].Condition)

	p.Probability.Halved = [4]float64{0.899, 0.899, 0.899, 0.899}
	assert.NotContains(t, textOf(t, p, Page{}), "What would help most", "less than the draws tell")
}

// Where the readings of a coupling show that they are less certain than [errors] says, the
// chance is counted with what they show, which is told.
func TestChanceOfLooseReadings(t *testing.T) {
	tr := read(t, "read.toml")
	p := emptyPlan(tr, optimize.Planned)
	p.Probability = &optimize.Probability{Draws: 1000, Within: 0.9}
	s := formatterOf(tr)
	worst := train.Tilt{}
	name := ""
	for i := range tr.Couplings {
		if len(tr.Couplings[i].Dials) > 0 {
			if half := tr.Couplings[i].Fit.Half; half.V.Angle > worst.Angle {
				worst, name = half.V, tr.Couplings[i].Name
			}
		}
	}
	require.Positive(t, worst.Angle)
	tr.Errors = train.Errors{Offset: 10, Angle: worst.Angle / 1.3}
	loose := s.looser(view.Of(p))
	require.Len(t, loose, 1)
	assert.Contains(t, loose[0], "\""+name+"\" (angle ±")
	assert.NotContains(t, loose[0], "offset ±")
	assert.NotContains(t, s.surely(view.Of(p)), "lower", "one number is given, the one that holds")
	tr.Errors.Angle = 10
	assert.Empty(t, s.looser(view.Of(p)))
}

// No chance is given where growth or a journal shift is not stated; what is missing is said.
func TestNoChanceOfWhatIsOpen(t *testing.T) {
	p := plannedMM(t)
	p.Train.Errors = train.Errors{Offset: 0.02}
	for i := range p.Train.Machines {
		m := &p.Train.Machines[i]
		m.Growth.Unknown = i == 0
		m.Growth.AxialUnknown = false
		for s := range m.Shafts {
			m.Shafts[s].RunUnknown = i == 2
		}
	}
	assert.Nil(t, robust.MonteCarlo(context.Background(), p, 10))
	s := flat(textOf(t, p, Page{}))
	assert.Contains(t, s, "NOT JUDGED: the growth of turbine is not stated; the journal shift of compressor is not "+
		"stated. Next: state it, also where there is none.")
	p.Train.Machines[0].Growth.Unknown = false
	s = flat(textOf(t, p, Page{}))
	assert.Contains(t, s, "NOT JUDGED: the journal shift of compressor is not stated. Next: state run (0 in rolling "+
		"bearings; plain ones: leastmove help journal shift).")
	p.Train.Machines[0].Growth.Unknown = true
	s = flat(textOf(t, p, Page{Full: true}))
	assert.Contains(t, s, "None is given: the growth of turbine is not stated (v = 0 says that there is none); the "+
		"journal shift of compressor is not stated")
}

// Where there is no plan, a report does not say that errors are not stated which are.
func TestNoChanceWithErrorsStated(t *testing.T) {
	p := *plannedMM(t)
	tr := *p.Train
	p.Train = &tr
	text := &planText{formatter: formatterOf(&tr), plan: view.Of(&p)}
	assert.Contains(t, text.noChance(), "does not state")
	tr.Errors.Stated = true
	assert.Equal(t, "There are no moves whose chance of ending within limits could be worked out.", text.noChance())
}
