package robust

import (
	"context"
	"encoding/json"
	"math"
	"os"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/optimize"
	"leastmove/testdata/trains"
	"leastmove/train"
)

// stay is a train's plan of moving nothing.
func stay(tr *train.Train) *optimize.Plan {
	moves := tr.Stay()
	return &optimize.Plan{Result: optimize.Result{Train: tr, Moves: moves, Planned: tr.Check(moves)}}
}

// inside is the chance that a Gaussian of a mean and a standard deviation stays
// within ±limit.
func inside(mean, deviation, limit float64) float64 {
	below := func(x float64) float64 { return 0.5 * (1 + math.Erf(x/math.Sqrt2)) }
	return below((limit-mean)/deviation) - below((-limit-mean)/deviation)
}

// One coupling with limits for each plane: offsets and angles, vertical and
// horizontal, are four independent Gaussians, so that the chance is a product.
func TestChanceInClosedForm(t *testing.T) {
	tr := trains.Stated(trains.Read(t, "alone", trains.Alone))
	tr.Errors.Offset, tr.Errors.Angle = 0.04, 0.08
	so, sa := 0.04/1.96, 0.08/1.96
	want := inside(0.03, so, 0.05) * inside(-0.01, so, 0.05) * inside(0.04, sa, 0.10) * inside(0.05, sa, 0.10)
	c := MonteCarlo(context.Background(), stay(tr), 400_000)
	require.InDelta(t, want, c.Within, 4*c.Error)
	assert.InDelta(t, math.Sqrt(want*(1-want)/400_000), c.Error, 1e-5)
	assert.Equal(t, c.Within, c.Couplings[0].Within, "there is no other coupling")
	halved := inside(0.03, so/2, 0.05) * inside(-0.01, so/2, 0.05) * inside(0.04, sa, 0.10) * inside(0.05, sa, 0.10)
	assert.InDelta(t, halved, c.Halved[optimize.FromOffset], 4*c.Error)
	assert.Equal(t, c.Within, c.Halved[optimize.FromGrowth], "the file states no error of growth")
}

// Growth alone: the first machine grows by 0.20 v, so the coupling stands 0.20
// low by it; 0.23 high as found leaves 0.03, with a deviation of 0.2 × 0.30 /
// 1.96. Horizontal and angle are exact and within.
func TestChanceOfGrowth(t *testing.T) {
	tr := trains.Stated(trains.Read(t, "alone", trains.Alone))
	tr.Machines[0].Growth.V.Start = 0.20
	tr.Couplings[0].Found.V.Offset = 0.23
	tr.Errors.Growth = 0.30
	c := MonteCarlo(context.Background(), stay(tr), 400_000)
	assert.InDelta(t, inside(0.03, 0.20*0.30/1.96, 0.05), c.Within, 4*c.Error)
	assert.Equal(t, [optimize.SourceCount]float64{0, 0, 0, 1}, c.Couplings[0].Shares)
	tr.Couplings[0].Taken.Growth = 0.5 // half of it was there when read
	tr.Couplings[0].Found.V.Offset = 0.13
	c = MonteCarlo(context.Background(), stay(tr), 400_000)
	assert.InDelta(t, inside(0.03, 0.10*0.30/1.96, 0.05), c.Within, 4*c.Error)
}

// Placing alone, of the second machine: stations 0.5 and 1.5 m from the coupling
// plane, set apart by a and b: the offset is 1.5 a - 0.5 b, the angle b - a, both
// to the left. With a wide limit on the angle the offset's deviation is
// √(1.5² + 0.5²) of one station's.
func TestChanceOfPlacing(t *testing.T) {
	tr := trains.Stated(trains.Read(t, "alone", trains.Alone))
	tr.Couplings[0].Limit.Angle = 10
	tr.Errors.Placing = 0.04
	assert.Equal(t, 1.0, MonteCarlo(context.Background(), stay(tr), 10_000).Within, "nothing is placed")
	moves := tr.Stay()
	for f := range moves[1] {
		moves[1][f].Left = 0.02
	}
	p := &optimize.Plan{Result: optimize.Result{Train: tr, Moves: moves, Planned: tr.Check(moves)}}
	c := MonteCarlo(context.Background(), p, 400_000)
	assert.InDelta(t, inside(-0.01+0.02, math.Sqrt(1.5*1.5+0.5*0.5)*0.04/1.96, 0.05), c.Within, 4*c.Error)
}

