package optimize_test

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/optimize"
	"leastmove/testdata/trains"
	"leastmove/train"
)

// Feet that differ by more than 2 mils are shimmed before anything else:
// McMillan, Rotating Machinery (2004), p. 113; Bloch gives .002 in too.
func TestSoftFootComesFirst(t *testing.T) {
	text := `title = "soft foot (invented)"
units = "inch"
[[machine]]
name = "motor"
height = 12
[[machine.foot]]
name = "far"
x = 0
spread = 20
pieces = [100, 25]
raise = 60
left = { soft = SOFT }
[[machine.foot]]
name = "near"
x = 24
spread = 20
shim = 125
[[machine]]
name = "pump"
at = 40
height = 12
hold = true
[[coupling]]
name = "coupling"
from = "motor"
to = "pump"
x = 36
[coupling.limit]
offset = 2
angle = 0.5
[coupling.found]
v = { offset = -20, angle = 0 }
h = { offset = 0, angle = 0 }
`
	soft := func(mils string) *optimize.Plan {
		return planned(t, trains.Read(t, "soft", strings.Replace(text, "SOFT", mils, 1)), optimize.Options{})
	}
	assert.False(t, soft("2").Provisional(), "2 mils are not more than 2 mils")
	p := soft("3")
	assert.True(t, p.Provisional())
	require.Len(t, p.Soft, 1)
	assert.Equal(t, [2]int{0, 0}, [2]int{p.Soft[0].Machine, p.Soft[0].Foot})
	assert.InDelta(t, 3*train.Mil, p.Soft[0].Gap, 1e-12)
	assert.InDelta(t, 3*train.Mil, p.Soft[0].Fill, 1e-12)

	// The gap is filled first, and the machine stands as it stood: the plan is
	// that without a soft foot, and the pack holds both.
	without := soft("0")
	assert.Equal(t, without.Moves, p.Moves)
	pack := func(p *optimize.Plan, foot int) float64 {
		for _, k := range p.Packs {
			if k.Foot == foot {
				var sum float64
				for _, piece := range k.Then {
					sum += piece
				}
				return sum / train.Mil
			}
		}
		return 125 // as it was
	}
	assert.InDelta(t, pack(without, 0)+3, pack(p, 0), 1e-9)
	assert.InDelta(t, pack(without, 1), pack(p, 1), 1e-9)
	assert.InDelta(t, 60*train.Mil-3*train.Mil, p.Train.Machines[0].Feet[0].Raise, 1e-12,
		"what fills the gap is not there to raise with")
}

// A gap of 0.03 mm is filled by one step of 0.05, which leaves the pack 0.02 mm
// above the plane that the machine stands on: of four feet at the corners of a
// rectangle each is then 0.02 off the plane through the other three. That counts
// in what the packs may leave: a change of this foot by one step more makes 0.07.
func TestWhatIsLeftOfAGapIsSoftFoot(t *testing.T) {
	tr := trains.Read(t, "left over", `title = "left over (invented)"
units = "mm"
[[machine]]
name = "gear"
height = 400
roll = true
[[machine.foot]]
name = "in"
x = 0
spread = 600
shim = 3.0
left = { soft = 0.03 }
[[machine.foot]]
name = "out"
x = 800
spread = 600
shim = 3.0
[[machine]]
name = "pump"
at = 1500
height = 400
hold = true
[[coupling]]
name = "coupling"
from = "gear"
to = "pump"
x = 1200
limit = { offset = 0.05, angle = 0.3 }
found = { v = { offset = 0.3, angle = 0.2 }, h = { offset = 0, angle = 0 } }
`)
	p := planned(t, tr, optimize.Options{})
	require.Len(t, p.Soft, 1)
	assert.InDelta(t, 0.05, p.Soft[0].Fill, 1e-12)
	for f, want := range []float64{0.02, -0.02, -0.02, 0.02} {
		assert.InDelta(t, want, p.Found.Machines[0].Feet[f].Soft, 1e-9)
	}
	moves := p.Train.Stay()
	moves[0][0].Up = 0.05
	state := p.Train.Check(moves)
	assert.InDelta(t, 0.07, state.Machines[0].Feet[0].Soft, 1e-9)
	assert.Contains(t, strings.Join(optimize.Breaks(p.Train, moves, &state, 100), "\n"),
		"gear in left, soft foot: 0.07 beyond 0.025")
}

