package chart

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/cmd/internal/view"
	"leastmove/optimize"
)

func number(t *testing.T, words string) float64 {
	v, err := strconv.ParseFloat(words, 64)
	require.NoError(t, err)
	return v
}

// saidAt are the two numbers of a foot as the figure is to say them.
func saidAt(p *optimize.Plan, i, f, decimals int) []string {
	unit := p.Train.Units.Move()
	var out []string
	if by := p.Train.PackChange(i, f, p.Moves[i][f].Up).By() / unit; math.Abs(by) > 1e-9 {
		out = append(out, strings.Replace(fmt.Sprintf("%+.*f", decimals, by), "-", minus, 1))
	}
	switch left := p.Moves[i][f].Left / unit; {
	case left > 1e-9:
		out = append(out, fmt.Sprintf("left %.*f", decimals, left))
	case left < -1e-9:
		out = append(out, fmt.Sprintf("right %.*f", decimals, -left))
	}
	return out
}

// Every number stands in the cell of its own machine, on its own side, and no other does.
func TestMovesNumbersReadBack(t *testing.T) {
	for name, decimals := range map[string]int{"turbine": 2, "reverse-dials": 1,
		"five-machines": 2} {
		p := plannedOf(t, name)
		figures := Moves(view.FiguresOf(p))
		require.Len(t, figures, 1)
		d := readBack(t, figures[0])
		cell := float64(usualWidth) / float64(len(p.Moves))
		middles := d.middles(t)
		for i := range p.Moves {
			var want [2][]string
			for f := range p.Moves[i] {
				side := 0
				if p.Train.Machines[i].Feet[f].Y > 0 {
					side = 1
				}
				want[side] = append(want[side], saidAt(p, i, f, decimals)...)
			}
			var got [2][]string
			for _, l := range d.labels {
				if first := l.words[:1]; first != "+" && !strings.HasPrefix(l.words, minus) &&
					!strings.HasPrefix(l.words, "left ") &&
					!strings.HasPrefix(l.words, "right ") || strings.Contains(l.words, "shims") {
					continue
				}
				if l.x < float64(i)*cell || l.x >= float64(i+1)*cell {
					continue
				}
				assert.LessOrEqual(t, l.x+float64(wide(normal, l.words)), float64(i+1)*cell, "%s leaves its cell", l.words)
				side := 0
				if l.y > middles {
					side = 1
				}
				got[side] = append(got[side], strings.Split(l.words, ", ")...)
			}
			for side := range want {
				assert.ElementsMatch(t, want[side], got[side], "%s, %s", name, p.Train.Machines[i].Name)
			}
		}
	}
}

// middles is the height of the shafts' line of a figure of one row.
func (d *drawn) middles(t *testing.T) float64 {
	for _, s := range d.lines(0.5, "") {
		if s.points[0][1] == s.points[1][1] && s.points[1][0] > s.points[0][0] {
			return s.points[0][1]
		}
	}
	require.FailNow(t, "no line of the shafts")
	return 0
}

// Bars are as long as the packs change and arrows as the feet go sideways, by the one scale of the figure.
func TestMovesReadBack(t *testing.T) {
	for _, name := range []string{"reverse-dials", "five-machines"} {
		p := plannedOf(t, name)
		figures := Moves(view.FiguresOf(p))
		require.Len(t, figures, 1)
		d := readBack(t, figures[0])
		scale := d.bar(t, p.Train.Units, "moves: ", false)
		var sides, ups []float64
		for _, s := range d.lines(1.2, "") {
			sides = append(sides, (s.points[1][1]-s.points[0][1])/scale)
		}
		for _, s := range d.bars(shimBar) {
			long := math.Abs(s.points[2][1]-s.points[1][1]) / scale
			if !s.filled {
				long = -long
			}
			ups = append(ups, long)
		}
		var wantSides, wantUps []float64
		for i := range p.Moves {
			seen := map[[2]float64]bool{}
			for f, move := range p.Moves[i] {
				foot := &p.Train.Machines[i].Feet[f]
				if by := p.Train.PackChange(i, f, move.Up).By(); math.Abs(by) > 1e-9 {
					wantUps = append(wantUps, by)
				}
				if at := [2]float64{foot.X, move.Left}; math.Abs(move.Left) > 1e-9 && !seen[at] {
					seen[at] = true
					wantSides = append(wantSides, move.Left)
				}
			}
		}
		require.Len(t, sides, len(wantSides)+1, "and one in the legend")
		require.Len(t, ups, len(wantUps)+2, "and two in the legend")
		for n, want := range wantSides {
			assert.InDelta(t, want, sides[n], 0.03/scale)
		}
		for n, want := range wantUps {
			assert.InDelta(t, want, ups[n], 0.03/scale)
		}
	}
}

// A long train goes over rows, each a part of its own on paper: together they have every word of the whole once, the
// legend in the last.
func TestMovesInRows(t *testing.T) {
	one := view.FiguresOf(plannedOf(t, "five-machines"))
	f, tr := *one, *one.Train
	tr.Machines, f.Train = slices.Concat(tr.Machines, tr.Machines), &tr
	f.Moves = slices.Concat(f.Moves, f.Moves)
	d := Moves(&f)[0]
	require.Len(t, d.parts, 2)
	words := func(d Drawing) (out []string) {
		read := readBack(t, d)
		for _, l := range read.labels {
			if l.words != d.Title {
				out = append(out, l.words)
			}
		}
		return out
	}
	rows := [2][]string{words(d.parts[0]), words(d.parts[1])}
	assert.ElementsMatch(t, words(d), slices.Concat(rows[0], rows[1]))
	assert.NotContains(t, rows[0], "stays")
	assert.Contains(t, rows[1], "stays")
	assert.Equal(t, d.Height+titleRoom, d.parts[0].Height+d.parts[1].Height)
}

// Rows of a table go into parts of about as many each.
func TestChunks(t *testing.T) {
	assert.Equal(t, [][]int{{1, 2}, {3, 4, 5}}, chunks([]int{1, 2, 3, 4, 5}, 4))
	assert.Equal(t, [][]int{{1, 2, 3}}, chunks([]int{1, 2, 3}, 3))
	assert.Empty(t, chunks([]int{}, 3))
}

// Machines beside each other are joined, each to the edge of its cell with a stroke across; a base under machines is
// joined to none, and says what it carries.
func TestABaseIsJoinedToNone(t *testing.T) {
	p := *plannedOf(t, "turbine")
	tr := *p.Train
	tr.Machines = slices.Clone(tr.Machines)
	p.Train = &tr
	last := len(tr.Machines) - 1
	for _, base := range []bool{false, true} {
		want := 2 * last
		if base {
			tr.Machines[last].Carries = []int{0}
			want -= 2
		}
		f := view.FiguresOf(&p)
		for _, d := range []Drawing{Moves(f)[0], feetFromAbove(f, feetWidth, feetInRow)} {
			back, across := readBack(t, d), 0
			for _, s := range back.lines(0.5, "") {
				if s.points[0][0] == s.points[1][0] && math.Abs(math.Abs(s.points[1][1]-s.points[0][1])-8) < 1e-6 {
					across++
				}
			}
			assert.Equal(t, want, across, d.Title)
			assert.Equal(t, base, slices.ContainsFunc(back.labels, func(l label) bool {
				return strings.Contains(l.words, ", under ")
			}), d.Title)
		}
	}
}
