// Package robust says how likely a plan is to end within the coupling limits, and plans for a
// probability of it. Errors are those of the train file's [errors].
//
// About the plan, a misalignment in shares of its limit is
//
//	s = s₀ + J e,  e ~ N(0, I)
//
//	s₀  share of the limit (signed), what the plan leaves by true geometry; one or two rows a limit
//	J   Jacobian: share a standard deviation (errorjacobian.go)
//	e   errors in standard deviations, a half-width (95 %) over 1.96; independent, Gaussian
//
// A limit is kept where |s| ≤ 1: the length of its two rows, or each of them. MonteCarlo
// counts draws of e in which all are kept; of n draws a share p has the standard error
// √(p(1−p)/n). MakeChanceConstrained shortens every limit to 1 − kσ, with σ the largest standard
// deviation of its own s in any direction, and looks for the smallest k that is enough
// (backoff.go, backoffsearch.go). Lengths are in mm, angles in mrad.
//
// Backing limits off for chance constraints is common practice; no source.
package robust
