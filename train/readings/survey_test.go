package readings

import (
	"encoding/json"
	"math"
	"math/rand/v2"
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"

	"leastmove/train"
)

// surveyed is a train of single shafts whose couplings take what was found from
// the points: those of each machine are given as own station, up, left.
func surveyed(at []float64, planes []float64, points ...[][3]float64) *train.Train {
	t := &train.Train{Checks: usualChecks()}
	for i, of := range points {
		m := train.Machine{Name: string(rune('a' + i)), At: at[i], Shafts: []train.Shaft{{}}}
		for _, p := range of {
			m.Points = append(m.Points, train.Point{X: p[0], V: p[1], H: p[2]})
		}
		t.Machines = append(t.Machines, m)
	}
	for i, x := range planes {
		t.Couplings = append(t.Couplings, train.Coupling{Name: string(rune('p' + i)), X: x, Surveyed: true, FoundGap: nan,
			From: train.End{Machine: i}, To: train.End{Machine: i + 1}})
	}
	return t
}

// surveyOf is the survey of a train, whose couplings with readings are fitted first.
func surveyOf(t *train.Train) *train.Survey {
	for i := range t.Couplings {
		if c := &t.Couplings[i]; len(c.Dials) > 0 {
			c.Fit, _ = Reduce(c, OptionsOf(t, c))
		}
	}
	return LinesOf(t).Complete(t)
}

// By hand. The first shaft lies level at 5.0, 2.0 to the left. The second slopes up
// from 4.80 by 0.32 in 800 mm, 0.4 mrad, and turns from 2.20 by -0.08, -0.1 mrad.
// At x = 1250, 250 mm before its first point, it is at 4.80 - 0.10 = 4.70 and at
// 2.20 + 0.025 = 2.225: 0.30 low, 0.225 left.
//
// With points good to 0.05: a line through points at 100 and 900 is at 1250
// -0.4375 of the first and 1.4375 of the second, good to 0.05 × 1.50260; that
// through 1500 and 2300 is 1.3125 and -0.3125, 0.05 × 1.34919; together
// 0.05 × 2.01945 = 0.100972. Slopes: 0.05 × √2 / 0.8 each, together 0.125.
func TestSurveyByHand(t *testing.T) {
	tr := surveyed([]float64{0, 1500}, []float64{1250}, [][3]float64{{100, 5, 2}, {900, 5, 2}},
		[][3]float64{{0, 4.8, 2.2}, {800, 5.12, 2.12}})
	for i := range tr.Machines {
		for k := range tr.Machines[i].Points {
			tr.Machines[i].Points[k].Error = 0.05
		}
	}
	s := surveyOf(tr)
	require.Len(t, s.Couplings, 1)
	b := s.Couplings[0]
	equal(t, -0.3, b.Found.V.Offset, 1e-12, "v")
	equal(t, 0.4, b.Found.V.Angle, 1e-12, "v")
	equal(t, 0.225, b.Found.H.Offset, 1e-12, "h")
	equal(t, -0.1, b.Found.H.Angle, 1e-12, "h")
	assert.Zero(t, s.Usual, "all are stated")
	equal(t, 0.100972, b.Half.Offset, 1e-6, "half of the offset")
	equal(t, 0.125, b.Half.Angle, 1e-12, "half of the angle")
	assert.Empty(t, s.Checks)
	assert.Equal(t, 0, s.Freedom)

	// Without errors of its own a point counts as good to 1.96 × 0.02.
	for i := range tr.Machines {
		for k := range tr.Machines[i].Points {
			tr.Machines[i].Points[k].Error = 0
		}
	}
	s = surveyOf(tr)
	equal(t, 1.96*0.02, s.Usual, 1e-6, "usual")
	equal(t, 0.100972/0.05*1.96*0.02, s.Couplings[0].Half.Offset, 1e-5, "half of the offset")
}

