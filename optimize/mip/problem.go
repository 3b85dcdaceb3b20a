// Package mip states the problem that a train's plan comes down to: a point
// of the integer points that keeps every limit at the least cost. It knows numbers only;
// what they mean is the caller's. Package bnb looks for the point, package
// certify proves what can be said of it, and neither needs the other.
//
// Over x with every x_j a whole multiple of its step:
//
//	minimise    Σ weight_j |x_j| + slope_j x_j + Σ fixed_b over the blocks b with any x_j ≠ 0
//	subject to  lo_j ≤ x_j ≤ hi_j
//	            |rows_i x + constants_i| ≤ radius_i          for limits of their own
//	            |rows_i x + constants_i| ≤ use × radius_i    for limits that share the use
//
// where |·| is the Euclidean length over a limit's one to three rows. Or, the
// other way round, minimise the use under a cap on the cost.
//
// A variable may further be barred from all but 0 near 0, or from all but some
// listed steps.
//
// Variables are numbered along a chain: those of one block stand together, and
// a limit is of one block or of two neighbours.
package mip

import "math"

// A Problem is a chain of blocks of variables with limits on them.
type Problem struct {
	Vars      []Var // block by block along the chain
	Limits    []Limit
	FixedCost []float64 // of each block, 0 or more: cost of setting any of its variables at all; nil: none
	// Turns are what rows that stand for more than affine functions are curved in (see
	// Curve); nil: none does.
	Turns []Row
	// TurnMost is the largest size of each turn at a point that keeps all limits.
	TurnMost []float64
}

// A Var is one number to be set.
type Var struct {
	Block  int     // along the chain, ascending
	Weight float64 // cost of one unit of |x|, 0 or more
	// Slope is the cost of one unit of x, signed: of a part of a chain, what its neighbours pull by (see Part); else 0.
	Slope  float64
	Step   float64 // x is a whole multiple of it, more than 0
	Lo, Hi float64 // finite
	// Way numbers, from 1, the variables that leave neighbouring blocks as they are to each other where all of a way
	// change by as much; 0: none.
	Way   int
	Least int // x is 0 or at least so many steps off it; below 2 it says nothing
	// Only are the steps that x may take, ascending, at least one; nil: any. Those
	// outside Lo..Hi are idle. Where there are any, Least says nothing.
	Only []int
}

// A Limit holds the length of its rows' values within a radius.
type Limit struct {
	Rows   []Row   // one to three; one row holds |row| ≤ radius
	Radius float64 // more than 0
	Shared bool    // the radius is multiplied by the use
}

// A Row is an affine function of the variables.
type Row struct {
	Terms    []Term
	Constant float64
	Off      []Curve // how far it is from what it stands for, the closest first; nil: not at all
}

// A Term is one variable times a number.
type Term struct {
	Var         int
	Coefficient float64
}

// A Goal is what to minimise, and under what.
type Goal struct {
	LeastUse bool    // minimise the use instead of the cost
	Use      float64 // least cost: the use that the shared limits may take up
	MostUse  float64 // least use: no point is wanted beyond this use
	Cap      float64 // least use: most cost allowed; +Inf: any
}

// Steps are an integer point: x_j = Steps[j] × Step_j.
type Steps []int

// Key is a string that two points share only when they are the same.
func (s Steps) Key() string {
	b := make([]byte, 0, 3*len(s))
	for _, n := range s {
		b = append(b, byte(n), byte(n>>8), byte(n>>16))
	}
	return string(b)
}

// LastBlock is the last block of a limit of the problem; 0 where it has
// none.
func (p *Problem) LastBlock(l *Limit) int {
	last := 0
	for _, row := range l.Rows {
		for _, t := range row.Terms {
			last = max(last, p.Vars[t.Var].Block)
		}
	}
	return last
}

// Only is the problem with some of its limits, in the order given; nil: with all of them.
func (p *Problem) Only(limits []int) *Problem {
	if limits == nil {
		return p
	}
	out := *p
	out.Limits = make([]Limit, len(limits))
	for n, i := range limits {
		out.Limits[n] = p.Limits[i]
	}
	return &out
}

// Fix leaves the variable alone: an empty range where it must not be 0.
func (v *Var) Fix() { v.Lo, v.Hi = math.Max(v.Lo, 0), math.Min(v.Hi, 0) }
