package mip

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// By hand: |x + y − 4| ≤ 1 with x in 0..9 and y in 0..2 leaves x ≥ 3 − 2 = 1
// and x ≤ 5 − 0.
func TestNarrowByHand(t *testing.T) {
	p := &Problem{
		Vars:   []Var{{Step: 1}, {Step: 1}},
		Limits: []Limit{{Rows: []Row{{Terms: []Term{{0, 1}, {1, 1}}, Constant: -4}}, Radius: 1}},
	}
	lo, hi := Steps{0, 0}, Steps{9, 2}
	require.True(t, p.Narrow(lo, hi, 1, 0))
	assert.Equal(t, Steps{1, 0}, lo)
	assert.Equal(t, Steps{5, 2}, hi)
	lo, hi = Steps{0, 0}, Steps{0, 2}
	assert.False(t, p.Narrow(lo, hi, 1, 0), "0 and at most 2 are less than 3")
	lo, hi = Steps{0, 0}, Steps{0, 2}
	assert.True(t, p.Narrow(lo, hi, 1, 1), "a limit twice as wide lets 2 through")
	p.Limits[0].Shared = true
	lo, hi = Steps{0, 0}, Steps{9, 2}
	require.True(t, p.Narrow(lo, hi, 0.5, 0))
	assert.Equal(t, Steps{2, 4}, Steps{lo[0], hi[0]}, "3.5 − 2 = 1.5 and 4.5 − 0")
}

// Nothing that keeps the limits is lost, and a smaller box ends smaller.
func TestNarrowLosesNoPoint(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 3))
	narrowed := 0
	for range 2000 {
		p := &Problem{}
		for range 3 {
			v := Var{Step: 0.05 + r.Float64(), Least: r.IntN(3)}
			if r.IntN(3) == 0 {
				v.Only = listed(r, -4, 4)
			}
			p.Vars = append(p.Vars, v)
		}
		for range 2 {
			l := Limit{Radius: 0.2 + r.Float64(), Shared: r.IntN(2) == 0}
			for range 1 + r.IntN(3) {
				l.Rows = append(l.Rows, Row{Constant: 2*r.Float64() - 1, Terms: []Term{{0, 2*r.Float64() - 1},
					{1, 2*r.Float64() - 1}, {2, 2*r.Float64() - 1}}})
			}
			p.Limits = append(p.Limits, l)
		}
		lo, hi := Steps{-3, -3, -3}, Steps{3, 3, 3}
		left := p.Narrow(lo, hi, 0.7, 0)
		for x := -3; x <= 3; x++ {
			for y := -3; y <= 3; y++ {
				for z := -3; z <= 3; z++ {
					s := Steps{x, y, z}
					if !keeps(p, s, 0.7) {
						continue
					}
					require.True(t, left)
					for j := range s {
						require.True(t, lo[j] <= s[j] && s[j] <= hi[j], "%v is outside %v..%v", s, lo, hi)
					}
				}
			}
		}
		if !left || lo[0] > -3 || hi[0] < 3 {
			narrowed++
		}
		smallLo, smallHi := Steps{-3, -3, -2}, Steps{3, 2, 3}
		if p.Narrow(smallLo, smallHi, 0.7, 0) {
			require.True(t, left)
			for j := range lo {
				require.True(t, smallLo[j] >= lo[j] && smallHi[j] <= hi[j])
			}
		}
	}
	assert.Greater(t, narrowed, 500, "the boxes drawn must mostly be narrowed")
}

func keeps(p *Problem, s Steps, use float64) bool {
	for j, v := range p.Vars {
		if v.Only != nil && !slices.Contains(v.Only, s[j]) {
			return false
		}
		if m := v.Least; v.Only == nil && s[j] != 0 && s[j] < m && -s[j] < m {
			return false
		}
	}
	for _, l := range p.Limits {
		var square float64
		for _, r := range l.Rows {
			v := r.Constant
			for _, t := range r.Terms {
				v += t.Coefficient * p.Vars[t.Var].Step * float64(s[t.Var])
			}
			square += v * v
		}
		radius := l.Radius
		if l.Shared {
			radius *= use
		}
		if math.Sqrt(square) > radius {
			return false
		}
	}
	return true
}
