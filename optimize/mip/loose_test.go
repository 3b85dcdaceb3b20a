package mip

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
)

// By hand: a row that stands for x + y²/2 off by at most y²/2, y up to 3 in the box 1..3 of
// steps of 0.5 and thus up to 1.5: 1.125 as a whole. Two rows of 3 and 4 are off by 5.
func TestLooseByHand(t *testing.T) {
	y := Row{Terms: []Term{{Var: 1, Coefficient: 1}}}
	half := Curve{Caps: []Cap{{Turn: 0, Most: 2}}, Sum: []Bend{{A: 0, B: 0, By: 0.5}}}
	wide := Curve{Caps: []Cap{{Turn: 0, Most: 8}}, Fixed: 1, Sum: []Bend{{A: 0, B: -1, By: 2}}}
	p := &Problem{
		Vars:     []Var{{Weight: 1, Step: 1, Lo: -9, Hi: 9}, {Weight: 2, Step: 0.5, Lo: -9, Hi: 9}},
		Turns:    []Row{y},
		TurnMost: []float64{6},
		Limits: []Limit{
			{Radius: 1, Rows: []Row{{Terms: []Term{{Var: 0, Coefficient: 1}}, Off: []Curve{half, wide}}}},
			{Radius: 1, Rows: []Row{{Off: []Curve{{Fixed: 3}}}, {Off: []Curve{{Fixed: 4}}}}},
			{Radius: 1, Rows: []Row{{Terms: []Term{{Var: 0, Coefficient: 1}}}}},
			{Radius: 1, Rows: []Row{{Off: []Curve{half}}}},
		},
	}
	assert.InDeltaSlice(t, []float64{1.125, 5, 0, 1.125}, p.Loose(Steps{0, 1}, Steps{0, 3}), 1e-7)
	loose := p.Loose(Steps{0, -1}, Steps{0, 6})
	assert.InDelta(t, 1+2*3, loose[0], 1e-7, "beyond 2 the wider curve, by 3")
	assert.InDelta(t, 1+2*3, p.Loose(Steps{0, -6}, Steps{0, 1})[0], 1e-7, "the other way as well")
	assert.True(t, math.IsInf(loose[3], 1), "beyond 2 nothing is known")
	loose = p.Loose(Steps{0, 0}, Steps{0, 18})
	assert.InDelta(t, 1+2*6, loose[0], 1e-7, "no more than a turn may be at all")

	lo, hi := Steps{-9, -18}, Steps{9, 18}
	assert.True(t, p.Afford(lo, hi, 4.5))
	assert.Equal(t, Steps{-4, -4}, lo, "4 of 1 or 4 of 1 a step; the next costs 5")
	assert.Equal(t, Steps{4, 4}, hi)
	lo, hi = Steps{5, 0}, Steps{9, 18}
	assert.False(t, p.Afford(lo, hi, 4.5))
}

// What is paid for is never less than what rows are off at a point, whatever the pulls, the turns that are paid for and
// the box; and in a smaller box no point pays more.
func TestPaidIsEnough(t *testing.T) {
	r := rand.New(rand.NewPCG(20, 11))
	more := 0
	for n := range 300 {
		p := &Problem{}
		row := func() Row {
			out := Row{Constant: r.NormFloat64()}
			for j := range p.Vars {
				out.Terms = append(out.Terms, Term{Var: j, Coefficient: r.NormFloat64()})
			}
			return out
		}
		for range 3 {
			p.Vars = append(p.Vars, Var{Weight: 1, Step: 0.5, Lo: -5, Hi: 5})
		}
		for range 3 {
			p.Turns, p.TurnMost = append(p.Turns, row()), append(p.TurnMost, 8)
		}
		pull := []float64{r.NormFloat64(), 0, r.NormFloat64()}
		for range pull {
			off := Curve{Fixed: r.Float64(), Sum: []Bend{{A: r.IntN(3), B: r.IntN(3), By: r.Float64()},
				{A: r.IntN(3), B: -1, By: r.Float64()}}}
			l := row()
			l.Off = []Curve{off}
			p.Limits = append(p.Limits, Limit{Radius: 1, Rows: []Row{l}})
		}
		turns := [][]int{{}, {0}, {1, 2}, {0, 1, 2}}[n%4]
		at := func(s Steps) (off, paid func(lo, hi Steps) float64) {
			size := func(a int) float64 {
				v := p.Turns[a].Constant
				for _, term := range p.Turns[a].Terms {
					v += term.Coefficient * p.Vars[term.Var].Step * float64(s[term.Var])
				}
				return math.Abs(v)
			}
			off = func(_, _ Steps) float64 {
				sum := 0.0
				for i, u := range pull {
					c := p.Limits[i].Rows[0].Off[0]
					sum += math.Abs(u) * (c.Fixed + c.Sum[0].By*size(c.Sum[0].A)*size(c.Sum[0].B) + c.Sum[1].By*size(c.Sum[1].A))
				}
				return sum
			}
			paid = func(lo, hi Steps) float64 {
				sum, each := p.Paid(pull, turns, lo, hi)
				for j, by := range each {
					sum += by * p.Vars[j].Step * math.Abs(float64(s[j]))
				}
				return sum
			}
			return off, paid
		}
		lo, hi := Steps{-9, -2, 3}, Steps{4, 2, 9}
		s := Steps{r.IntN(14) - 9, r.IntN(5) - 2, 3 + r.IntN(7)}
		for a := range p.Turns { // no point is asked about at which a turn is larger than it may be
			low, high, _ := p.span(&p.Turns[a], lo, hi)
			p.TurnMost[a] = max(-low, high)
		}
		off, paid := at(s)
		assert.LessOrEqual(t, off(lo, hi), paid(lo, hi)*(1+1e-12), "problem %d", n)
		assert.LessOrEqual(t, paid(s, s), paid(lo, hi)*(1+1e-12), "problem %d", n)
		if off(lo, hi) < 0.9*paid(lo, hi) {
			more++
		}
	}
	assert.Less(t, more, 300, "at some points little more is paid than what they are off")
}
