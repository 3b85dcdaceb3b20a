package trains

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"leastmove/train"
)

// Cheap are families whose trains are planned in no time.
func Cheap() []string {
	return []string{"plain", "held", "tight", "each", "gap", "nozzle", "effort", "two"}
}

// Some calls a test with trains of every cheap family; by default with those of every fourth one,
// which ones follows from the first seed.
func Some(t *testing.T, first uint64, count int, check func(t *testing.T, family string, seed uint64)) {
	for n, family := range Cheap() {
		if !Everything() && uint64(n)%4 != first/10%4 {
			continue
		}
		for seed := first; seed < first+uint64(count); seed++ {
			t.Run(fmt.Sprintf("%s-%d", family, seed), func(t *testing.T) { check(t, family, seed) })
		}
	}
}

// A coarse train has vertical faults, thick shims and little room for them:
// so few packs can be made up that all of them are tried. Invented figures.
type Coarse struct {
	Seed  uint64
	Held  int     // machine that is held; -1: none
	Step  float64 // mm
	Room  float64 // mm, up and down from the pack that is there
	Limit float64 // mm and mrad at the couplings
}

func (c Coarse) Text() string {
	r := rand.New(rand.NewPCG(c.Seed, 5))
	near := func(most float64) float64 { return most * (2*r.Float64() - 1) }
	var b strings.Builder
	fmt.Fprintf(&b, "title = \"coarse shims %d (invented)\"\nunits = \"mm\"\nshims = { step = %g }\n", c.Seed, c.Step)
	for i := range 3 {
		fmt.Fprintf(&b, "[[machine]]\nname = \"machine %d\"\nat = %d\nheight = %d\neffort = %d\nhold = %t\n", i+1, 2000*i,
			400+50*i, 1+r.IntN(2), i == c.Held)
		for k, x := range []int{300, 1300 + 100*r.IntN(3)} {
			fmt.Fprintf(&b, "[[machine.foot]]\nname = \"%c\"\nx = %d\nspread = 700\nshim = 5\nlower = %g\nraise = %g\n", 'A'+k,
				x, c.Room, c.Room)
		}
	}
	for i := range 2 {
		fmt.Fprintf(&b, "[[coupling]]\nname = \"coupling %d\"\nfrom = \"machine %d\"\nto = \"machine %d\"\nx = "+
			"%d\nlimit = { offset = %g, angle = %g }\nfound = { v = { offset = %.2f, angle = %.2f }, h = { offset = 0, "+
			"angle = 0 } }\n",
			i+1, i+1, i+2, 1900+2000*i, c.Limit, c.Limit, near(3*c.Room), near(0.6*c.Room))
	}
	return b.String()
}

// EveryPack calls with the moves of every whole number of shims at every
// station, nothing being moved aside.
func EveryPack(tr *train.Train, call func(train.Moves)) {
	moves := tr.Stay()
	var set func(i, f int)
	set = func(i, f int) {
		switch {
		case i == len(tr.Machines):
			call(moves)
		case f == len(tr.Machines[i].Feet):
			set(i+1, 0)
		case tr.Machines[i].Hold:
			set(i+1, 0)
		default:
			foot := tr.Machines[i].Feet[f]
			step := tr.ShimsOf(i).Step
			for n := -int(math.Floor(foot.Lower/step + 1e-9)); float64(n)*step <= foot.Raise+1e-9; n++ {
				moves[i][f].Up = float64(n) * step
				moves[i][f+1].Up = moves[i][f].Up
				set(i, f+2)
			}
			moves[i][f].Up, moves[i][f+1].Up = 0, 0
		}
	}
	set(0, 0)
}

func Weighed(tr *train.Train, moves train.Moves) float64 {
	var sum float64
	for i, feet := range moves {
		for _, f := range feet {
			sum += tr.Machines[i].Effort * (math.Abs(f.Up) + math.Abs(f.Left))
		}
	}
	return sum
}

// Stored is an example, as it was found, by the name of its folder, NAME.toml; or a train of a family and a seed:
// NAME-SEED.toml.
func Stored(t *testing.T, name string) *train.Train {
	for _, folder := range []string{"../examples/", "../../examples/"} { // of a package or one inside it
		if text, err := os.ReadFile(folder + strings.TrimSuffix(name, ".toml") + "/before.toml"); err == nil {
			return Read(t, name, string(text))
		}
	}
	family, number, ok := strings.Cut(strings.TrimSuffix(name, ".toml"), "-")
	require.True(t, ok)
	seed, err := strconv.ParseUint(number, 10, 64)
	require.NoError(t, err)
	return Drawn(t, family, seed)
}

// A pump beside a held motor, invented: feet at x = 0 and 1000 of the pump, which
// stands 1000 further on; the coupling is at 800, 200 before the front feet. The
// pump is 0.2 high and 0.1 left, parallel.
const PumpBeside = `title = "pump (invented)"
units = "mm"
[shims]
step = 0.05
stock = [0.05, 0.1, 0.2, 0.5, 1.0, 3.0]
max_pieces = 5
[[machine]]
name = "motor"
height = 300
hold = true
[[machine.foot]]
name = "a"
x = 0
spread = 400
[[machine.foot]]
name = "b"
x = 600
spread = 400
[[machine]]
name = "pump"
at = 1000
height = 300
[[machine.foot]]
name = "front"
x = 0
spread = 400
shim = 0.3
raise = 2.0
bolt = 20
hole = 21
[[machine.foot]]
name = "rear"
x = 1000
spread = 400
shim = 3.0
raise = 2.0
bolt = 20
hole = 24
[[coupling]]
name = "only"
from = "motor"
to = "pump"
x = 800
[coupling.limit]
offset = 0.06
angle = 0.5
[coupling.found]
v = { offset = 0.2, angle = 0.0 }
h = { offset = 0.1, angle = 0.0 }
`

// PumpMoves are moves of the pump: up and left at its front, up and left at its rear.
func PumpMoves(frontUp, frontLeft, rearUp, rearLeft float64) train.Moves {
	m := make(train.Moves, 2)
	m[0] = make([]train.FootMove, 4)
	m[1] = []train.FootMove{{Up: frontUp, Left: frontLeft}, {Up: frontUp, Left: frontLeft}, {Up: rearUp, Left: rearLeft},
		{Up: rearUp, Left: rearLeft}}
	return m
}

func ShiftAlong(feet []train.FootMove, by float64) {
	for f := range feet {
		feet[f].Axial = by
	}
}
