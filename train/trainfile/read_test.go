package trainfile

import (
	"math"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/train"
)

// file is a whole train file from testdata, read without an error.
func file(t *testing.T, name string) *train.Train {
	t.Helper()
	src, err := os.ReadFile(name)
	require.NoError(t, err)
	got, report := Read(name, src, options)
	require.NotNil(t, got, report.String())
	return got
}

const near = 1e-12 // mm and mrad, where nothing but rounding is between two numbers

func assertNear(t *testing.T, want, got float64, why string) {
	t.Helper()
	assert.False(t, math.IsNaN(got), why)
	assert.InDelta(t, want, got, near, why)
}

// Every key of the file lands where it belongs. The figures are those typed in
// testdata/whole.toml.
func TestEveryKeyIsRead(t *testing.T) {
	got := file(t, "testdata/whole.toml")
	assert.Equal(t, "recycle gas compressor train (invented)", got.Title)
	assert.Equal(t, train.Sides{Left: "north", Right: "south"}, got.Sides)
	assert.Equal(t, train.Shims{Step: 0.05, Keep: 0.5, Stock: []float64{0.05, 0.1, 0.2, 0.25, 0.5, 1, 2, 3},
		MaxPieces: 4},
		got.Shims, "the stock is put in order")
	assert.Equal(t, train.Errors{Offset: 0.02, Angle: 0.05, Placing: 0.03, Growth: 0.2, GrowthLeast: 0.03, Stated: true},
		got.Errors)
	assert.Equal(t, train.Aim{Use: 0.8, Transient: 1.1, Chance: 0.9, FixedCost: 0.3, LeastMove: 0.1, LeastPlaced: 0.1},
		got.Aim)

	assert.Equal(t, train.Relief{Hole: 21, Bolt: 11, Pack: 41, Raise: 6, Axial: 31, Roll: 7, Release: 201, Open: 5,
		Cut: 2.5, AxialPerMM: 6, AxialMost: 4}, got.Relief)

	require.Len(t, got.Machines, 4)
	turbine, gear, compressor, skid := got.Machines[0], got.Machines[1], got.Machines[2], got.Machines[3]
	assert.Equal(t, []int{0, 1}, skid.Carries, "in the order of the train")
	assert.Equal(t, [3]float64{-200, 350, 1}, [3]float64{skid.At, skid.Height, skid.Effort})
	assert.Empty(t, skid.Shafts)
	assert.Equal(t, 0.04, skid.Flat, "that of [shims]")
	require.Len(t, skid.Feet, 4)
	assert.Equal(t, "1 left", skid.Feet[0].Name)
	assert.Equal(t, [5]float64{8.5, 6, 9, 37, 42}, [5]float64{skid.Feet[0].Pack, skid.Feet[0].Lower, skid.Feet[0].Raise,
		skid.Feet[0].Bolt, skid.Feet[0].Hole})
	assert.Equal(t, [3]float64{3100, -750, 7.5}, [3]float64{skid.Feet[3].X, skid.Feet[3].Y, skid.Feet[3].Lower},
		"less what must stay")
	assert.Equal(t, train.Level{Pitch: 0.5, Roll: 0.2, FoundPitch: 0.1, FoundRoll: 0.05}, turbine.Level)
	assert.Equal(t, 2.0, turbine.Effort)
	assert.Equal(t, 0.01, turbine.Flat)
	assert.Equal(t, 0.04, gear.Flat, "that of [shims]")
	assert.Equal(t, []train.Nozzle{{Name: "suction flange", X: 400, Y: 900, Z: 1200, Limit: 0.5}}, turbine.Nozzles)
	assert.True(t, gear.Roll)
	assert.True(t, gear.Axial)
	assert.Equal(t, 2000.0, gear.At)
	assert.True(t, compressor.Hold)
	require.Len(t, gear.Shafts, 2)
	assert.Equal(t, train.Shaft{Name: "pinion", Y: 180, Z: 10, RPM: 9800, Run: train.Shift{V: 0.05, H: 0.03},
		Clearance: 0.15,
		Growth:    &train.Growth{V: train.Line{Start: 0.2}, AxialUnknown: true}}, gear.Shafts[0])
	wheel := gear.Shafts[1]
	require.NotNil(t, wheel.Growth, "measured running: 0.1 up at 400, 0.12 at 1600, 0.02 to the right")
	assertNear(t, 0.1, wheel.Growth.V.At(400), "v of the first point")
	assertNear(t, 0.02/1.2, wheel.Growth.V.Slope, "0.02 mm over 1.2 m")
	assertNear(t, -0.02, wheel.Growth.H.At(1600), "h")
	wheel.Growth = nil
	assert.Equal(t, train.Shaft{Name: "wheel", Y: -180, RPM: 3000}, wheel, "the machine's speed")
	assert.Equal(t, []train.Point{{Shaft: 1, X: 400, V: 10, H: 5, Error: 0.03},
		{Shaft: 1, X: 1600, V: 10, H: 5, Error: 0.03}}, gear.Points)
	assert.Equal(t, []train.Point{{X: 300, V: 10.18, H: 4.82}, {X: 1300, V: 10.38, H: 4.62}}, compressor.Points)

	// Two stations of growth: v = 0.10 at 0 and 0.30 at 1000 slopes up by 0.2 mm/m.
	assertNear(t, 0.1, turbine.Growth.V.Start, "v at x = 0")
	assertNear(t, 0.2, turbine.Growth.V.Slope, "(0.30 - 0.10) / 1 m")
	assertNear(t, 0.3, turbine.Growth.V.At(1000), "v at the second station")
	assertNear(t, 0.05, turbine.Growth.H.At(1000), "h at the second station")
	assertNear(t, -0.2, turbine.Growth.A.At(1000), "a at the second station")
	assert.False(t, turbine.Growth.Worked)

	// The file lists the couplings from the end of the train.
	require.Len(t, got.Couplings, 2)
	high, low := got.Couplings[0], got.Couplings[1]
	assert.Equal(t, train.Coupling{
		Name: "high speed", From: train.End{Machine: 0}, To: train.End{Machine: 1, Shaft: 0}, RPM: 9800, X: 1775,
		Spacer: true, Flex: [2]float64{1600, 1950},
		Limit:    train.Limit{Offset: math.Inf(1), Angle: 0.5, Gap: 0.5, EachPlane: true, Combined: true},
		Found:    train.Misalignment{V: train.Tilt{Offset: -0.62, Angle: 0.80}, H: train.Tilt{Offset: 0.44, Angle: -0.70}},
		FoundGap: 349.6, Taken: train.Share{Growth: 0.3, Run: 0.1},
		Wanted:    train.Misalignment{V: train.Tilt{Offset: 0.01, Angle: 0.02}, H: train.Tilt{Offset: 0.03, Angle: 0.04}},
		WantedGap: 350,
	}, high)
	assert.Equal(t, "low speed", low.Name)
	assert.Equal(t, train.End{Machine: 1, Shaft: 1}, low.From)
	assert.Equal(t, train.End{Machine: 2}, low.To)
	assert.Equal(t, 3000.0, low.RPM, "the wheel's; the compressor states none")
	assert.Equal(t, train.Limit{Offset: 0.06, Angle: 0.5, Gap: math.Inf(1)}, low.Limit, "3000 1/min: the band up to 4000")
	assert.True(t, math.IsNaN(low.FoundGap))
	assert.Equal(t, train.Checks{Ring: 0.04, Return: 0.025, Residual: 0.035, Repeat: 0.06, Method: 0.07, Span: 250,
		Survey: 0.09, Turned: 0.4}, got.Checks)
	for _, found := range []train.Tilt{low.Found.V, {Offset: -low.Found.H.Offset, Angle: -low.Found.H.Angle}} {
		assert.InDelta(t, 0.1, found.Offset, 1e-3, "as its readings were made up; true geometry apart")
		assert.InDelta(t, 0.2, found.Angle, 1e-3)
	}
	require.Len(t, low.Targets, 1)
	target := low.Targets[0]
	assert.True(t, target.Kind == train.FaceDial && target.OnFrom && target.Away && target.Reversed)
	assert.Equal(t, [2]float64{120, -0.01}, [2]float64{target.Radius, target.Sag})
	require.Len(t, low.Dials, 4)
	rim, sweep, face, offset := low.Dials[0], low.Dials[1], low.Dials[2], low.Dials[3]
	assert.Equal(t, []float64{0, 90, 180, 270}, rim.Angles)
	assert.Equal(t, []float64{0, 0.03, -0.12, -0.15}, rim.Values)
	assert.True(t, rim.OnFrom && rim.Reversed && rim.Kind == train.RimDial)
	assert.Equal(t, [5]float64{3850, 95, 0.06, 0, 10}, [5]float64{rim.X, rim.Radius, rim.Sag, rim.Error, rim.Range},
		"true sag 0.03 of a reversed dial")
	assert.Equal(t, []float64{0, 90, 180, 270, 360}, sweep.Angles)
	assert.Equal(t, []float64{0, -0.03, -0.28, -0.25, 0}, sweep.Values)
	assert.Equal(t, -0.06, sweep.Sag)
	assert.False(t, sweep.OnFrom || sweep.Reversed || sweep.Away)
	assert.True(t, face.Kind == train.FaceDial && face.Away && face.OnFrom && face.Pair && math.IsNaN(face.Sag))
	for i, want := range []float64{0, 0, 0.04, 0.04} {
		assertNear(t, want, face.Values[i], "half of 0, 0.03 - 0.03, 0.05 + 0.03, 0.02 + 0.06: without the float")
	}
	assert.Equal(t, train.OffsetDial, offset.Kind)
	assert.Equal(t, [4]float64{3900, 0.1, -0.1, 0.02}, [4]float64{offset.X, offset.V, offset.H, offset.Error})
	assert.Equal(t, [2]int{1, 2}, [2]int{sweep.Set, offset.Set})
	assert.True(t, math.IsNaN(low.WantedGap))

	first, last := -0.05, -0.0625 // v of the chilled compressor at 0 and 1000
	assert.Equal(t, []train.Condition{
		{Name: "running", Growth: []float64{0.9, 0.9, 0.9, 0.9}, Run: 1, Use: 1},
		{Name: "cold start", Growth: []float64{0.5, 0, 0, 0}, Run: 0, Use: 1.3},
		{
			Name: "chilled", Growth: []float64{0.8, 1, 1, 1}, Run: 1, Use: 1,
			Own: []train.OwnGrowth{{Machine: 2, Growth: train.Growth{
				V: train.Line{Start: first, Slope: (last - first) / 1000 * 1000}, H: train.Line{Slope: 0.01},
				A: train.Line{Slope: -0.2},
			}}},
		},
	}, got.Conditions, "running comes first, wherever the file has it")
}