// Gaps of 0.12 and 0.03 at two feet side by side: the nearest steps, 0.10 and 0.05, leave the one 0.02 too thin and the
// other 0.02 too thick, and of four feet at the corners of a rectangle each is then 0.04 off the plane through the
// other
// three. With nothing under the second, 0.02 and 0.03 too thin, each is 0.01 off it.
func TestGapsAreFilledTogether(t *testing.T) {
	tr := &train.Train{Shims: train.Shims{Step: 0.05}, Machines: []train.Machine{{Flat: 0.025, Feet: []train.Foot{
		{X: 0, Y: 300, Soft: 0.12}, {X: 0, Y: -300, Soft: 0.03}, {X: 800, Y: 300}, {X: 800, Y: -300}}}}}
	fill := func(f int) float64 { return tr.Fills(0)[f] }
	left := func() float64 { // by the fills alone
		m, worst := &tr.Machines[0], 0.0
		kin, feet := m.Kinematics(), make([]train.FootMove, 4)
		for f := range feet {
			feet[f].Up = fill(f) - m.Feet[f].Soft
		}
		for _, soft := range kin.Soft(feet) {
			worst = math.Max(worst, math.Abs(soft))
		}
		return worst
	}
	assert.InDelta(t, 0.10, fill(0), 1e-12)
	assert.InDelta(t, 0, fill(1), 1e-12)
	assert.InDelta(t, 0.01, left(), 1e-9)
	tr.Machines[0].Flat = 0.04
	assert.InDelta(t, 0.05, fill(1), 1e-12, "no more than it may have: the nearest")
	// Whatever two gaps in hundredths: no more than half a step.
	tr.Machines[0].Flat = 0.025
	for a := range 20 {
		for b := range 20 {
			f := tr.Machines[0].Feet
			f[0].Soft, f[1].Soft = float64(a+1)/100, float64(b+1)/100
			assert.LessOrEqual(t, left(), 0.025+1e-9, "%d and %d", a+1, b+1)
			for k := range 2 {
				assert.Less(t, math.Abs(fill(k)-f[k].Soft), 0.05, "less than a step over or under its gap")
			}
		}
	}
}

// Feet at three stations, x = -1, 0 and 1, y = 1 and -1, with gaps of 0.09, 0.08 and 0.02 mm at the first three. In
// 0.01 mm the nearest steps leave e = (1, 2, -2, 0, 0, 0): a plane of mean 1/6, slopes -3/4 (sum of x e over 4) and
// -1/2 (sum of y e over 6), and what each foot is off it, over 1 - leverage (5/12 at a corner, 2/3 in the middle):
// 1.4, 1.4, -2.5, -1, 2.6, 0.2. Any one step more or less leaves more than that. A step less at both first feet makes
// e = (-4, -3, -2, 0, 0, 0), a plane of -3/2, 7/4 and -1/2, and -0.6, -0.6, 0, 1.5, 0.6, -1.8.
func TestGapsOfThreeFeetAreFilledTogether(t *testing.T) {
	tr := &train.Train{Shims: train.Shims{Step: 0.05}, Machines: []train.Machine{{Flat: 0.025, Feet: []train.Foot{
		{X: -1, Y: 1, Soft: 0.09}, {X: -1, Y: -1, Soft: 0.08}, {Y: 1, Soft: 0.02}, {Y: -1}, {X: 1, Y: 1}, {X: 1, Y: -1}}}}}
	assert.InDeltaSlice(t, []float64{0.05, 0.05, 0, 0, 0, 0}, tr.Fills(0), 1e-12)
	tr.Machines[0].Flat = 0.026
	assert.InDeltaSlice(t, []float64{0.10, 0.10, 0, 0, 0, 0}, tr.Fills(0), 1e-12, "no more than it may have: the nearest")

	tr.Machines[0].Flat = 0.010 // less than any steps leave
	out, soft := optimize.SoftFootCorrected(tr)
	require.Len(t, soft, 3)
	assert.InDelta(t, 0.018, out.Machines[0].MostSoft(), 1e-12)
	state := out.Check(out.Stay())
	for f, want := range []float64{-0.006, -0.006, 0, 0.015, 0.006, -0.018} {
		assert.InDelta(t, want, state.Machines[0].Feet[f].Soft, 1e-12, "said as it is")
	}
	assert.Empty(t, optimize.Breaks(out, out.Stay(), &state, 1), "finer shims mend it, not other moves")
	assert.InDelta(t, 0.010, out.Made(out.Stay()).Machines[0].MostSoft(), 1e-12, "the next plan has gaps of its own")
}

// Three gaps under the feet at the corners of a rectangle, 0.02, 0.02 and 0.01 mm. Steps of 0.05 are off them by -0.02
// or 0.03, and -0.01 or 0.04: along the one diagonal less along the other it is -0.01 with no shims at all, and any
// step changes that by 0.05. A flat of 0.005 can't be had, and each foot is 0.01 off the plane through the others.
func TestWhatFillsLeaveIsSaidAsItIs(t *testing.T) {
	tr := &train.Train{Shims: train.Shims{Step: 0.05}, Machines: []train.Machine{{Flat: 0.005, Feet: []train.Foot{
		{X: 0, Y: 300, Soft: 0.02}, {X: 0, Y: -300, Soft: 0.02}, {X: 800, Y: 300}, {X: 800, Y: -300, Soft: 0.01}}}}}
	out, _ := optimize.SoftFootCorrected(tr)
	moves := out.Stay()
	for up, within := range map[float64]bool{0: true, 0.05: false} {
		moves[0][0].Up = up
		state := out.Check(moves)
		for f, sign := range []float64{1, -1, -1, 1} {
			assert.InDelta(t, sign*(up-0.01), state.Machines[0].Feet[f].Soft, 1e-9)
		}
		assert.Equal(t, within, len(optimize.Breaks(out, moves, &state, 1)) == 0, "moves add none to it")
	}
}
