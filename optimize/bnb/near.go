package bnb

import (
	"context"
	"math"
	"slices"

	"leastmove/optimize/certify"
	"leastmove/optimize/mip"
)

// reach is how many blocks of a chain are solved anew on both sides of what has changed: what happens there is hardly
// felt further away.
const reach = 5

// RelaxNear is Relax of the cost of a problem that differs from another one, of which a relaxation is known, in the
// blocks from..to-1 and the limits on them alone. Of a very long chain only the blocks near these are solved anew: to
// the rest of it they are held by the multipliers of the other problem. The bound is proven all the same, and lower
// than that of Relax by what changes further away. X is the other problem's optimum but for the blocks solved anew, and
// may break limits at their ends.
func RelaxNear(ctx context.Context, p *mip.Problem, goal mip.Goal, other Relaxed, from, to int) Relaxed {
	blocks, l := p.Length(), newGrid(p)
	if goal.LeastUse || blocks <= VeryLong || other.X == nil || other.Proof == nil ||
		len(other.Proof.Certificate.Pull) != len(l.constant) {
		return Relax(ctx, p, goal)
	}
	from, to = max(0, from-reach), min(to+reach, blocks)
	pull := slices.Clone(other.Proof.Certificate.Pull)
	var anew []int // rows of the blocks solved anew
	for i, kept := range p.Within(from, to) {
		for r := l.rowStart[i]; kept && r < l.rowStart[i+1]; r++ {
			anew, pull[r] = append(anew, r), 0
		}
	}
	r := relaxed(ctx, p.Part(from, to, pull, nil), goal, relaxByTangents)
	if r.Proof == nil || r.Proof.Certificate == nil || len(r.Proof.Certificate.Pull) != len(anew) {
		return Relax(ctx, p, goal)
	}
	c := &certify.DualCertificate{Price: r.Proof.Certificate.Price, Pull: pull}
	for j := range c.Pull {
		c.Pull[j] *= c.Price // none, where the blocks alone have no point
	}
	for n, row := range anew {
		c.Pull[row] = r.Proof.Certificate.Pull[n]
	}
	t := tree{judge: &judge{grid: l, goal: goal}, best: math.Inf(1)}
	w := t.weigh(c, l.lo, l.hi)
	out := Relaxed{Bound: w.bound, Proof: &certify.Proof{Certificate: c}}
	if r.Impossible() {
		out.Bound = math.Inf(1)
	}
	if r.X != nil {
		first, last := p.Blocks(from, to)
		out.X = slices.Concat(other.X[:first], r.X, other.X[last:])
	}
	out.Claim = t.claim(out.Bound)
	return out
}

// FindNear is Find of the cost in the blocks near from..to-1 alone, with all others as a point has them that keeps the
// limits away from there. Of a bound it says nothing.
func FindNear(ctx context.Context, p *mip.Problem, goal mip.Goal, at mip.Steps, from, to int, opt Options) Result {
	t := newTree(ctx, p, goal, opt)
	s := t.clip(at)
	from, to = max(0, from-reach), min(to+reach, p.Length())
	first, last := t.first[from], t.first[to]
	whole := func(w mip.Steps) mip.Steps { return slices.Concat(s[:first], w, s[last:]) }
	if accept := opt.Accept; accept != nil {
		opt.Accept = func(w mip.Steps) bool { return accept(whole(w)) }
	}
	opt.Start = nil
	r := Find(ctx, t.horizonProblem(s, from, to, true), goal, opt)
	out := Result{Status: Cut, Value: math.NaN(), Bound: math.Inf(-1), Goal: goal, Solves: r.Solves}
	if r.Steps != nil {
		found := t.at(whole(r.Steps))
		out.Steps, out.Value = found.steps, t.value(&found)
	}
	return out
}