// One measurement better by half: offset and angle of the only coupling each have a
// factor of their own.
func TestBetterMeasurementInClosedForm(t *testing.T) {
	tr := trains.Stated(trains.Read(t, "alone", trains.Alone))
	tr.Errors.Offset, tr.Errors.Angle = 0.04, 0.08
	c := MonteCarlo(context.Background(), stay(tr), 400_000)
	require.Len(t, c.Better, 2)
	so, sa := 0.04/1.96, 0.08/1.96
	offset := func(s float64) float64 { return inside(0.03, s, 0.05) * inside(-0.01, s, 0.05) }
	angle := func(s float64) float64 { return inside(0.04, s, 0.10) * inside(0.05, s, 0.10) }
	for _, b := range c.Better {
		switch b.Measurement {
		case optimize.Measurement{Source: optimize.FromOffset, Coupling: 0, Machine: -1}:
			assert.InDelta(t, offset(so/2)*angle(sa), b.Within, 4*c.Error)
			assert.Equal(t, c.Halved[optimize.FromOffset], b.Within, "there is no other offset")
		case optimize.Measurement{Source: optimize.FromAngle, Coupling: 0, Machine: -1}:
			assert.InDelta(t, offset(so)*angle(sa/2), b.Within, 4*c.Error)
		default:
			assert.Fail(t, "there is no such error", "%v", b)
		}
	}
	assert.GreaterOrEqual(t, c.Better[0].Within, c.Better[1].Within)
}

// A measurement better by half, by the same draws, is what the chance comes to where
// the train's errors say so: growth of one machine only, half as much.
func TestBetterGrowthAgainstLessGrowth(t *testing.T) {
	tr := trains.Stored(t, "turbine.toml")
	p := planned(t, tr, optimize.Options{})
	whole := MonteCarlo(context.Background(), p, 100_000)
	e := newErrorModel(p)
	n := slices.Index(e.single, optimize.Measurement{Source: optimize.FromGrowth, Coupling: -1, Machine: 0})
	require.GreaterOrEqual(t, n, 0)
	for i := range e.rows {
		for k, term := range e.rows[i].entries {
			if e.of[term.error] == n {
				e.rows[i].entries[k].by /= 2
			}
		}
	}
	want := e.within(context.Background(), 100_000, chanceSeed)
	at := slices.IndexFunc(whole.Better, func(b optimize.BetterProbability) bool {
		return b.Measurement == optimize.Measurement{Source: optimize.FromGrowth, Coupling: -1, Machine: 0}
	})
	assert.InDelta(t, want, whole.Better[at].Within, 1e-4, "the same draws; arithmetic alone differs")
	assert.Greater(t, whole.Better[at].Within, whole.Within)
}

func TestNoChanceWithoutErrors(t *testing.T) {
	tr := trains.Stated(trains.Read(t, "alone", trains.Alone))
	assert.Nil(t, MonteCarlo(context.Background(), stay(tr), 1000), "the file states no errors")
	tr.Errors.Offset = 0.01
	assert.Nil(t, MonteCarlo(context.Background(), &optimize.Plan{Result: optimize.Result{Train: tr}}, 1000),
		"there are no moves")
}

// A storedChance is a plan and how often it ends within limits, by
// testdata/referee/chance.py.
type storedChance struct {
	Train  string
	Errors struct {
		Offset, Angle, Placing, Growth float64
		GrowthLeast                    float64 `json:"growth_least"`
	}
	Draws    int
	Machines []struct {
		Feet []struct{ Up, Left, Axial float64 }
	}
	Within, Error float64
	Couplings     map[string]float64
}

