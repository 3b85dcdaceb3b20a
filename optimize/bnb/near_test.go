package bnb

import (
	"context"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/optimize/certify"
	"leastmove/optimize/mip"
	"leastmove/testdata/trains"
)

// Of long links one limit is made wider or closer, or one variable is left at 0. Solved near that alone they have a
// bound that holds for all of them, below that of all solved anew by little of what the change makes; shorter links
// are solved anew whole, and so are those of whose optimum nothing is known.
func TestRelaxNear(t *testing.T) {
	const blocks, most = 60, 9
	r := rand.New(rand.NewPCG(20, 11))
	ctx, goal := context.Background(), mip.Goal{Use: 1}
	var apart, made float64
	seen, impossible := 0, 0
	for n := range trains.Draws(60, 300) {
		p := links(r, blocks, most)
		for i := range p.Limits {
			p.Limits[i].Radius *= 1.3
		}
		at := r.IntN(blocks - 1)
		other := Relax(ctx, p, goal)
		if other.X == nil {
			continue
		}
		to := at + 2
		switch n % 3 {
		case 0:
			p.Limits[at].Radius *= 1.5
		case 1:
			p.Limits[at].Radius *= 0.7
		case 2:
			p.Vars[at].Fix()
			to = at + 1
		}
		whole, near := Relax(ctx, p, goal), RelaxNear(ctx, p, goal, other, at, to)
		require.NotNil(t, near.Proof, "problem %d", n)
		require.NoError(t, certify.Check(p, near.Claim, near.Proof), "problem %d", n)
		if near.Impossible() {
			assert.True(t, whole.Impossible(), "problem %d", n)
			impossible++
		}
		if whole.Impossible() {
			continue
		}
		seen++
		assert.LessOrEqual(t, near.Bound, whole.Bound+1e-6, "problem %d", n)
		apart, made = apart+whole.Bound-near.Bound, made+math.Abs(whole.Bound-other.Bound)
		assert.Equal(t, whole.Bound, RelaxNear(ctx, p, goal, Relaxed{}, at, to).Bound, "problem %d", n)
		for j := range p.Vars {
			if j < at-reach || j >= to+reach {
				assert.Equal(t, other.X[j], near.X[j], "problem %d, %d", n, j)
			}
		}
	}
	assert.Greater(t, seen, 20)
	assert.Greater(t, impossible, trains.Draws(0, 1))
	assert.Greater(t, made, 1.0)
	// A change is felt 1/1.5 as much in the next link, so some of it six links on.
	assert.Less(t, apart, 0.1*made, "of %g", made)

	short := links(r, VeryLong, most)
	for i := range short.Limits {
		short.Limits[i].Radius *= 2
	}
	other := Relax(ctx, short, goal)
	require.NotNil(t, other.X)
	short.Vars[3].Fix()
	assert.Equal(t, Relax(ctx, short, goal), RelaxNear(ctx, short, goal, other, 3, 4))
}

// One block of long links is left at 0, where a plan moves it. Searched near that alone they have a plan that is the
// other one further away, and the least of those; there is none where the links can't go on as they are.
func TestFindNear(t *testing.T) {
	const blocks, most = 40, 9
	r := rand.New(rand.NewPCG(20, 12))
	ctx, goal := context.Background(), mip.Goal{Use: 1}
	found, none := 0, 0
	for n := range trains.Draws(20, 100) {
		p := links(r, blocks, most)
		for i := range p.Limits {
			p.Limits[i].Radius *= 1.3
		}
		plan := Find(ctx, p, goal, Options{Solves: 1}).Steps
		at := r.IntN(blocks)
		if plan == nil || plan[at] == 0 {
			continue
		}
		p.Vars[at].Fix()
		got := FindNear(ctx, p, goal, plan, at, at+1, Options{})
		apart := *p
		apart.Vars = slices.Clone(p.Vars)
		for j := range apart.Vars {
			if v := &apart.Vars[j]; j < at-reach || j > at+reach {
				v.Lo, v.Hi = float64(plan[j]), float64(plan[j])
			}
		}
		want := Find(ctx, &apart, goal, Options{})
		assert.Nil(t, got.Proof, "problem %d", n)
		if want.Status == Impossible {
			assert.Nil(t, got.Steps, "problem %d", n)
			none++
			continue
		}
		require.Equal(t, Least, want.Status, "problem %d", n)
		require.NotNil(t, got.Steps, "problem %d", n)
		found++
		assert.True(t, keeps(p, got.Steps), "problem %d", n)
		assert.Zero(t, got.Steps[at], "problem %d", n)
		assert.InDelta(t, want.Value, got.Value, 1e-9, "problem %d", n)
		for j := range plan {
			if j < at-reach || j > at+reach {
				assert.Equal(t, plan[j], got.Steps[j], "problem %d, %d", n, j)
			}
		}
	}
	assert.Greater(t, found, 3)
	assert.Greater(t, none, 0)
}
