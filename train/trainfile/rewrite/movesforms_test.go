package rewrite

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/train"
)

// A machine b whose feet at "x", in the middle of it, are written in some way; its other
// pair stands 1000 on, with nothing said of it.
const formed = `title = "forms"
units = UNITS
[shims]
step = STEP
[[machine]]
name = "a"
height = 300
hold = true
[[machine]]
name = "b"
height = 300
roll = true
MACHINE
[[coupling]]
name = "c"
from = "a"
to = "b"
x = 500
limit = { offset = 0.1, angle = 1.0 }
found = { v = { offset = 0, angle = 0 }, h = { offset = 0, angle = 0 } }
`

const otherPair = "\n[[machine.foot]]\nname = \"y\"\nx = 2000\nspread = 400\n"

// Ways to write one and the same, and what becomes of them. Where nothing else is said the
// moves are 0.2 up and 0.3 to the left at all feet, in the file's unit of moves: nothing
// turns, and every bolt goes 0.3 to the right in its hole.
func TestWithMovesForms(t *testing.T) {
	alike := [4]train.FootMove{{Up: 0.2, Left: 0.3}, {Up: 0.2, Left: 0.3}, {Up: 0.2, Left: 0.3}, {Up: 0.2, Left: 0.3}}
	// 0.1 to the left at x and to the right at y, 1000 mm on: -0.2 mrad, which takes what
	// stands 200 mm to the left 0.04 mm along the train, and what stands right of it back.
	turned := [4]train.FootMove{{Left: 0.1}, {Left: 0.1}, {Left: -0.1}, {Left: -0.1}}
	// Left packs 0.4 more: the case rolls by 1 mrad.
	tilted := [4]train.FootMove{{Up: 0.4}, {}, {Up: 0.4}, {}}
	for name, c := range map[string]struct {
		units, step   string
		machine, want string
		moves         [4]train.FootMove
		pieces        []float64
		changes       string
	}{
		"lines": {
			machine: "[[machine.foot]]\nname   = \"x\"\nx      = 1000\nspread = 400\nshim   = 3.0 # of both\nlower  = " +
				"1.0\nraise  = 2.0\ntravel = { left = 1.0, right = 0.5 }\nbolt   = 22\nhole   = 24 # drilled\n# a word\n" +
				otherPair,
			want: "[[machine.foot]]\nname   = \"x\"\nx      = 1000\nspread = 400\nshim   = 3.2 # of both\nlower  = " +
				"1.2\nraise  = 1.8\ntravel = { left = 0.7, right = 0.8 }\nbolt   = 22\nhole   = 24 # drilled\nbolt_at = [0, " +
				"-0.3]\n# a word\n" + otherPair,
			moves: alike, changes: "shim lower raise travel bolt_at",
		},
		"inches and mils: 0.3 mil are 0.0003 inches": {
			units: `"inch"`, step: "0.1",
			machine: "[[machine.foot]]\nname = \"x\"\nx = 100\nspread = 40\nshim = 300\nraise = 100\nbolt = 1\nhole = " +
				"1.125\nbolt_at = [0.01, 0.001]\n" + strings.ReplaceAll(otherPair, "400", "40"),
			want: "[[machine.foot]]\nname = \"x\"\nx = 100\nspread = 40\nshim = 300.2\nraise = 99.8\nbolt = 1\nhole = " +
				"1.125\nbolt_at = [0.01, 0.0007]\n" + strings.ReplaceAll(otherPair, "400", "40"),
			moves: alike, changes: "shim raise bolt_at",
		},
		"in braces": {
			machine: "foot = [{ name = \"x\", x = 1000, spread = 400, shim = 3, bolt = 22, hole = 24 },\n  { name = \"y\", " +
				"x = 2000, spread = 400, left = { }, right = { shim = 2 } }]\n",
			want: "foot = [{ name = \"x\", x = 1000, spread = 400, shim = 3.2, bolt = 22, hole = 24, bolt_at = [0, " +
				"-0.3] },\n  { name = \"y\", x = 2000, spread = 400, left = { }, right = { shim = 2.2 } }]\n",
			moves: alike, changes: "shim bolt_at",
		},
		"turned": {
			machine: "[[machine.foot]]\nname = \"x\"\nx = 1000\nspread = 400\nbolt = 22\nhole = 24\n" + otherPair,
			want: "[[machine.foot]]\nname = \"x\"\nx = 1000\nspread = 400\nbolt = 22\nhole = 24\nleft = { bolt_at = " +
				"[-0.04, -0.1] }\nright = { bolt_at = [0.04, -0.1] }\n" + otherPair,
			moves: turned, changes: "bolt_at",
		},
		"turned, one side in braces, one with a header": {
			machine: "[[machine.foot]]\nname = \"x\"\nx = 1000\nspread = 400\nbolt = 22\nhole = 24\nleft = { shim = 3.0 " +
				"}\n[machine.foot.right]\nshim = 3.0\n" + otherPair,
			want: "[[machine.foot]]\nname = \"x\"\nx = 1000\nspread = 400\nbolt = 22\nhole = 24\nleft = { shim = 3.0, " +
				"bolt_at = [-0.04, -0.1] }\n[machine.foot.right]\nshim = 3.0\nbolt_at = [0.04, -0.1]\n" + otherPair,
			moves: turned, changes: "bolt_at",
		},
		"turned, dots and a table in a table": {
			machine: "[[machine.foot]]\nname = \"x\"\nx = 1000\nspread = 400\nbolt = 22\nhole = 24\nleft.shim = 3.0 # " +
				"mine\n[machine.foot.right.travel]\nleft = 1.0\n" + otherPair,
			want: "[[machine.foot]]\nname = \"x\"\nx = 1000\nspread = 400\nbolt = 22\nhole = 24\nleft.shim = 3.0 # " +
				"mine\nleft.bolt_at = [-0.04, -0.1]\n[machine.foot.right]\nbolt_at = [0.04, " +
				"-0.1]\n[machine.foot.right.travel]\nleft = 0.9\n" + otherPair,
			moves: turned, changes: "travel bolt_at",
		},
		"turned, dots in braces": {
			machine: "foot = [{ name = \"x\", x = 1000, spread = 400, left.shim = 3.0, bolt = 22, hole = 24 }, { name = " +
				"\"y\", x = 2000, y = 0 }]\n",
			want: "foot = [{ name = \"x\", x = 1000, spread = 400, left.shim = 3.0, left.bolt_at = [-0.05, -0.1], bolt " +
				"= 22, hole = 24, right = { bolt_at = [0.05, -0.1] } }, { name = \"y\", x = 2000, y = 0 }]\n",
			// Three feet: 1/3 of 0.1 + 0.1 - 0.1 in the middle, and the line through them.
			moves: [4]train.FootMove{{Left: 0.1}, {Left: 0.1}, {Left: -0.15}}, changes: "bolt_at",
		},
		"a pair that was alike": {
			machine: "[[machine.foot]]\nname = \"x\"\nx = 1000\nspread = 400\nshim = 3.0\nraise = 2.0\n" + otherPair,
			want: "[[machine.foot]]\nname = \"x\"\nx = 1000\nspread = 400\nshim = 3.0\nraise = 2.0\nleft  = { shim = " +
				"3.4, raise = 1.6 }\n" + otherPair,
			moves: tilted, changes: "shim raise",
		},
		"a pair that was alike, both moved": {
			machine: "[[machine.foot]]\nname = \"x\"\nx = 1000\nspread = 400\nshim = 3.0\n" + otherPair,
			want:    "[[machine.foot]]\nname = \"x\"\nx = 1000\nspread = 400\nshim = 3.4\nright = { shim = 3.1 }\n" + otherPair,
			moves:   [4]train.FootMove{{Up: 0.4}, {Up: 0.1}, {Up: 0.4}, {Up: 0.1}}, changes: "shim",
		},
		"what one side says gives way to nothing": {
			machine: "[[machine.foot]]\nname = \"x\"\nx = 1000\nspread = 400\nshim = 3.0\nleft = { shim = 5.0 }\n" + otherPair,
			want:    "[[machine.foot]]\nname = \"x\"\nx = 1000\nspread = 400\nshim = 3.2\nleft = { shim = 5.2 }\n" + otherPair,
			moves:   alike, changes: "shim",
		},
		"pieces that are known": {
			machine: "[[machine.foot]]\nname = \"x\"\nx = 1000\nspread = 400\npieces = [2.0, 1.0] # new ones\n" + otherPair,
			want:    "[[machine.foot]]\nname = \"x\"\nx = 1000\nspread = 400\npieces = [2.0, 1.0, 0.2] # new ones\n" + otherPair,
			moves:   alike, pieces: []float64{2, 1, 0.2}, changes: "pieces",
		},
		"pieces that are not": {
			machine: "[[machine.foot]]\nname = \"x\"\nx = 1000\nspread = 400\npieces = [2.0, 1.0]\n" + otherPair,
			want:    "[[machine.foot]]\nname = \"x\"\nx = 1000\nspread = 400\nshim   = 3.2\n" + otherPair,
			moves:   alike, changes: "shim",
		},
		"pieces that are not, beside their sum": {
			machine: "[[machine.foot]]\nname = \"x\"\nx = 1000\nspread = 400\nshim = 3.0\npieces = [2.0, 1.0]\nleft = { " +
				"shim = 3.0, pieces = [3.0] }\n" + otherPair,
			want: "[[machine.foot]]\nname = \"x\"\nx = 1000\nspread = 400\nshim = 3.2\n# TO READ: pieces = \nleft = { " +
				"shim = 3.2 }\n" + otherPair,
			moves: alike, changes: "shim",
		},
		"cut, and a gap of 0.12 that 0.1 fills: 3.0 + 0.5 + 0.1 + 0.2": {
			machine: "[[machine.foot]]\nname = \"x\"\nx = 1000\nspread = 400\nshim = 3.0\nlower = 1.0\nraise = 0.4\ncut = " +
				"0.5\nsoft = 0.12\n" + otherPair,
			want: "[[machine.foot]]\nname = \"x\"\nx = 1000\nspread = 400\nshim = 3.8\nlower = 1.8\nraise = 0.1\ncut = " +
				"0.0\nsoft = 0.12\n" + otherPair,
			moves: alike, changes: "shim cut lower raise",
		},
		"a single foot, and a hole by its fit": {
			machine: "[[machine.foot]]\nname = \"x\"\nx = 1000\ny = 100\nbolt = \"M24\"\nfit = " +
				"\"medium\"\n[[machine.foot]]\nname = \"z\"\nx = 1500\ny = -100\nbolt_at = [0.1, 0.2]\nbolt = 20\nhole = 24\n" +
				otherPair,
			want: "[[machine.foot]]\nname = \"x\"\nx = 1000\ny = 100\nbolt = \"M24\"\nfit = \"medium\"\nbolt_at = [0, " +
				"-0.3]\n[[machine.foot]]\nname = \"z\"\nx = 1500\ny = -100\nbolt_at = [0.1, -0.1]\nbolt = 20\nhole = 24\n" +
				otherPair,
			moves: alike, changes: "bolt_at",
		},
		"level and nozzle: 0.4 over 400 mm is a roll of 1 mrad; a point 500 up and in the middle goes 0.2 up and 0.5 to the right, 0.539": {
			machine: "level = { roll = 2.0 }\n[[machine.foot]]\nname = \"x\"\nx = 1000\nspread = 400\n" + otherPair +
				"[[machine.nozzle]]\nname = \"n\"\nx = 1500\nz = 500\nlimit = 0.6\n[[machine.nozzle]]\nname = \"low\"\nx = " +
				"1500\nz = 500\nlimit = 0.5\n",
			want: "level = { roll = 2.0, found = { roll = 1 } }\n[[machine.foot]]\nname = \"x\"\nx = 1000\nspread = 400\n" +
				otherPair + "[[machine.nozzle]]\nname = \"n\"\nx = 1500\nz = 500\nlimit = 0.061\n[[machine.nozzle]]\nname = " +
				"\"low\"\nx = 1500\nz = 500\nlimit = 0.001\n",
			moves: tilted, changes: `level.found limit of nozzle n limit of nozzle low`,
		},
		"level with headers": {
			machine: "[machine.level]\nroll = 2.0\n[machine.level.found]\npitch = 0.1\n[[machine.foot]]\nname = \"x\"\nx = " +
				"1000\nspread = 400\n" + otherPair,
			want: "[machine.level]\nroll = 2.0\n[machine.level.found]\npitch = 0.1\nroll  = 1\n[[machine.foot]]\nname = " +
				"\"x\"\nx = 1000\nspread = 400\n" + otherPair,
			moves: tilted, changes: "level.found",
		},
	} {
		t.Run(name, func(t *testing.T) {
			if c.units == "" {
				c.units, c.step = `"mm"`, "0.1"
			}
			text := func(machine string) string {
				return strings.NewReplacer("UNITS", c.units, "STEP", c.step, "MACHINE\n", machine).Replace(formed)
			}
			was := readAll(t, name, text(c.machine))
			moves := was.Stay()
			for f := range moves[1] {
				m := c.moves[f]
				if c.moves == alike {
					m = alike[0]
				}
				moves[1][f] = train.FootMove{Up: m.Up * was.Units.Move(), Left: m.Left * was.Units.Move()}
			}
			now := was.Made(moves)
			if c.pieces != nil {
				now.Machines[1].Feet[0].Pieces, now.Machines[1].Feet[1].Pieces = c.pieces, c.pieces
			}
			out, changes, err := WithMoves([]byte(text(c.machine)), was, now)
			require.NoError(t, err)
			assert.Equal(t, text(c.want), out)
			corrected, err := SoftFootCorrected([]byte(out))
			require.NoError(t, err)
			readAll(t, name, corrected)
			require.Len(t, changes, 1)
			assert.Equal(t, "b", changes[0].Machine)
			assert.Equal(t, c.changes, strings.Join(changes[0].Keys, " "))
			windows, _, err := WithMoves([]byte(strings.ReplaceAll(text(c.machine), "\n", "\r\n")), was, now)
			require.NoError(t, err)
			assert.Equal(t, strings.ReplaceAll(text(c.want), "\n", "\r\n"), windows)
		})
	}
}