// By hand: 0, 0.03 and 0 at 0, 100 and 200 leave -0.01, 0.02 and -0.01 to the level
// line at 0.01. Up and sideways each have one figure to spare, so that the standard
// error is √(0.0006 / 2) = 0.017321.
func TestSurveyResiduals(t *testing.T) {
	tr := surveyed([]float64{0, 1500}, []float64{1250}, [][3]float64{{0, 0, 0}, {100, 0.03, 0}, {200, 0, 0}},
		[][3]float64{{0, 0, 0}, {800, 0, 0}})
	s := surveyOf(tr)
	assert.Equal(t, 2, s.Freedom)
	equal(t, 0.0173205, s.Scatter, 1e-7, "scatter")
	for k, want := range []float64{-0.01, 0.02, -0.01} {
		equal(t, want, s.Lines[0].OffV[k], 1e-12, "off")
		equal(t, 0, s.Lines[0].OffH[k], 1e-12, "off")
	}
	equal(t, 0.01, s.Lines[0].V, 1e-12, "the line")
	equal(t, 1, s.Spread, 0, "0.0006 / 0.02² = 1.5 is below the 5.99 that 95 of 100 stay below")
	tr.Machines[0].Points[1].V = 0.12 // 16 times as much, 24
	equal(t, math.Sqrt(1+(24-5.9915)/2), surveyOf(tr).Spread, 1e-4, "spread")
}

// A gear: the wheel has one point alone and takes the slope of the pinion, which
// has two; without a point it takes the pinion's line, moved by y and z and the
// roll found. By hand: the pinion slopes up by 0.2 in 1000, so that the wheel, at 7.0 at
// station 500, is at 7.1 at 1000. With y 240 less, z 10 more and a roll of 0.5
// mrad it lies at 10 - 240 × 0.0005 = 9.88 over the pinion, and 240 + 10 × 0.0005
// to the right.
func TestSurveyOfAGear(t *testing.T) {
	gear := func() *train.Train {
		tr := surveyed([]float64{0, 1500}, []float64{1000}, [][3]float64{{0, 5, 2}, {1000, 5.2, 2}},
			[][3]float64{{0, 7, 0}, {800, 7, 0}})
		m := &tr.Machines[0]
		m.Shafts = []train.Shaft{{Name: "pinion", Y: 120}, {Name: "wheel", Y: -120, Z: 10}}
		m.Level.FoundRoll = 0.5
		tr.Couplings[0].From.Shaft = 1
		return tr
	}
	tr := gear()
	s := surveyOf(tr)
	require.Len(t, s.Couplings, 1)
	assert.Equal(t, [2]int{0, -1}, s.Couplings[0].Lent)
	equal(t, 7-(5.2+9.88), s.Couplings[0].Found.V.Offset, 1e-5, "v, roll in second order")
	equal(t, -(2 - 240.005), s.Couplings[0].Found.H.Offset, 1e-4, "h, roll in second order")
	equal(t, -0.2, s.Couplings[0].Found.V.Angle, 1e-12, "the pinion's slope")

	tr = gear()
	tr.Machines[0].Points = append(tr.Machines[0].Points, train.Point{Shaft: 1, X: 500, V: 7, H: 1})
	s = surveyOf(tr)
	assert.Equal(t, [2]int{-1, -1}, s.Couplings[0].Lent)
	equal(t, -0.1, s.Couplings[0].Found.V.Offset, 1e-12, "one point and the slope")
	require.Len(t, s.Checks, 1, "1 mm beside the pinion where y says 240")
	assert.Equal(t, train.CheckShafts, s.Checks[0].Kind)

	tr = gear()
	tr.Machines[0].Shafts = []train.Shaft{{Name: "pinion"}, {Name: "wheel"}}
	s = surveyOf(tr)
	assert.Empty(t, s.Couplings)
	assert.Equal(t, NoRelation, LinesOf(tr).Loose(tr, tr.Couplings[0].From))
}

