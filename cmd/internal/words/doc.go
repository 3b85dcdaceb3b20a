// Package words turns values of a train, in mm, mrad and shares, into numbers with units and into the words
// of pages: one rounding and one wording for each kind of fact, whatever page has it.
//
// Values are never rounded to the pleasant side: what a plan uses, totals and shares of a limit go up; bounds and
// room that is left go down; moves and shim packs go to whole steps, which they are on already.
package words