// A pair of feet becomes two, left first, each with what is stated for the
// pair and what differs there.
func TestPairsOfFeet(t *testing.T) {
	got := file(t, "testdata/whole.toml")
	inf := math.Inf(1)
	feet := got.Machines[0].Feet
	require.Len(t, feet, 4)
	assert.Equal(t, train.Foot{Name: "exhaust left", X: 1400, Y: 450, Pack: 5.2, Lower: 3.5, Raise: 6, Bolt: 30, Hole: 33,
		SoftUnknown: true, Free: 0.2, Slide: feet[2].Slide, Minor: feet[2].Minor, BoltAt: [2]float64{0, 0.4},
		TravelLeft: 1, TravelRight: 2.5}, feet[2])
	assert.Equal(t, train.Foot{Name: "exhaust right", X: 1400, Y: -450, Pack: 5, Lower: 3.5, Raise: 6, Bolt: 30, Hole: 33,
		SoftUnknown: true, Free: 0.2, Slide: feet[2].Slide, Minor: feet[2].Minor, BoltAt: [2]float64{0.1, -0.2},
		TravelLeft: 0.8, TravelRight: 2.5}, feet[3],
		"the pair's travel to the right stays")
	assert.Equal(t, 4.5, feet[0].Lower, "pack 5.0 - keep 0.5")
	assert.True(t, math.IsNaN(feet[0].Hole))

	assert.InDelta(t, 25.71, feet[2].Minor, 0.005, "M30, as printed in tables of the metric coarse thread")

	single := got.Machines[2].Feet[0]
	assert.Equal(t, "front", single.Name, "a single foot keeps its name")
	assert.Equal(t, 450.0, single.Y)
	assert.Equal(t, inf, single.Lower, "no pack stated: no limit stated")
	assert.Equal(t, inf, single.Raise)
	assert.Equal(t, inf, single.TravelLeft)
	assert.True(t, math.IsNaN(single.Pack))
}

