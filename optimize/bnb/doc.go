// Package bnb finds whole-step plans: points of a mixed-integer problem that keep
// every limit at the least cost, with a proven lower bound beside them.
//
// Dropping "whole multiple" from the problem leaves a cone program, which
// package socp solves and whose dual gives a lower bound that is rigorous in
// floating point; branch and bound on such bounds does the rest. The chain of
// the variables keeps every linear system banded, so a bound costs time in
// proportion to the number of blocks. Where the cost is to be least and the
// chain is not long, tangents take the place of discs, and package simplex goes
// on from one box to the next. A low use is bounded by walks along the chain as
// well, where whole steps of one block leave few to the next. A long search has scouts split several
// boxes at a time, side by side, and takes what they find in order.
package bnb
