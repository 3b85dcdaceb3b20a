// Package socp solves small sparse cone programs. It knows numbers only.
//
// The problem, over x in Rⁿ:
//
//	minimise    c'x
//	subject to  Gx + s = h,  s ∈ K,
//
// with K a product of half-lines {s ≥ 0} (dimension 1) and second-order cones
// {(t, u): |u| ≤ t} (dimension d ≥ 2, head t first, |·| the Euclidean length).
// G is m × n. Its dual, over z in Rᵐ, with the same K:
//
//	maximise    −h'z
//	subject to  G'z + c = 0,  z ∈ K.
//
// Every z ∈ K bounds the optimum from below, dual feasible or not, wherever
// |x_j| ≤ b_j is known beforehand:
//
//	c'x ≥ −h'z − Σ_j |c_j + (G'z)_j| b_j
//
// and with c = 0 a positive right-hand side proves that no x is feasible
// (Neumaier and Shcherbina, Mathematical Programming 99, 2004; Jansson, SIAM
// Journal on Optimization 18, 2007). Solve evaluates this with all rounding
// errors counted; see Result.Bound.
//
// Method: interior points on the homogeneous self-dual embedding, with
// Nesterov-Todd scaling, predictor and corrector (Andersen, Roos and Terlaky,
// Mathematical Programming 95, 2003; Nesterov and Todd, Mathematics of
// Operations Research 22, 1997; Vandenberghe, "The CVXOPT linear and quadratic
// cone program solvers", 2010; Domahidi, Chu and Boyd, European Control
// Conference 2013). Linear systems are factored within the envelope of G'G:
// number the variables so that those which share a cone stand near each other.
// Along a chain a step then takes time in proportion to the chain's length.
//
// The caller sees to it that c'x is bounded below on the feasible set. No
// status says "unbounded"; such a program ends as Uncertain.
//
// The same program and settings give the same bits on the same processor
// architecture, whatever the Solver solved before.
package socp

import (
	"fmt"
	"math"
	"slices"
)

// A Program is the data of one cone program, n variables and m rows. Units are
// the caller's; numbers near 1 suit the tolerances best.
type Program struct {
	Cost  []float64 // c, n values
	Cones []int     // dimensions of the cones in the order of the rows, sum m
	Start []int     // row i of G holds entries Start[i] to Start[i+1]-1; m+1 values
	Col   []int     // column of each entry; a row names a column once at most
	Val   []float64 // value of each entry
	H     []float64 // h, m values, finite
	// Bound holds b, n values: |x_j| ≤ b_j, 0 or more, is known to hold at every
	// feasible point. +Inf where unknown. It limits nothing; it pays for
	// residuals in Result.Bound and in proofs of infeasibility.
	Bound []float64
}

// Settings of a solve. The zero value is the default.
type Settings struct {
	// Stop ends the solve with status CutOff once Result.Bound > Cutoff.
	Stop   bool
	Cutoff float64 // in units of c'x; used with Stop only
	// Ended ends the solve as Uncertain, with what is known then; it is asked at every
	// iteration. nil: it goes on.
	Ended func() bool
	// Tolerance of the exit tests; 0 means DefaultTolerance. With t the tolerance:
	//
	//	|h − Gx − s| ≤ t max(1, largest |h| of its cone)   in every row
	//	|c + G'z| ≤ t max(1, largest |c_j|)                in every column
	//	|c'x + h'z| ≤ t max(1, |c'x|)
	Tolerance float64
	// MaxIterations of each of the three attempts; 0 means DefaultIterations.
	MaxIterations int
}

const (
	// DefaultTolerance of the exit tests.
	DefaultTolerance = 1e-9
	// DefaultIterations is the limit on the iterations of one attempt. 10 to 20
	// are usual.
	DefaultIterations = 80
	// Relaxation is how far the last attempt moves every half-line and the head
	// of every second-order cone outwards: by Relaxation × max(1, largest |h| of
	// the cone), in units of h.
	Relaxation = 1e-9
)

// Status says how a solve ended.
type Status int

