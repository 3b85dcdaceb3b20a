package optimize_test

import (
	"context"
	"fmt"
	"runtime"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/optimize"
	"leastmove/optimize/bnb"
	"leastmove/optimize/mip"
	"leastmove/testdata/families"
	"leastmove/testdata/recheck"
	"leastmove/testdata/trains"
	"leastmove/train"
)

// What a train costs has nothing to do with the side it is looked at from. In
// a mirror even true geometry is the same, so the least totals are equal to
// the last step. Turned end for end another machine is the one that stands
// square in the frame, which is of second order.
func TestMirroredTrainsCostTheSame(t *testing.T) {
	t.Parallel()
	compared := 0
	for base := uint64(0); base < uint64(trains.Draws(8, 24)); base += 4 {
		t.Run(fmt.Sprint(base), func(t *testing.T) {
			var plans [4]*optimize.Plan
			for i := range plans {
				plans[i] = planned(t, trains.Drawn(t, "mirrored", base+uint64(i)),
					optimize.Options{Gap: recheck.Exact, Solves: recheck.Work})
				require.Equal(t, plans[0].Status, plans[i].Status)
			}
			if plans[0].Status != optimize.Planned {
				return
			}
			for i, p := range plans {
				if p.Cut == "" && plans[i&2].Cut == "" {
					compared++
					assert.InDelta(t, plans[i&2].Least, p.Least, 1e-9, "in the mirror")
				}
				assert.LessOrEqual(t, p.Bound, plans[0].Least*(1+recheck.SecondOrder), "no view proves another one's plan wrong")
				assert.GreaterOrEqual(t, p.Least, plans[0].Bound*(1-recheck.SecondOrder))
			}
		})
	}
	assert.GreaterOrEqual(t, compared, trains.Draws(3, 8), "trains were compared at all")
}

// A number of a train file in mm, written in the file's own unit.
type written struct{ inch bool }

func (w written) length(inches float64) string {
	if w.inch {
		return fmt.Sprintf("%.6f", inches)
	}
	return fmt.Sprintf("%.6f", inches*train.Inch)
}

func (w written) move(mils float64) string {
	if w.inch {
		return fmt.Sprintf("%.6f", mils)
	}
	return fmt.Sprintf("%.6f", mils*train.Mil)
}

// bothWays is one train in inches and mils, or the very same in mm; side is 1
// for faults to the sides too, 0 for vertical ones alone. Invented figures.
func bothWays(w written, side float64) string {
	var b strings.Builder
	units := map[bool]string{true: "inch", false: "mm"}[w.inch]
	fmt.Fprintf(&b, "title = \"one train in two units (invented)\"\nunits = %q\nshims = { step = %s, flat = %s }\n",
		units, w.move(1), w.move(2))
	for i, height := range []float64{20, 24, 20} {
		at := 80 * float64(i)
		fmt.Fprintf(&b, "[[machine]]\nname = \"machine %d\"\nat = %s\nheight = %s\n", i+1, w.length(at), w.length(height))
		for k, x := range []float64{10, 60} {
			fmt.Fprintf(&b, "[[machine.foot]]\nname = \"%c\"\nx = %s\nspread = %s\nshim = %s\nraise = %s\nbolt = "+
				"%s\nhole = %s\n",
				'A'+k, w.length(x), w.length(30), w.move(120), w.move(150), w.length(1), w.length(1.156))
		}
		fmt.Fprintf(&b, "[[machine.growth]]\nv = %s\n", w.move(3+4*float64(i)))
	}
	for i, found := range [][2]float64{{-22, 0.9}, {17, -0.6}} {
		x := 80 * float64(i+1)
		fmt.Fprintf(&b, "[[coupling]]\nname = \"coupling %d\"\nfrom = \"machine %d\"\nto = \"machine %d\"\nx = "+
			"%s\nlimit = { offset = %s, angle = 0.5 }\n",
			i+1, i+1, i+2, w.length(x), w.move(2))
		fmt.Fprintf(&b, "found = { v = { offset = %s, angle = %.2f }, h = { offset = %s, angle = %.2f } }\n",
			w.move(found[0]), found[1], w.move(-0.7*side*found[0]), 0.5*side*found[1])
	}
	fmt.Fprintf(&b, "[[condition]]\nname = \"cold start\"\ngrowth = 0.4\nuse = 1.3\n")
	return b.String()
}

// Units are for reading and writing. Side moves go by what a dial shows, which
// is not the same in both: so the train without faults to the sides has the
// same plan, and the one with them the same optimum before steps.
func TestUnitsChangeNothing(t *testing.T) {
	var plans [2]*optimize.Plan
	var relaxed [2]float64
	for i, inch := range []bool{false, true} {
		plans[i] = planned(t, trains.Read(t, "vertical", bothWays(written{inch}, 0)), optimize.Options{Gap: recheck.Exact})
		require.Equal(t, optimize.Planned, plans[i].Status)
		r := bnb.Relax(context.Background(), &optimize.Build(trains.Read(t, "both planes", bothWays(written{inch}, 1)),
			nil).Problem,
			mip.Goal{Use: 0.7})
		require.False(t, r.Impossible())
		relaxed[i] = r.Bound
	}
	mm, inch := plans[0], plans[1]
	assert.InDelta(t, mm.Least, inch.Least, 1e-9)
	assert.InDelta(t, mm.Total, inch.Total, 1e-9)
	assert.InDelta(t, mm.Reached, inch.Reached, 1e-6)
	for i := range mm.Moves {
		for f := range mm.Moves[i] {
			assert.InDelta(t, mm.Moves[i][f].Up, inch.Moves[i][f].Up, 1e-9)
			assert.Zero(t, mm.Moves[i][f].Left)
			assert.Zero(t, inch.Moves[i][f].Left)
		}
	}
	assert.Greater(t, relaxed[0], mm.Bound-grain(mm.Train), "faults to the sides cost something")
	assert.InDelta(t, relaxed[0], relaxed[1], 1e-6*relaxed[0], "the mm file is rounded to 1e-6")
}

// in full, a plan as text: every number to its last digit, NaN too.
func inFull(p *optimize.Plan) string {
	plan := *p
	plan.Train, plan.File = nil, nil
	plan.ForgetBeginning()
	return fmt.Sprintf("%#v", plan)
}

// Same input, same plan, to the last digit, whatever the number of cores.
func TestSamePlanEveryTime(t *testing.T) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(0))
	for n, family := range families.Names() {
		seed := uint64(103)
		switch family {
		case "twelve", "long", "three", "spacer", "mirrored":
			continue // as the others, and slow
		}
		if n%2 != 0 && !trains.Everything() {
			continue
		}
		t.Run(family, func(t *testing.T) {
			first := inFull(planned(t, trains.Drawn(t, family, seed), optimize.Options{Solves: 600}))
			for _, cores := range []int{1, 4, 2}[:trains.Draws(2, 3)] {
				runtime.GOMAXPROCS(cores)
				require.Equal(t, first, inFull(planned(t, trains.Drawn(t, family, seed), optimize.Options{Solves: 600})),
					"%d cores", cores)
			}
		})
	}
}
