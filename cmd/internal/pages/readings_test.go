package pages

import (
	"bytes"
	"encoding/json"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/cmd/internal/view"
	"leastmove/optimize"
	"leastmove/train"
	"leastmove/train/readings"
)

// testdata/read.toml says in its comments how the shafts stand, and every
// instrument there sees just that, but for one misread position.
func TestReadingsGolden(t *testing.T) {
	tr := read(t, "read.toml")
	var text, csv, check bytes.Buffer
	require.NoError(t, ReadingsText(&text, view.CheckOf(tr), Page{}))
	require.NoError(t, ReadingsCSV(&csv, view.CheckOf(tr), Page{}))
	require.NoError(t, checkJSON(&check, view.CheckOf(tr), Page{}))
	golden(t, "read.txt", text.Bytes())
	golden(t, "read.csv", csv.Bytes())
	golden(t, "read.json", check.Bytes())
	for _, row := range []string{ // by hand, from the offset and the angle at 1250
		"main,rim,motor,1150,1,-0.120,,0.340,,mm\n",
		"main,rim,pump,1350,1,-0.080,,0.260,,mm\n",
		"main,face,pump,,1,0.200,,-0.400,,mrad\n",
		"main,offset,,1450,1,-0.060,,0.220,,mm\n",
		"main,rim,motor,1150,2,-0.120,,0.290,,mm\n", // (0.30 + 0.39 - 0.01 - 0.10) / 2 = 0.29
	} {
		assert.Contains(t, csv.String(), row)
	}
	assert.Contains(t, flat(text.String()),
		`- check failed: the rim dial on "motor" at x = 1150 does not close its ring: 12 + 6 come to -0.3 mm and 3 + 9 to -0.2 mm, 0.1 mm apart, over 0.03 mm`)
}

func TestReadingsOfATrainWithout(t *testing.T) {
	tr := read(t, "mm.toml")
	var text, csv bytes.Buffer
	require.NoError(t, ReadingsText(&text, view.CheckOf(tr), Page{}))
	require.NoError(t, ReadingsCSV(&csv, view.CheckOf(tr), Page{}))
	assert.Contains(t, text.String(), "No coupling has readings")
	assert.Equal(t, "coupling,value,on,x,set,v,v_95,h,h_95,unit\n", csv.String())
}

// Where nothing is moved and nothing grows, the dials are to show what they
// showed: sag, direction and sign are put back as they were taken out.
func TestTargetsOfStandingStill(t *testing.T) {
	tr := read(t, "read.toml")
	c := &tr.Couplings[0]
	c.Dials = c.Dials[:4] // without the misread one
	fit, refusal := readings.Reduce(c, readings.OptionsOf(tr, c))
	require.Nil(t, refusal)
	c.Fit = fit
	tr.Couplings[0].Found.V.Offset, tr.Couplings[0].Found.V.Angle = -0.1, 0.2
	tr.Couplings[0].Found.H.Offset, tr.Couplings[0].Found.H.Angle = 0.3, -0.4
	p := emptyPlan(tr, optimize.Planned)
	p.Moves = tr.Stay()
	p.Planned = tr.Check(p.Moves)
	s := flat(textOf(t, p, Page{}))
	for _, want := range []string{
		"x = 1250 0.100 low, slopes up 0.200 0.300 left, points right 0.400 x = 1450 0.060 low 0.220 left",
		"rim on motor, x = 1150, sag -0.06 0.000 0.190 -0.300 -0.490",
		"rim on pump, x = 1350, minus pushed in 0.000 0.180 -0.160 -0.340",
		"face on pump, away from the gap, radius 100 0.000 -0.020 0.040 0.060",
	} {
		assert.Contains(t, s, want)
	}
	var doc struct {
		Couplings []struct {
			Rest struct {
				Dials []struct {
					Kind, On string
					V, H     *float64
					Clock    []struct{ Angle, Reading float64 }
				}
			}
		}
	}
	require.NoError(t, json.Unmarshal(asJSON(t, p), &doc))
	dials := doc.Couplings[0].Rest.Dials
	require.Len(t, dials, 4)
	for k, d := range tr.Couplings[0].Dials {
		assert.Len(t, dials[k].Clock, len(d.Values))
		for i, v := range d.Values {
			assert.Equal(t, d.Angles[i], dials[k].Clock[i].Angle)
			assert.InDelta(t, v, dials[k].Clock[i].Reading, 1e-9)
		}
	}
	require.NotNil(t, dials[3].V)
	assert.Equal(t, [2]float64{-0.06, 0.22}, [2]float64{*dials[3].V, *dials[3].H})
}

// A coupling whose misalignment was given may name what will be put on: a rim
// dial of the shaft nearer the start, whose sag is put in, at 4 in from where To
// stands 3 mil high and slopes up by 0.5 mrad: 5 high, so that 6 reads +10 - 4.
func TestTargetsWithoutReadings(t *testing.T) {
	tr := read(t, "inch.toml")
	c := &tr.Couplings[0]
	c.Found = train.Misalignment{V: train.Tilt{Offset: 3 * train.Mil, Angle: 0.5}}
	c.Targets = []train.Dial{
		{Kind: train.RimDial, OnFrom: true, X: c.X + 4*train.Inch, Radius: math.NaN(), Sag: -4 * train.Mil},
		// 6 in × 0.5 mrad = 3 mil
		{Kind: train.FaceDial, X: math.NaN(), Radius: 6 * train.Inch, Sag: math.NaN(), Reversed: true},
		{Kind: train.OffsetDial, X: c.X - 2*train.Inch, Radius: math.NaN(), Sag: math.NaN()},
	}
	p := emptyPlan(tr, optimize.Planned)
	p.Moves = tr.Stay()
	p.Planned = tr.Check(p.Moves)
	s := flat(textOf(t, p, Page{}))
	for _, want := range []string{
		"sag -4 0.00 3.00 6.00 3.00",
		"radius 6, minus pushed in 0.00 3.00 6.00 3.00",
		"2.00 high 0.00",
	} {
		assert.Contains(t, s, want)
	}
}

// A face dial without sag is taken as it reads, which is said once; with sag it is not said.
func TestFaceWithoutSag(t *testing.T) {
	const says = "A face dial whose sag is not stated is taken as it reads"
	tr := example(t, "turbine")
	page := func() string {
		var b bytes.Buffer
		require.NoError(t, ReadingsText(&b, view.CheckOf(tr), Page{}))
		return flat(b.String())
	}
	assert.Equal(t, 1, strings.Count(page(), says))
	for i := range tr.Couplings {
		for k := range tr.Couplings[i].Dials {
			tr.Couplings[i].Dials[k].Sag = -0.01
		}
	}
	assert.NotContains(t, page(), says)
}