func readChances(t *testing.T, file string) []storedChance {
	text, err := os.ReadFile("../../testdata/reference/" + file)
	require.NoError(t, err)
	var stored []storedChance
	require.NoError(t, json.Unmarshal(text, &stored))
	return stored
}

// plan is the stored plan of the train, with the errors that it was sampled with.
func (s *storedChance) plan(t *testing.T) *optimize.Plan {
	tr := trains.Stated(trains.Stored(t, s.Train))
	tr.Errors = train.Errors{Offset: s.Errors.Offset, Angle: s.Errors.Angle, Placing: s.Errors.Placing,
		Growth: s.Errors.Growth, GrowthLeast: s.Errors.GrowthLeast}
	moves := tr.Stay()
	for i := range moves {
		for f := range moves[i] {
			m := s.Machines[i].Feet[f]
			moves[i][f] = train.FootMove{Up: m.Up, Left: m.Left, Axial: m.Axial}
		}
	}
	return &optimize.Plan{Result: optimize.Result{Train: tr, Moves: moves, Planned: tr.Check(moves)}}
}

// Plans of five trains against a sampler in Python, with numpy's random numbers,
// which looks up what an error does by changing the train file.
func TestChanceAgainstNumpy(t *testing.T) {
	stored := readChances(t, "chance.json")
	require.Len(t, stored, 5)
	for _, s := range stored {
		t.Run(s.Train, func(t *testing.T) {
			p := s.plan(t)
			tr := p.Train
			draws := trains.Draws(20_000, 100_000)
			c := MonteCarlo(context.Background(), p, draws)
			t.Logf("%.4f against %.4f", c.Within, s.Within)
			// Beside the draws, true geometry leaves up to 0.005 mm that the
			// linear model in Python does not have: half a per cent.
			assert.InDelta(t, s.Within, c.Within, 4*math.Hypot(c.Error, s.Error)+0.005)
			for i := range c.Couplings {
				want := s.Couplings[tr.Couplings[i].Name]
				deviation := math.Sqrt(want * (1 - want) / float64(draws))
				assert.InDelta(t, want, c.Couplings[i].Within, 5*deviation+0.005, tr.Couplings[i].Name)
				var sum float64
				for _, share := range c.Couplings[i].Shares {
					sum += share
				}
				assert.InDelta(t, 1, sum, 1e-9)
			}
		})
	}
}

func BenchmarkChance100000Draws(b *testing.B) {
	text, err := os.ReadFile("../../examples/five-machines/before.toml")
	require.NoError(b, err)
	p := stay(trains.Stated(trains.Read(b, "five machines", string(text))))
	p.Train.Errors = train.Errors{Offset: 0.02, Angle: 0.05, Placing: 0.02, Growth: 0.2}
	for b.Loop() {
		MonteCarlo(context.Background(), p, 100_000)
	}
}

// Where each plane counts by itself, the limit that is nearest is that with the
// largest of the two, not with the longest arrow.
func TestNearestLimitInEachPlane(t *testing.T) {
	e := &errorModel{
		tests: []test{{Limit: optimize.OfCoupling(train.LimitOffset, 0, 0), each: true},
			{Limit: optimize.OfCoupling(train.LimitAngle, 0, 0), each: true}},
		rows: []jacobianRow{{planned: 0.6}, {planned: 0.6}, {planned: 0.7}, {planned: 0}},
	}
	assert.Equal(t, train.LimitAngle, e.ofCoupling(0, 1, []int{0, 0}).Worst.Kind)
	e.tests[0].each, e.tests[1].each = false, false
	assert.Equal(t, train.LimitOffset, e.ofCoupling(0, 1, []int{0, 0}).Worst.Kind)
}