// sound is a file without fault or doubt that says as little as it can.
func sound(t *testing.T) string {
	t.Helper()
	src, err := os.ReadFile("../../testdata/faulty/sound.toml")
	require.NoError(t, err)
	return string(src)
}

func TestDefaults(t *testing.T) {
	got, report := Read("sound.toml", []byte(sound(t)), Options{})
	require.NotNil(t, got)
	assert.Empty(t, report)
	assert.Equal(t, train.Sides{Left: "left", Right: "right"}, got.Sides)
	assert.Equal(t, train.Shims{Step: 0.05}, got.Shims)
	assert.Equal(t, train.Errors{}, got.Errors)
	assert.Equal(t, train.Aim{Use: 0.7}, got.Aim)
	assert.Equal(t, train.Relief{Hole: 20, Bolt: 10, Pack: 40, Raise: 5, Axial: 30, Roll: 5, Release: 200, Open: 6,
		Cut: 3, AxialPerMM: 5, AxialMost: 3}, got.Relief)
	assert.Nil(t, got.Machines[1].Feet[0].Pieces)
	assert.Zero(t, got.Machines[1].Feet[0].Soft)
	assert.Zero(t, got.Machines[1].Feet[0].Minor, "no table of threads at hand")
	m := got.Machines[0]
	assert.Equal(t, 0.0, m.At)
	assert.Equal(t, 1.0, m.Effort)
	assert.Equal(t, train.Level{Pitch: math.Inf(1), Roll: math.Inf(1), PitchUnknown: true, RollUnknown: true}, m.Level)
	assert.Equal(t, []train.Shaft{{RPM: 1500, RunUnknown: true}}, m.Shafts, "one shaft without a name")
	assert.Equal(t, 1500.0, got.Couplings[0].RPM, "the motor's")
	assert.Equal(t, []train.Condition{{Name: "running", Growth: []float64{1, 1}, Run: 1, Use: 1}}, got.Conditions)

	// The same lengths in inches are a train 25 times as large: nothing here is
	// out of range.
	inch, report := Read("inch.toml", []byte(strings.NewReplacer(`"mm"`, `"inch"`, "height = 400", "height = 40",
		"bolt   = 20", "bolt   = 2",
		"hole   = 22", "hole   = 2.2").Replace(sound(t))), Options{})
	require.NotNil(t, inch, report.String())
	assert.Equal(t, train.Inches, inch.Units)
	assertNear(t, 0.0254, inch.Shims.Step, "1 mil")
	assertNear(t, 0.0127, inch.Machines[0].Flat, "half a mil: feet at two stations")
	assertNear(t, 6.35, inch.Relief.Open, "0.25 inch")
	assertNear(t, 3.048, inch.Relief.Cut, "120 mil")
	assert.Equal(t, 20.0, inch.Relief.Hole, "a cost is the same in both")
}
