package mip

import (
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// listed are one or more steps of a range, ascending.
func listed(r *rand.Rand, from, to int) []int {
	only := []int{from + r.IntN(to-from+1)}
	for n := from; n <= to; n++ {
		if r.IntN(2) == 0 {
			only = append(only, n)
		}
	}
	slices.Sort(only)
	return slices.Compact(only)
}

func TestBarsByHand(t *testing.T) {
	v := Var{Least: 3}
	for n, barred := range map[int]bool{-3: false, -2: true, -1: true, 0: false, 1: true, 2: true, 3: false} {
		assert.Equal(t, barred, v.Bars(n), "%d steps, at least 3", n)
	}
	v.Only = []int{-4, 1, 2, 7}
	for n, barred := range map[int]bool{-5: true, -4: false, 0: true, 1: false, 3: true, 7: false, 8: true} {
		assert.Equal(t, barred, v.Bars(n), "%d steps, listed; the least says nothing", n)
	}
	lo, hi := v.Shut(-3, 6)
	assert.Equal(t, [2]int{1, 2}, [2]int{lo, hi})
	lo, hi = v.Shut(3, 6)
	assert.Greater(t, lo, hi, "nothing between 2 and 7")
	below, above := v.Around(3.5)
	assert.Equal(t, [2]int{2, 7}, [2]int{below, above})
}

// Against looking through all steps.
func TestListedSteps(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 4))
	for range 3000 {
		v := Var{Only: listed(r, -9, 9)}
		may := func(n int) bool { return slices.Contains(v.Only, n) }

		lo := r.IntN(25) - 12
		hi := lo + r.IntN(13-lo)
		first, last := hi+1, lo-1
		for n := lo; n <= hi; n++ {
			if may(n) {
				first, last = min(first, n), max(last, n)
			}
		}
		a, b := v.Shut(lo, hi)
		if first > last {
			require.Greater(t, a, b, "%v in %d..%d", v.Only, lo, hi)
		} else {
			require.Equal(t, [2]int{first, last}, [2]int{a, b}, "%v in %d..%d", v.Only, lo, hi)
		}

		value := 24*r.Float64() - 12
		if r.IntN(4) == 0 {
			value = float64(r.IntN(25) - 12)
		}
		below, above := v.Around(value)
		require.True(t, float64(below) <= value && value < float64(above))
		for n := below + 1; n < above; n++ {
			require.False(t, may(n), "%v between %d and %d", v.Only, below, above)
		}
		if value >= float64(v.Only[0]) {
			require.True(t, may(below))
		}
		if value < float64(v.Only[len(v.Only)-1]) {
			require.True(t, may(above))
		}

		from, by := r.IntN(25)-12, 1+r.IntN(2)
		if r.IntN(2) == 0 {
			by = -by
		}
		to, ok := v.Hop(from, by)
		passed := 0
		for n := from; n != to; {
			if by > 0 {
				n++
			} else {
				n--
			}
			if may(n) {
				passed++
			}
		}
		beyond := 0
		for _, n := range v.Only {
			if by > 0 && n > from || by < 0 && n < from {
				beyond++
			}
		}
		require.Equal(t, beyond >= max(by, -by), ok, "%v from %d by %d", v.Only, from, by)
		if ok {
			require.True(t, may(to))
			require.Equal(t, max(by, -by), passed, "%v from %d by %d", v.Only, from, by)
		}
	}
}

// A box without a step that a variable may take is empty, limits or none.
func TestNothingListed(t *testing.T) {
	p := &Problem{Vars: []Var{{Step: 1, Only: []int{-4, 4}}}}
	assert.False(t, p.Narrow(Steps{-3}, Steps{3}, 1, 0))
	assert.True(t, p.Narrow(Steps{-3}, Steps{4}, 1, 0))
}
