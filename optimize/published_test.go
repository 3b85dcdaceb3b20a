package optimize_test

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/optimize"
	"leastmove/optimize/bnb"
	"leastmove/optimize/mip"
	"leastmove/testdata/trains"
	"leastmove/train"
)

// A published example: a machine is brought onto the line of another one that
// stays. Moves in mils, + up and + to the left of one who looks from the
// stationary machine to the other; "exact" recomputed from the printed data.
type published struct {
	name               string
	source             string
	v, h               [2]float64 // at the plane x = 0: offset in mils and angle in mrad
	inboard, outboard  float64    // in, from that plane to the feet
	up, left           [2]float64 // mils, exact, at the inboard and the outboard feet
	printUp, printLeft [2]float64 // mils, as printed
}

// Left is north in both.
var examples = []published{
	{
		// Stationary plane S to adjusted plane A 14 in, A to the inboard feet
		// 12 in, these to the outboard feet 26 in. At S and A the adjusted
		// shaft stands 12 and 7 mils high, and 1.5 south and 18.5 mils north:
		// it slopes down by 5 mils in 14 in and points north by 20. So at the feet,
		// 26 and 52 in from S, it is 12 - 26*5/14 = 2.7143 and
		// 12 - 52*5/14 = -6.5714 mils high, and -1.5 + 26*20/14 = 35.6429 and
		// -1.5 + 52*20/14 = 72.7857 mils north.
		name:    "reverse indicator",
		source:  "Bloch & Geitner, Machinery Component Maintenance and Repair, ch. 5, pp. 203-204, Fig. 5-21",
		v:       [2]float64{12, -5.0 / 14},
		h:       [2]float64{-1.5, 20.0 / 14},
		inboard: 26, outboard: 52,
		up:      [2]float64{-2.0 - 5.0/7, 6 + 4.0/7},
		left:    [2]float64{-35 - 9.0/14, -72 - 11.0/14},
		printUp: [2]float64{-2.7, 6.6}, printLeft: [2]float64{-36, -73},
	},
	{
		// Rim plane to the inboard feet 9 in, feet 30 in apart, face diameter
		// 4 in. The face is 7 mils wider at the bottom: the shaft slopes up by
		// 7/4 = 1.75 mils an inch; it is 14 wider on the north side: the shaft
		// turns south by 3.5. It stands 5.5 mils high and 14.5 north. At the
		// feet 5.5 + 9*1.75 = 21.25 and 5.5 + 39*1.75 = 73.75 mils high,
		// 14.5 - 9*3.5 = -17 and 14.5 - 39*3.5 = -122 mils north.
		name:    "rim and face",
		source:  "Bloch & Geitner, Machinery Component Maintenance and Repair, ch. 5, pp. 198-199, Fig. 5-17",
		v:       [2]float64{5.5, 1.75},
		h:       [2]float64{14.5, -3.5},
		inboard: 9, outboard: 39,
		up:      [2]float64{-21.25, -73.75},
		left:    [2]float64{17, 122},
		printUp: [2]float64{-21, -74}, printLeft: [2]float64{17, 122},
	},
}

// train writes the example as a train file. Heights and spreads are not in the
// book; they have no part in the answer. offset (mils) and angle (mrad) are
// the limits, step (mils) is the shims'.
func (e published) train(t *testing.T, v, h [2]float64, offset, angle, step float64) *train.Train {
	t.Helper()
	text := fmt.Sprintf(`title = %q
units = "inch"
shims = { step = %g }
aim = { use = 1.0 }
[[machine]]
name = "stationary"
height = 20
hold = true
foot = [{ name = "far", x = -60, spread = 20 }, { name = "near", x = -20, spread = 20 }]
[[machine]]
name = "adjusted"
height = 20
foot = [{ name = "inboard", x = %g, spread = 20 }, { name = "outboard", x = %g, spread = 20 }]
[[coupling]]
name = "coupling"
from = "stationary"
to = "adjusted"
x = 0
limit = { offset = %g, angle = %g }
found = { v = { offset = %.12f, angle = %.12f }, h = { offset = %.12f, angle = %.12f } }
`, e.name, step, e.inboard, e.outboard, offset, angle, v[0], v[1], h[0], h[1])
	return trains.Read(t, e.name, text)
}

// With limits of nearly zero only one place is left to the adjusted machine.
func TestPublishedRelaxed(t *testing.T) {
	for _, e := range examples {
		t.Run(e.name, func(t *testing.T) {
			tr := e.train(t, e.v, e.h, 1e-3, 1e-5, 1)
			k := optimize.Build(tr, nil)
			r := bnb.Relax(context.Background(), &k.Problem, mip.Goal{Use: 1})
			require.NotNil(t, r.X, e.source)
			moves := k.MovesOf(func(v int) float64 { return r.X[v] })[1]
			// 1e-3 mils at the coupling and 1e-5 mrad over 52 in.
			const near = 1e-3 + 52*1e-5
			for i, foot := range []int{0, 2} {
				assert.InDelta(t, e.up[i], moves[foot].Up/train.Mil, near)
				assert.InDelta(t, e.left[i], moves[foot].Left/train.Mil, near)
				assert.Equal(t, moves[foot], moves[foot+1], "left and right feet")
				assert.InDelta(t, e.printUp[i], e.up[i], 0.3, "the print is rounded to a mil at most")
				assert.InDelta(t, e.printLeft[i], e.left[i], 0.4)
			}
		})
	}
}

