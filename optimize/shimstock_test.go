package optimize_test

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/optimize"
	"leastmove/optimize/bnb"
	"leastmove/testdata/recheck"
	"leastmove/testdata/trains"
	"leastmove/train"
)

// What a variable may be is what every foot's pack can be made for, one asked
// by listing all heights, the other by making up each pack. Invented figures.
func TestPackStepsAreThePacksThatCanBeMade(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 8))
	barred, allowed := 0, 0
	for range 60 {
		tr := &train.Train{Units: train.Units(r.IntN(2)), Shims: train.Shims{Step: 0.05}, Machines: make([]train.Machine, 1)}
		unit := 0.05
		if tr.Units == train.Inches {
			unit = train.Mil
			tr.Shims.Step = unit
		}
		switch r.IntN(3) {
		case 0:
			tr.Shims.MaxPieces = 1 + r.IntN(4)
		case 1:
			tr.Shims.Stock = []float64{2 * unit, 5 * unit, 20 * unit}
		case 2:
			tr.Shims.Stock, tr.Shims.MaxPieces = []float64{unit, 10 * unit, 40 * unit}, 3
		}
		m := &train.Machine{}
		for range 2 {
			f := train.Foot{Pack: unit * float64(r.IntN(100))}
			switch r.IntN(4) {
			case 0:
				f.Pack = math.NaN()
			case 1:
				f.Soft = unit * 3 * r.Float64()
			case 2:
				f.Pieces = []float64{40 * unit, 5 * unit, 2 * unit}
				f.Pack, f.Cut = 47*unit, unit*float64(r.IntN(3))
			}
			m.Feet = append(m.Feet, f)
		}
		tr.Machines = []train.Machine{*m}
		tr.Fill(0)
		k := &optimize.Model{Train: tr}
		only := k.PackSteps([]int{0, 1}, m, 0)
		require.True(t, slices.IsSorted(only))
		require.Contains(t, only, 0)
		s := optimize.ShimStock(tr, 0)
		for n := -120; n <= 250; n++ {
			up := float64(n) * tr.Shims.Step
			want := optimize.Makes(tr, s, 0, 0, up) && optimize.Makes(tr, s, 0, 1, up)
			require.Equal(t, want, slices.Contains(only, n), "%+v by %d steps", m.Feet, n)
			if want {
				allowed++
			} else {
				barred++
			}
		}
		far := k.PackSteps([]int{0, 1}, m, 4)
		for _, n := range far {
			assert.True(t, n == 0 || n >= 4 || n <= -4, "the least move is kept")
		}
	}
	assert.Greater(t, allowed, 1000)
	assert.Greater(t, barred, 1000)
	k := &optimize.Model{Train: &train.Train{Shims: train.Shims{Step: 0.05}}}
	assert.Nil(t, k.PackSteps([]int{0}, &train.Machine{Feet: []train.Foot{{Pack: 5, Pieces: []float64{5}}}}, 0),
		"nothing is stated of stock: any whole step goes")
}