const (
	// Unsolved is the status of a Result that Solve did not make.
	Unsolved Status = iota
	// Optimal: x and z pass the exit tests.
	Optimal
	// Infeasible: Z is a ray that shows that no x is feasible. With Bound = +Inf
	// it is proven, rounding included. With Bound = -Inf it holds to the
	// tolerance only, as some |x_j| is not known to be bounded.
	Infeasible
	// CutOff: Bound is above Settings.Cutoff. Z is the proof.
	CutOff
	// Uncertain: every attempt stalled. X, S and Z are the best seen, if any,
	// and Bound is rigorous all the same.
	Uncertain
)

func (s Status) String() string {
	switch s {
	case Unsolved:
		return "unsolved"
	case Optimal:
		return "optimal"
	case Infeasible:
		return "infeasible"
	case CutOff:
		return "cut off"
	case Uncertain:
		return "uncertain"
	}
	return fmt.Sprintf("Status(%d)", int(s))
}

// A Result is what Solve found. Its slices are its own.
type Result struct {
	Status Status
	X      []float64 // n values; nil with Infeasible and CutOff
	S      []float64 // m values in K, h − Gx to the tolerance; nil where X is
	// Z holds m values in K, exactly. It is the z behind Bound: the multipliers,
	// or the ray of an infeasible program. Nil if there is none.
	Z     []float64
	Value float64 // c'x; NaN where X is nil
	// Bound is a lower bound on the optimum that holds with every rounding
	// error counted, on the program as given. -Inf if there is none, +Inf if
	// infeasibility is proven.
	Bound float64
	// Relaxed says that X and S belong to the program with its cones moved
	// outwards by Relaxation: the last resort where the feasible set has hardly
	// an interior. X may then be outside by that much, also where nothing is
	// feasible by less than that, and Value below the optimum and below Bound.
	// Z was found on the larger set, but Bound and proofs are for the program as
	// given: h alone has changed, and any z in K is as good.
	Relaxed bool
	// Attempts made: 1 Cholesky, 2 then orthogonal factors, 3 then relaxed.
	Attempts   int
	Iterations int // in all attempts
}

// Check reports what is malformed in a program, nil if nothing. Solve panics on
// a malformed program.
func (p *Program) Check() error {
	n, m := len(p.Cost), len(p.H)
	if len(p.Bound) != n {
		return fmt.Errorf("socp: %d bounds for %d variables", len(p.Bound), n)
	}
	for j, c := range p.Cost {
		if !finite(c) {
			return fmt.Errorf("socp: cost %v of variable %d", c, j)
		}
		if !(p.Bound[j] >= 0) {
			return fmt.Errorf("socp: bound %v of variable %d", p.Bound[j], j)
		}
	}
	rows := 0
	for k, d := range p.Cones {
		if d < 1 {
			return fmt.Errorf("socp: dimension %d of cone %d", d, k)
		}
		rows += d
	}
	if rows != m || len(p.Start) != m+1 && (m > 0 || len(p.Start) > 0) {
		return fmt.Errorf("socp: %d rows in cones, %d in H, %d starts", rows, m, len(p.Start))
	}
	if len(p.Val) != len(p.Col) {
		return fmt.Errorf("socp: %d columns for %d values", len(p.Col), len(p.Val))
	}
	for i, h := range p.H {
		if !finite(h) {
			return fmt.Errorf("socp: right-hand side %v of row %d", h, i)
		}
		if p.Start[i] < 0 || p.Start[i] > p.Start[i+1] || p.Start[i+1] > len(p.Col) {
			return fmt.Errorf("socp: row %d has entries %d to %d of %d", i, p.Start[i], p.Start[i+1], len(p.Col))
		}
		last := -1 // largest column so far
		for e := p.Start[i]; e < p.Start[i+1]; e++ {
			if p.Col[e] < 0 || p.Col[e] >= n {
				return fmt.Errorf("socp: column %d of %d in row %d", p.Col[e], n, i)
			}
			if !finite(p.Val[e]) {
				return fmt.Errorf("socp: value %v in row %d, column %d", p.Val[e], i, p.Col[e])
			}
			if p.Col[e] > last {
				last = p.Col[e]
				continue
			}
			if slices.Contains(p.Col[p.Start[i]:e], p.Col[e]) {
				return fmt.Errorf("socp: row %d names column %d twice", i, p.Col[e])
			}
		}
	}
	return nil
}

func finite(v float64) bool { return math.Abs(v) <= math.MaxFloat64 }