// Rounding does not put a bolt outside its hole: 0.6004 and 0.8000 round to 0.600 and
// 0.800, which is 1.0 from the middle; 0.6005 and 0.7996 to 0.601 and 0.800, which is
// 1.0006, so their digits are cut off.
func TestPlace(t *testing.T) {
	mm := figures{units: train.Millimetres, move: 2}
	assert.Equal(t, "[0.6, 0.8]", mm.place([2]float64{0.6004, 0.8000}, 1.0003))
	assert.Equal(t, "[0.601, 0.8]", mm.place([2]float64{0.6006, 0.7996}, 2))
	assert.Equal(t, "[0.6, 0.799]", mm.place([2]float64{0.6006, 0.7996}, 1.0001))
	assert.Equal(t, "[-0.6, -0.799]", mm.place([2]float64{-0.6006, -0.7996}, 1.0001))
	assert.Equal(t, "[0, 0]", mm.place([2]float64{-0.0004, 0.0004}, 1))
	assert.Equal(t, "[0, -0.0156]", figures{units: train.Inches, move: 1}.place([2]float64{0, -0.01564 * train.Inch}, 1))
}

// What is left of a limit is rounded down, but for what turning makes of a move; what a
// file states finer than a step stays as fine.
func TestFigures(t *testing.T) {
	mm := figures{units: train.Millimetres, move: 2}
	assert.Equal(t, "0.76", mm.left(0.7689, 2))
	assert.Equal(t, "0.77", mm.left(0.7696, 2), "0.0004 short of it")
	assert.Equal(t, "0.0", mm.left(0, 2))
	assert.Equal(t, "3.237", mm.exact(3.037+0.2))
	assert.Equal(t, "0.001", mm.above0(0))
	assert.Equal(t, "0.01", figures{units: train.Inches, move: 1}.above0(0))
	assert.Equal(t, "1.5", figures{units: train.Inches, move: 1}.exact(1.5*train.Mil))
	assert.Equal(t, "0", fixed(-0.0001, 3))
	assert.Equal(t, 3, figuresOf(&train.Train{Shims: train.Shims{Step: 0.025}}).move)
}