// Three machines, one held, against every pack that can be made of four pieces
// of 0.25, 1 and 3 mm, by true geometry.
func TestEveryPackOfAShimStock(t *testing.T) {
	t.Parallel()
	counts := map[string]int{}
	for seed := range uint64(trains.Draws(12, 120)) {
		c := trains.Coarse{Seed: seed, Held: int(seed % 3), Step: 0.25, Room: 1, Limit: 0.5}
		text := strings.Replace(c.Text(), "step = 0.25", "step = 0.25, stock = [0.25, 1, 3], max_pieces = 4", 1)
		// A pack in pieces, and one of which nothing is known.
		text = strings.Replace(text, "shim = 5\n", "pieces = [3, 1, 1]\n", 2)
		tr := trains.Read(t, "stock", text)
		t.Run(fmt.Sprint(seed), func(t *testing.T) {
			s := optimize.ShimStock(tr, 0)
			least, without := math.Inf(1), math.Inf(1)
			trains.EveryPack(tr, func(moves train.Moves) {
				state := tr.Check(moves)
				if state.Worst() > tr.Aim.Use*(1+recheck.Rounding) {
					return
				}
				total := trains.Weighed(tr, moves)
				without = math.Min(without, total)
				for i, feet := range moves {
					for f := range feet {
						if !optimize.Makes(tr, s, i, f, feet[f].Up) {
							return
						}
					}
				}
				least = math.Min(least, total)
			})
			m := optimize.NewSolver(tr, optimize.Options{Gap: recheck.Exact, Solves: 20000})
			m.Linearize(context.Background())
			r := m.LeastTotal(context.Background(), tr.Aim.Use)
			require.False(t, m.OutOfWork)
			if math.IsInf(least, 1) {
				counts["impossible"]++
				if !math.IsInf(without, 1) {
					counts["impossible for the stock"]++
				}
				assert.Equal(t, bnb.Impossible, r.Status)
				return
			}
			require.Equal(t, bnb.Least, r.Status)
			assert.InDelta(t, least, r.Value, 1e-9)
			assert.InDelta(t, least, m.Proven(t.Context(), r), 1e-3*least)
			counts["planned"]++
			if least > without {
				counts["dearer for the stock"]++
			}
			p := m.Plan
			p.Moves = m.Model.Moves(r.Steps)
			p.MakePacks()
			for i, feet := range p.Moves {
				for f, move := range feet {
					at := slices.IndexFunc(p.Packs, func(k optimize.Pack) bool { return k.Machine == i && k.Foot == f })
					require.Equal(t, move.Up != 0, at >= 0, "a foot that is shimmed has a pack")
					if at >= 0 {
						var height float64
						for _, piece := range p.Packs[at].Then {
							height += piece
						}
						assert.InDelta(t, 5+move.Up, height, 1e-9)
						assert.LessOrEqual(t, len(p.Packs[at].Then), 4)
					}
				}
			}
		})
	}
	t.Log(counts)
	assert.GreaterOrEqual(t, counts["dearer for the stock"], trains.Draws(1, 3))
	assert.GreaterOrEqual(t, counts["impossible for the stock"], trains.Draws(1, 3))
}

// By hand, with the usual shims: 0.45 goes in as 0.25 and 0.2; a soft foot is
// filled by 0.1 and raised by 0.4: one of 0.5; 0.3 was cut off a foot that is
// lowered by 0.3: nothing; a pack that nobody knows comes down: nothing to say.
func TestPacksOfAPlan(t *testing.T) {
	tr := &train.Train{Shims: train.Shims{Step: 0.05}, Machines: []train.Machine{{Feet: []train.Foot{
		{Pack: 5}, {Pack: 2.1, Soft: 0.11, Filled: 0.1, Pieces: []float64{1, 1}}, {Pack: 4, Cut: 0.3},
		{Pack: math.NaN()}, {Pack: math.NaN()}, {Pack: 1, Soft: 0.1, Filled: 0.1},
	}}}}
	p := &optimize.Plan{Result: optimize.Result{
		Train: tr, Soft: []optimize.Soft{{0, 1, 0.11, 0.1}, {0, 5, 0.1, 0.1}},
		Moves: train.Moves{{{Up: 0.45}, {Up: 0.4}, {Up: -0.3}, {Up: -0.2}, {Up: 0.2}, {}}},
	}}
	p.MakePacks()
	none := []float64{}
	assert.Equal(t, []optimize.Pack{
		{0, 0, nil, []float64{5, 0.2, 0.25}, none, []float64{0.25, 0.2}},
		{0, 1, []float64{1, 1}, []float64{1, 0.5, 1}, none, []float64{0.5}},
		{0, 4, nil, nil, nil, []float64{0.2}},
		{0, 5, nil, []float64{0.9, 0.1}, none, []float64{0.1}},
	}, p.Packs)
	assert.Equal(t, []optimize.Shim{{0.1, 1}, {0.2, 2}, {0.25, 1}, {0.5, 1}}, p.Shims)
}
