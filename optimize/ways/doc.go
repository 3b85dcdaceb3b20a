// Package ways plans a train by every strategy, and finds out what stands beside a plan. Make
// is the whole planning: what package optimize finds, with strategy, probability, other
// aims, shadow prices, and why there is none.
//
//	strategy       first what it makes least, then the total T (mm), proven for both
//	subsets        least T where only machines of a set S move, for every S
//	Pareto front   T(u), least total at a share u of the coupling limits
//	shadow price   −dT/dr of a limit r: mm of total a mm (mrad, share) of limit, ≥ 0
//	cascade, line  rules of thumb that look at no limits, as yardsticks
//	pool           plans found for several questions, each answered by the best of all
//
// Without whole steps T(u) is convex and never rises; a share u is a ratio, 1 at the limit.
// Signs are those of package train.
package ways
