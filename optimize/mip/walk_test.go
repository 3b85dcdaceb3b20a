package mip

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/testdata/cases"
)

// plenty is more work than any walk here takes.
func plenty() *int {
	work := math.MaxInt
	return &work
}

// walkable is a random chain: of each block two or three variables of way 1, and one of way 2; limits of neighbours
// with a row of each way, limits of one block, some variables in steps that are listed, some pairs with one effect.
func walkable(r *rand.Rand) *Problem {
	p := &Problem{}
	blocks := 2 + r.IntN(2)
	first, twin := []int{}, map[int]bool{} // twins do as the variable before to other blocks
	for b := range blocks {
		first = append(first, len(p.Vars))
		for n := range 2 + r.IntN(2) {
			twin[len(p.Vars)] = n > 0 && r.IntN(3) == 0
			v := Var{Block: b, Way: 1, Step: 0.5 + r.Float64(), Lo: float64(-r.IntN(3)), Hi: float64(1 + r.IntN(3))}
			if r.IntN(6) == 0 {
				v.Only = []int{-2, 0, 1}
			}
			p.Vars = append(p.Vars, v)
		}
		p.Vars = append(p.Vars, Var{Block: b, Way: 2, Step: 1, Lo: float64(-r.IntN(2)), Hi: float64(r.IntN(2))})
	}
	first = append(first, len(p.Vars))
	row := func(way, from, to int) Row {
		out := Row{Constant: 4*r.Float64() - 2}
		factors := map[int]float64{}
		for j := first[from]; j < first[to+1]; j++ {
			v := &p.Vars[j]
			c := 2*r.Float64() - 1
			if twin[j] && from != to {
				c = factors[j-1] * p.Vars[j-1].Step / v.Step
			}
			switch {
			case v.Way == way:
				factors[j] = c
				out.Terms = append(out.Terms, Term{j, c})
			case r.IntN(8) == 0:
				out.Terms = append(out.Terms, Term{j, 0.1 * c})
			}
		}
		return out
	}
	for b := range blocks - 1 {
		for range 2 {
			p.Limits = append(p.Limits, Limit{Radius: 0.2 + 1.5*r.Float64(), Shared: r.IntN(3) > 0,
				Rows: []Row{row(1, b, b+1), row(2, b, b+1)}})
		}
	}
	for b := range blocks {
		p.Limits = append(p.Limits, Limit{Radius: 0.2 + r.Float64(), Rows: []Row{row(1, b, b)}})
	}
	return p
}

// bendable has rows curved by two turns of each block: products of known size, and something beside.
func bendable(r *rand.Rand) *Problem {
	p := walkable(r)
	p.Turns = []Row{}
	n := p.Vars[len(p.Vars)-1].Block + 1
	for b := range n {
		for range 2 {
			turn := Row{Constant: 0.3 * r.Float64()}
			for j := range p.Vars {
				if p.Vars[j].Block == b && r.IntN(4) > 0 {
					turn.Terms = append(turn.Terms, Term{j, r.Float64() - 0.5})
				}
			}
			p.Turns, p.TurnMost = append(p.Turns, turn), append(p.TurnMost, 100)
		}
	}
	for i := range p.Limits {
		l := &p.Limits[i]
		last := p.LastBlock(l)
		for k := range l.Rows {
			var c Curve
			for range 1 + r.IntN(2) {
				by := 0.6 * r.Float64()
				block := max(0, last-r.IntN(2))
				b := Bend{A: 2 * block, B: 2*block + r.IntN(2), By: by, Mean: by * (0.6 + 0.4*r.Float64()) * float64(2*r.IntN(2)-1)}
				if r.IntN(5) == 0 {
					b.B, b.Mean = -1, 0
				}
				c.Sum = append(c.Sum, b)
			}
			l.Rows[k].Off = []Curve{c}
		}
	}
	return p
}

// value is what the function of a row comes to at a point, with what its curve leaves open at some share of it, -1..1.
func (p *Problem) value(r *Row, s Steps, share float64) float64 {
	affine := func(r *Row) float64 {
		v := r.Constant
		for _, t := range r.Terms {
			v += t.Coefficient * p.Vars[t.Var].Step * float64(s[t.Var])
		}
		return v
	}
	v := affine(r)
	if len(r.Off) == 0 {
		return v
	}
	for _, b := range r.Off[0].Sum {
		x, y := affine(&p.Turns[b.A]), 1.0
		if b.B >= 0 {
			y = affine(&p.Turns[b.B])
		}
		v += b.Mean*x*y + share*(b.By-math.Abs(b.Mean))*math.Abs(x*y)
	}
	return v
}

// each goes through all points of a problem; the variables of one way alone if way is not 0.
func (p *Problem) each(way int, do func(Steps)) {
	lo, hi := p.ends()
	s := make(Steps, len(p.Vars))
	var set func(j int)
	set = func(j int) {
		if j == len(s) {
			do(s)
			return
		}
		if way != 0 && p.Vars[j].Way != way {
			s[j] = 0
			set(j + 1)
			return
		}
		for n := lo[j]; n <= hi[j]; n++ {
			if !p.Vars[j].Bars(n) {
				s[j] = n
				set(j + 1)
			}
		}
	}
	set(0)
}

func (p *Problem) ends() (lo, hi Steps) {
	for _, v := range p.Vars {
		lo, hi = append(lo, int(math.Ceil(v.Lo/v.Step))), append(hi, int(math.Floor(v.Hi/v.Step)))
	}
	return lo, hi
}

