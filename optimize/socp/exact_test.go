package socp

import (
	"math"
	"math/big"
	"testing"

	"github.com/stretchr/testify/require"
)

func rat(v float64) *big.Rat { return new(big.Rat).SetFloat64(v) }

// exactBound is −h'z − Σ |w c_j + (G'z)_j| b_j in exact arithmetic, after a check
// that z is in K exactly.
func exactBound(t *testing.T, p *Program, z []float64, w float64) *big.Rat {
	t.Helper()
	left := make([]*big.Rat, len(p.Cost))
	for j, c := range p.Cost {
		left[j] = new(big.Rat).Mul(rat(w), rat(c))
	}
	sum := new(big.Rat)
	row := 0
	for _, d := range p.Cones {
		head := rat(z[row])
		require.GreaterOrEqual(t, head.Sign(), 0)
		square := new(big.Rat).Mul(head, head)
		for i := row; i < row+d; i++ {
			v := rat(z[i])
			if i > row {
				square.Sub(square, new(big.Rat).Mul(v, v))
			}
			sum.Sub(sum, new(big.Rat).Mul(rat(p.H[i]), v))
			for e := p.Start[i]; e < p.Start[i+1]; e++ {
				left[p.Col[e]].Add(left[p.Col[e]], new(big.Rat).Mul(rat(p.Val[e]), v))
			}
		}
		require.GreaterOrEqual(t, square.Sign(), 0, "z outside its cone at row %d", row)
		row += d
	}
	for j, v := range left {
		if v.Sign() == 0 {
			continue
		}
		require.False(t, math.IsInf(p.Bound[j], 1))
		sum.Sub(sum, new(big.Rat).Mul(v.Abs(v), rat(p.Bound[j])))
	}
	return sum
}

// proves checks a ray of an infeasible program in exact arithmetic.
func proves(t *testing.T, p *Program, z []float64) {
	t.Helper()
	require.Equal(t, 1, exactBound(t, p, z, 0).Sign())
}

// bounds checks a lower bound on the optimum in exact arithmetic.
func bounds(t *testing.T, p *Program, r Result) {
	t.Helper()
	require.LessOrEqual(t, rat(r.Bound).Cmp(exactBound(t, p, r.Z, 1)), 0)
}