// testdata/survey.json holds fits by NumPy, which testdata/survey.py, beside it,
// made from equations of its own.
func TestSurveyAgainstNumPy(t *testing.T) {
	text, err := os.ReadFile("testdata/survey.json")
	require.NoError(t, err)
	var cases []struct {
		Machines []struct {
			At     float64
			Shafts int
			Points []train.Point
		}
		Freedom   int
		Couplings []struct {
			X               float64
			From            int
			Found, Standard []float64
		}
	}
	require.NoError(t, json.Unmarshal(text, &cases))
	require.Len(t, cases, 40)
	spare := 0
	for i, c := range cases {
		tr := &train.Train{Checks: usualChecks()}
		for _, m := range c.Machines {
			tr.Machines = append(tr.Machines, train.Machine{At: m.At, Shafts: make([]train.Shaft, m.Shafts), Points: m.Points})
		}
		for k, of := range c.Couplings {
			tr.Couplings = append(tr.Couplings, train.Coupling{X: of.X, From: train.End{Machine: k, Shaft: of.From},
				To: train.End{Machine: k + 1}, Surveyed: true})
		}
		s := surveyOf(tr)
		lines := LinesOf(tr)
		require.Equal(t, c.Freedom, s.Freedom, "case %d", i)
		require.Len(t, s.Couplings, len(c.Couplings))
		scale := 1.0
		if c.Freedom > 0 {
			scale = s.Scatter / usualPoint
			spare++
		}
		for k, of := range c.Couplings {
			for n, v := range stateOf(s.Couplings[k].Found) {
				equal(t, of.Found[n], v, 1e-9, "found")
			}
			equal(t, of.Standard[0], scale*lines.deviation(&tr.Couplings[k], of.X), 1e-9, "standard error of the offset")
			equal(t, of.Standard[1], scale*lines.slopeDeviation(&tr.Couplings[k]), 1e-9, "standard error of the angle")
		}
	}
	assert.Greater(t, spare, 20, "cases with figures to spare")
}

// lain is a train whose shafts lie anywhere by true geometry, its points where the
// shafts meet planes of the frame, and what stands between the shafts at the
// couplings.
func lain(r *rand.Rand, machines int) (*train.Train, []train.Misalignment) {
	between := func(low, high float64) float64 { return low + (high-low)*r.Float64() }
	tr := &train.Train{Checks: usualChecks()}
	var lines [][]axle
	for i := range machines {
		m := train.Machine{At: 2500 * float64(i), Shafts: []train.Shaft{{}}}
		along := axle{along: r3.Unit(r3.Vec{X: 1, Y: between(-2e-3, 2e-3), Z: between(-2e-3, 2e-3)}),
			at: r3.Vec{X: m.At, Y: between(-2, 2), Z: 1000 + between(-2, 2)}}
		shafts := []axle{along}
		if i > 0 && i < machines-1 && r.IntN(2) == 0 { // a gear: the second shaft beside the first, across it
			m.Shafts = append(m.Shafts, train.Shaft{Name: "second", Y: 250})
			second := along
			second.at = r3.Add(along.at, r3.Vec{Y: between(200, 300), Z: between(-30, 30)})
			shafts = append(shafts, second)
			m.Shafts[1].Y = second.at.Y - along.at.Y
			m.Shafts[1].Z = second.at.Z - along.at.Z
		}
		for j, shaft := range shafts {
			for _, x := range []float64{-100, between(300, 900), 1200 + between(0, 200)} {
				p := shaft.station(m.At + x)
				m.Points = append(m.Points, train.Point{Shaft: j, X: x, V: p.Z, H: p.Y})
			}
		}
		tr.Machines, lines = append(tr.Machines, m), append(lines, shafts)
	}
	var truth []train.Misalignment
	for i := range machines - 1 {
		from, to := lines[i][len(lines[i])-1], lines[i+1][0]
		c := train.Coupling{X: 2500*float64(i) + between(1500, 2300), Surveyed: true,
			From: train.End{Machine: i, Shaft: len(lines[i]) - 1}, To: train.End{Machine: i + 1}}
		a, b := from.station(c.X), to.station(c.X)
		slope := func(l axle, of float64) float64 { return 1000 * of / l.along.X }
		truth = append(truth, train.Misalignment{
			V: train.Tilt{Offset: b.Z - a.Z, Angle: slope(to, to.along.Z) - slope(from, from.along.Z)},
			H: train.Tilt{Offset: b.Y - a.Y, Angle: slope(to, to.along.Y) - slope(from, from.along.Y)},
		})
		tr.Couplings = append(tr.Couplings, c)
	}
	return tr, truth
}

// True geometry to points and back, on random trains; and by the relation of a
// gear's shafts where the second one has no point.
func TestSurveyRoundTrip(t *testing.T) {
	r := rand.New(rand.NewPCG(6, 4))
	lent := 0
	for n := range 500 {
		tr, truth := lain(r, 2+n%5)
		if n%2 == 1 {
			for i := range tr.Machines {
				if m := &tr.Machines[i]; len(m.Shafts) == 2 {
					m.Points = m.Points[:3]
				}
			}
		}
		s := surveyOf(tr)
		require.Len(t, s.Couplings, len(truth))
		for k, b := range s.Couplings {
			require.LessOrEqual(t, worst(b.Found, truth[k]), 1e-9)
			if b.Lent[0] >= 0 {
				lent++
			}
		}
		require.Empty(t, s.Checks)
		require.Empty(t, s.Closures)
	}
	assert.Greater(t, lent, 50)
}