// The vertical plane as a whole plan, with shims of a thousandth of a mil. True
// geometry adds what the books leave out: a shaft 20 in above its feet that is
// tilted by a mrad comes down by height (1 - cos) = 20 * 0.001² / 2 in, 0.01
// mil, and the feet stand higher by as much.
func TestPublishedVerticalPlans(t *testing.T) {
	for _, e := range examples {
		t.Run(e.name, func(t *testing.T) {
			const offset, angle, step = 5e-3, 2e-4, 1e-3
			p := planned(t, e.train(t, e.v, [2]float64{}, offset, angle, step), optimize.Options{})
			require.Equal(t, optimize.Planned, p.Status, e.source)
			down := 20 * e.v[1] * e.v[1] / 2 / 1000 // mils
			for i, foot := range []int{0, 2} {
				assert.InDelta(t, e.up[i]+down, p.Moves[1][foot].Up/train.Mil, offset+e.outboard*angle)
				assert.Zero(t, p.Moves[1][foot].Left)
			}
		})
	}
}

// The horizontal plane as a whole plan: moves as a dial shows them, to half a
// mil. The limits leave room for one pair of such moves and no other.
//
// Reverse indicator: at x = 0, as far from the inboard feet as these from the
// outboard ones, the shaft is off by twice the rest inboard less that
// outboard, and turned by their difference over 26 in. 35.5 and 72.5 south
// leave 0.1429 and 0.2857: an offset of zero, and 0.0055 mrad. Both nearest
// moves, 35.5 and 73, leave -0.2143 outboard and an offset of 0.5.
//
// Rim and face: 17 and 122 north are whole half mils.
func TestPublishedHorizontalPlans(t *testing.T) {
	set := map[string][2]float64{"reverse indicator": {-35.5, -72.5}, "rim and face": {17, 122}}
	for _, e := range examples {
		t.Run(e.name, func(t *testing.T) {
			p := planned(t, e.train(t, [2]float64{}, e.h, 0.05, 0.006, 1), optimize.Options{})
			require.Equal(t, optimize.Planned, p.Status, e.source)
			for i, foot := range []int{0, 2} {
				left := p.Moves[1][foot].Left / train.Mil
				assert.InDelta(t, set[e.name][i], left, 1e-9)
				assert.Less(t, math.Abs(e.left[i]-left), 0.5, "within one step of the dial")
				assert.Zero(t, p.Moves[1][foot].Up)
			}
		})
	}
}

// Harlon, A Millwright's Guide to Motor/Pump Alignment: the front feet must go
// down 15 mils and the rear feet 35, there are no shims under them, and 50 mils
// are to stay for the next job. The feet then go up by 50 in place of down, and
// the other machine's line is aimed 65 mils higher at the front feet and 85 at
// the rear ones. The stations are not in the book: with the other machine's
// feet at 0 and 20 in and these at 40 and 60, a line that is 65 and 85 mils
// higher there is 25 and 45 higher at the other machine's feet.
func TestBaseBoundMachineGoesUpWithTheOther(t *testing.T) {
	text := `title = "base-bound"
units = "inch"
shims = { step = 1, keep = 50 }
aim = { use = 1.0 }
[[machine]]
name = "other"
height = 20
[[machine.foot]]
name = "far"
x = 0
spread = 16
shim = 60
[[machine.foot]]
name = "near"
x = 20
spread = 16
shim = 60
[[machine]]
name = "base-bound"
at = 40
height = 20
[[machine.foot]]
name = "front"
x = 0
spread = 16
shim = 0
raise = 50
[[machine.foot]]
name = "rear"
x = 20
spread = 16
shim = 0
raise = 50
[[coupling]]
name = "coupling"
from = "other"
to = "base-bound"
x = 30
[coupling.limit]
offset = 0.1
angle = 0.01
[coupling.found]
v = { offset = 5, angle = 1 }
h = { offset = 0, angle = 0 }
`
	p := planned(t, trains.Read(t, "harlon", text), optimize.Options{})
	require.Equal(t, optimize.Planned, p.Status)
	for f, want := range []float64{25, 25, 45, 45} {
		assert.InDelta(t, want, p.Moves[0][f].Up/train.Mil, 1e-9)
		assert.InDelta(t, 50, p.Moves[1][f].Up/train.Mil, 1e-9, "what must stay under the foot goes in")
	}
	// Held, the other machine leaves no plan: the pack is what stands in the way.
	held := trains.Read(t, "harlon", strings.Replace(text, `name = "other"`, "name = \"other\"\nhold = true", 1))
	p = explained(t, held, optimize.Options{})
	require.Equal(t, optimize.Impossible, p.Status)
	assert.True(t, slices.ContainsFunc(p.Conflict, func(m optimize.Member) bool {
		return m.Kind == train.LimitLower &&
			m.Machine == 1
	}))
	kinds := map[optimize.RelaxationKind]bool{}
	for _, r := range p.Relaxations {
		kinds[r.Kind] = true
	}
	assert.True(t, kinds[optimize.MakePack], "machine the feet, or the base")
	assert.True(t, kinds[optimize.Release], "raise the fixed machine")
}