// Against all points: where a walk finds none, no point keeps all limits, whatever the curves leave open. Where nothing
// but the way is in the rows and none is curved it finds steps just where there are some.
func TestWalksHoldAllPoints(t *testing.T) {
	r := rand.New(rand.NewPCG(61, 1))
	for _, curved := range []bool{false, true} {
		none, some := 0, 0
		for n := range cases.Draws(100, 500) {
			p := walkable(r)
			if curved {
				p = bendable(r)
			}
			use := 0.2 + r.Float64()
			radius := func(l *Limit) float64 {
				if l.Shared {
					return l.Radius * use
				}
				return l.Radius
			}
			lo, hi := p.ends()
			got := p.Walk(1, lo, hi, use, plenty())
			if got.None {
				none++
				p.each(0, func(s Steps) {
					for i := range p.Limits {
						var square float64
						for k := range p.Limits[i].Rows {
							// The least size that what is left open lets it have.
							a, b := p.value(&p.Limits[i].Rows[k], s, -1), p.value(&p.Limits[i].Rows[k], s, 1)
							if a > 0 || b < 0 {
								square += math.Pow(math.Min(math.Abs(a), math.Abs(b)), 2)
							}
						}
						if math.Sqrt(square) > radius(&p.Limits[i]) {
							return
						}
					}
					require.Fail(t, "a point was missed", "curved %v, problem %d: %v", curved, n, s)
				})
				continue
			}
			some++
			w := p.newWalk(1, lo, hi, use)
			if curved || w == nil {
				continue
			}
			for i := range p.Limits {
				row := &p.Limits[i].Rows[0]
				free := 0.0 // what variables may do that are no unknowns by themselves
				for _, term := range row.Terms {
					v := &p.Vars[term.Var]
					switch u := w.of[term.Var]; {
					case u >= 0 && len(w.blocks[v.Block].vars[u]) > 1 && p.within(row):
						free = math.Inf(1) // one unknown, with an effect of each of its variables
					case u < 0:
						free += math.Abs(term.Coefficient) * v.Step * math.Max(-float64(lo[term.Var]), float64(hi[term.Var]))
					}
				}
				require.LessOrEqual(t, math.Abs(p.value(row, got.Steps, 0)), radius(&p.Limits[i])+free+1e-6,
					"problem %d: %v", n, got.Steps)
			}
			for j := range p.Vars {
				if u := w.of[j]; u >= 0 && len(w.blocks[p.Vars[j].Block].vars[u]) == 1 {
					require.False(t, p.Vars[j].Bars(got.Steps[j]), "problem %d, variable %d: %v", n, j, got.Steps)
				}
			}
		}
		t.Logf("curved %v: none %d, some %d", curved, none, some)
		assert.Greater(t, none, cases.Draws(25, 150))
		assert.Greater(t, some, cases.Draws(8, 60))
	}
}

// within says whether a row is of one block.
func (p *Problem) within(r *Row) bool {
	for _, t := range r.Terms {
		if p.Vars[t.Var].Block != p.Vars[r.Terms[0].Var].Block {
			return false
		}
	}
	return true
}

// By hand: a of 0 to 9 and b of 0 to 9 steps of 1.5 are to be 1.4 apart and to come to 6.9. At a = 4, b = 3 they are
// 0.4 and 0.1 off, and nowhere less. Where b is longer by a tenth of its square it is a = 5, b = 3 that are 0.3 and
// 1.1 off. As loose as that square makes the limit in the whole box, 18, every use would do.
func TestWalkByHand(t *testing.T) {
	problem := func(off []Curve) *Problem {
		return &Problem{
			Vars: []Var{{Block: 0, Way: 1, Step: 1, Hi: 9}, {Block: 1, Way: 1, Step: 1.5, Hi: 13.5}},
			Limits: []Limit{
				{Radius: 1, Shared: true, Rows: []Row{{Constant: -1.4, Terms: []Term{{0, 1}, {1, -1}}, Off: off}}},
				{Radius: 1, Shared: true, Rows: []Row{{Constant: -6.9, Terms: []Term{{0, 1}, {1, 1}}}}},
			},
		}
	}
	lo, hi := Steps{0, 0}, Steps{9, 9}
	p := problem(nil)
	assert.True(t, p.Walk(1, lo, hi, 0.3999, plenty()).None)
	assert.Equal(t, Steps{4, 2}, p.Walk(1, lo, hi, 0.4001, plenty()).Steps)
	assert.Equal(t, Walked{}, p.Walk(2, lo, hi, 0.4, plenty()), "no variable goes that way")
	few := 3
	assert.Equal(t, Walked{}, p.Walk(1, lo, hi, 0.3999, &few), "the work has run out")
	assert.Negative(t, few)

	bent := problem([]Curve{{Sum: []Bend{{A: 0, B: 0, By: 0.1, Mean: -0.1}}}})
	bent.Turns, bent.TurnMost = []Row{{Terms: []Term{{1, 1}}}}, []float64{20}
	assert.True(t, bent.Walk(1, lo, hi, 1.0999, plenty()).None)
	assert.Equal(t, Steps{5, 2}, bent.Walk(1, lo, hi, 1.1001, plenty()).Steps)
	// Where b is longer by 0.05 to 0.15 of its square and a + b = 8, a = 5 and b = 3 may be where they are to be. With
	// the mean alone they are 0.3 off.
	bent.Limits[0].Rows[0].Off[0].Sum[0] = Bend{A: 0, B: 0, By: 0.15, Mean: -0.1}
	bent.Limits[1].Rows[0].Constant = -8
	assert.Equal(t, Steps{5, 2}, bent.Walk(1, lo, Steps{9, 2}, 0.01, plenty()).Steps)
	assert.True(t, bent.Walk(1, lo, Steps{9, 1}, 0.01, plenty()).None)
}
