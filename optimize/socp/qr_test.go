package socp

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Cholesky of V'V and rotation of V must give the same triangle, up to the sign
// of a column of L.
func TestFactorsAgree(t *testing.T) {
	var s Solver
	for seed := range 20 {
		rng := rand.New(rand.NewPCG(uint64(seed), 2))
		s.layout.arrange(chainOf(1+seed%6, 0.5, rng), 1e-9)
		s.prepare()
		for e := range s.v {
			s.v[e] = rng.NormFloat64()
		}
		var a, b factor
		a.envelope(&s.layout)
		b.envelope(&s.layout)
		a.normal(&s.layout, s.v)
		a.cholesky()
		s.qr.factorize(&s.layout, &b, s.v)
		for i, first := range a.first {
			for j := first; j <= i; j++ {
				sign := math.Copysign(1, b.val[b.at[j]+j])
				v := b.val[b.at[i]+j] * sign
				require.True(t, finite(v))
				require.InDelta(t, a.val[a.at[i]+j], v, 1e-10, "seed %d, entry %d %d", seed, i, j)
			}
		}
	}
}

// Läuchli's matrix (1 1, e 0, 0 e): R = (1 1, 0 e√2) up to e². With e = 1e-9 the
// square of e is lost in V'V, where Cholesky can only find a vanished pivot.
func TestRotationsKeepTwiceTheDigits(t *testing.T) {
	const e = 1e-9
	var s Solver
	s.layout.arrange(program([]float64{1, 1}, 1, rows{{1, 1, 0}}, rows{{1, 0, 0}}, rows{{0, 1, 0}}), 1e-9)
	s.prepare()
	v := []float64{1, 1, e, e}
	s.factor.normal(&s.layout, v)
	s.factor.cholesky()
	assert.Zero(t, s.factor.val[2])
	s.qr.factorize(&s.layout, &s.factor, v)
	require.Len(t, s.factor.val, 3)
	assert.InDelta(t, 1, s.factor.val[0], 1e-15)
	assert.InDelta(t, 1, s.factor.val[1], 1e-15)
	assert.InEpsilon(t, 1/(e*math.Sqrt2), math.Abs(s.factor.val[2]), 1e-12)
}

// The second attempt by itself must find what the first finds, and the third
// what lies within Relaxation of it.
func TestLaterAttempts(t *testing.T) {
	var s Solver
	for seed := range 20 {
		p := chainOf(1+seed%6, 0.8, rand.New(rand.NewPCG(uint64(seed), 9)))
		want := s.Solve(p, Settings{})
		require.Equal(t, 1, want.Attempts)

		s.prepare()
		require.Equal(t, Optimal, s.attempt(true))
		got := s.result(p, Optimal)
		sound(t, p, got)
		bounds(t, p, got)
		require.InDelta(t, want.Value, got.Value, 4e-9*math.Max(1, want.Value))

		s.prepare()
		s.relax()
		require.Equal(t, Optimal, s.attempt(true))
		got = s.result(p, Optimal)
		got.Relaxed = true
		sound(t, p, got)
		bounds(t, p, got)
		require.InDelta(t, want.Value, got.Value, 1e-6*math.Max(1, want.Value))
		require.LessOrEqual(t, got.Bound, want.Value*(1+4e-9))
	}
}