// With noise as large as is stated or usual the fit is unbiased, and 95 % intervals hold in 93 to 97 of 100 runs: of
// couplings, of the differences and of the closure error round the train.
func TestSurveyCoverage(t *testing.T) {
	const runs, noise = 2000, 0.02
	r := rand.New(rand.NewPCG(6, 5))
	tr, truth := lain(r, 4)
	for len(tr.Machines[1].Shafts)+len(tr.Machines[2].Shafts) < 3 {
		tr, truth = lain(r, 4)
	}
	said := train.Errors{Offset: 0.03, Angle: 0.08}
	for _, stated := range []bool{false, true} {
		var inside [3][shared]int // of each coupling
		var sum [3]state
		var apart, round [2][2]int // vertical and horizontal; offset and angle
		for range runs {
			n := *tr
			n.Errors = said
			n.Machines = append([]train.Machine{}, tr.Machines...)
			n.Couplings = append([]train.Coupling{}, tr.Couplings...)
			for i := range n.Machines {
				points := append([]train.Point{}, n.Machines[i].Points...)
				for k := range points {
					points[k].V += noise * r.NormFloat64()
					points[k].H += noise * r.NormFloat64()
					if stated {
						points[k].Error = noise * train.Half95
					}
				}
				n.Machines[i].Points = points
			}
			for k := range n.Couplings { // given, with the errors that the file states
				c := &n.Couplings[k]
				c.Surveyed, c.Found = false, truth[k]
				for _, tilt := range []*train.Tilt{&c.Found.V, &c.Found.H} {
					tilt.Offset += said.Offset / train.Half95 * r.NormFloat64()
					tilt.Angle += said.Angle / train.Half95 * r.NormFloat64()
				}
			}
			s := surveyOf(&n)
			lines := LinesOf(&n)
			require.Positive(t, s.Freedom)
			for k := range s.Couplings {
				b := &s.Couplings[k]
				half := train.Tilt{Offset: lines.Times() * lines.deviation(&n.Couplings[k], n.Couplings[k].X),
					Angle: lines.Times() * lines.slopeDeviation(&n.Couplings[k])}
				for i, v := range stateOf(b.Found) {
					off := v - stateOf(truth[k])[i]
					sum[k][i] += off
					if math.Abs(off) <= [...]float64{half.Offset, half.Angle, half.Offset, half.Angle}[i] {
						inside[k][i]++
					}
				}
			}
			first, all := s.Couplings[0], lines.round(&n, s.Couplings)
			for plane, pair := range [2][2]train.Tilt{{first.Apart.V, all.V}, {first.Apart.H, all.H}} {
				for of, found := range pair {
					expected, count := first.Error, &apart
					if of == 1 {
						expected, count = all.Error, &round
					}
					if math.Abs(found.Offset) <= expected.Offset {
						count[plane][0]++
					}
					if math.Abs(found.Angle) <= expected.Angle {
						count[plane][1]++
					}
				}
			}
		}
		holds := func(n int, why string, at ...any) {
			share := float64(n) / runs
			assert.True(t, share >= 0.93 && share <= 0.97, "%s %v, stated %v: %v", why, at, stated, share)
			t.Logf("%s %v, stated %v: %.3f inside", why, at, stated, share)
		}
		for k := range inside {
			for i, n := range inside[k] {
				holds(n, "coupling", k, i)
				deviation := noise * s0(tr, k, i)
				assert.Less(t, math.Abs(sum[k][i]/runs), 4*deviation/math.Sqrt(runs), "unbiased")
			}
		}
		for plane := range 2 {
			for of := range 2 {
				holds(apart[plane][of], "survey less found", plane, of)
				holds(round[plane][of], "round", plane, of)
			}
		}
	}
}

// s0 is the standard error of an unknown of coupling k with a noise of 1 mm.
func s0(tr *train.Train, k, unknown int) float64 {
	s := LinesOf(tr)
	if c := &tr.Couplings[k]; unknown == vOffset || unknown == hOffset {
		return s.deviation(c, c.X) / usualPoint
	}
	return s.slopeDeviation(&tr.Couplings[k]) / usualPoint
}
