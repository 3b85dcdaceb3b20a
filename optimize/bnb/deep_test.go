package bnb

import (
	"container/heap"
	"context"
	"math/rand/v2"
	"runtime"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/optimize/certify"
	"leastmove/optimize/mip"
)

// Long searches split several boxes at a time: the same result, proof and work on any number of cores, and a proof that
// holds.
func TestDeepSearchesAreTheSameOnAnyCores(t *testing.T) {
	const most = 9
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(0))
	r := rand.New(rand.NewPCG(29, 11))
	split := 0
	for n := range 12 {
		p := links(r, short+1+n, most)
		var first Result
		for i, cores := range []int{1, 2, 5} {
			runtime.GOMAXPROCS(cores)
			tree := newTree(context.Background(), p, mip.Goal{Use: 1}, Options{Gap: 1e-6, Solves: 2000})
			got := tree.run()
			if got.Steps == nil {
				break
			}
			if i == 0 {
				first = got
				require.NoError(t, certify.Check(p, got.Claim, got.Proof), "problem %d", n)
				if tree.deep && got.Solves > 2*width {
					split++
				}
				continue
			}
			got.Claim.Refuses, first.Claim.Refuses = nil, nil
			assert.Equal(t, first, got, "problem %d on %d cores", n, cores)
		}
	}
	assert.Greater(t, split, 6, "searches that went on")
}

// Of boxes of one level the deepest is next, whatever their bounds; a lower level comes before.
func TestTheDeepestOfOneLevelIsNext(t *testing.T) {
	tree := newTree(context.Background(), links(rand.New(rand.NewPCG(1, 1)), short+1, 9), mip.Goal{Use: 1}, Options{})
	require.Equal(t, 1.0, tree.grain)
	tree.deepen()
	in := func(bound float64, depth int) {
		box := relaxation{bound: bound, lo: tree.lo, hi: tree.hi, proof: &certify.DualCertificate{}}
		tree.push(box, &node{bound: bound, depth: depth - 1})
	}
	in(6.2, 1)
	in(6.9, 4)
	in(5.5, 2)
	in(6.4, 3)
	for _, want := range [][2]float64{{5.5, 2}, {6.9, 4}, {6.4, 3}, {6.2, 1}} {
		n := heap.Pop(&tree.open).(*node)
		assert.Equal(t, want, [2]float64{n.bound, float64(n.depth)})
	}
}
