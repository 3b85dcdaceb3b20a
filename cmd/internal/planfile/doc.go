// Package planfile reads a plan: what `leastmove plan --format json` writes, or
// a short form that a person writes by hand:
//
//	{"units": "mm",
//	 "machines": [
//	   {"name": "turbine", "feet": [
//	     {"name": "exhaust", "up": -0.45, "left": 0.2},
//	     {"name": "steam end left", "up": 0.1}]},
//	   {"name": "gear", "axial": 0.3}]}
//
// What is not named stays. Moves are in the plan's own units (mm, or mils where
// they are "inch"), + up, + left, + toward the last machine; here they are turned
// into mm. A foot may be called by the name of its pair: both feet move then.
//
//	text → tree (tree.go)      every value with its place; size, depth and numbers bounded
//	     → plan (read.go)      what the keys say
//	     → moves (moves.go)    names held against the train
//
// Every fault says where it is, what is wrong and what to do.
package planfile

import (
	"fmt"
	"math"
	"strings"
	"unicode/utf8"

	"leastmove/train"
)

// Schema is the `schema` of a plan.
const Schema = "leastmove.plan/1"

// Options is what Read needs from outside the package.
type Options struct {
	// Nearest is the name that is nearest to a word, "" where none is near. Where
	// nil, nothing is suggested.
	Nearest func(word string, names []string) string
}

// A Fault is what is wrong in a plan.
type Fault struct {
	Line, Column int    // from 1; the column counts characters
	Message      string // one line, with the value and what is allowed
	Hint         string // one line on what to do; may be empty
}

// A Report is all that is wrong in a plan, in the order in which it was found.
type Report []Fault

// Text is every fault, as it is told of a file of that name.
func (r Report) Text(name string) string {
	var b strings.Builder
	for _, f := range r {
		fmt.Fprintf(&b, "%s:%d:%d: error: %s\n", name, f.Line, f.Column, f.Message)
		if f.Hint != "" {
			fmt.Fprintf(&b, "  = %s\n", f.Hint)
		}
	}
	return b.String()
}

// A Plan is what a plan says. Lengths, moves and offsets in mm, angles in mrad;
// NaN: not stated.
type Plan struct {
	Written   bool // by the program: it has a schema
	Status    string
	Machines  []Machine
	Couplings []Coupling
	Packs     []Pieced
	Plain     float64 // mm, sum of all moves, as the plan says it
	plain     int     // bytes from the start of the text
	text      string
	options   Options
}

// A Machine is what is set at one machine.
type Machine struct {
	Name    string
	Feet    []Foot
	Axial   float64 // mm, of the machine as a whole, + toward the last machine
	Level   Level
	Nozzles []Nozzle
	at      int // bytes from the start of the text
	axial   int // the same, of its shift
}

// A Foot is what is set at one foot, or at the two of a pair.
type Foot struct {
	Name      string
	Up, Left  float64 // mm, + shims added, + to the left
	Axial     float64 // mm, shift of the machine as a whole
	X, Y      float64 // mm, where it stands, + left
	Now, Then float64 // mm, the pack before the moves and after them
	Fill, Cut float64 // mm of that change: what fills the gap found under it, what makes up for what is cut off
	Limits    []Limit // what the plan takes up of those that are stated; nil: it does not say
	at        int
}

// A Coupling is what the plan says of one coupling.
type Coupling struct {
	Name, From, To string
	X              float64   // mm, station of the offsets
	Flex           []float64 // mm, stations of the flex planes
	States         []State
	Rest           *Standing          // after the moves, cold and at standstill
	Half           train.Misalignment // 95 % half-widths of what was found
	at             int
	text           string // of the whole plan
}

// Fault is what is wrong with what the plan says of a coupling.
func (c *Coupling) Fault(message, hint string) Fault { return fault(c.text, c.at, message, hint) }

// A State is a coupling in one condition.
type State struct {
	Condition              string
	Found, Planned         Standing
	UseFound, UsePlanned   float64 // worst share of a limit
	WorstFound, WorstAfter string  // of which limit, in words
}

// A Standing is how a coupling's shafts stand to each other.
type Standing struct {
	train.Misalignment
	Gap float64 // mm between shaft ends
}

// unstated is a standing of which nothing is known.
func unstated() Standing {
	t := train.Tilt{Offset: math.NaN(), Angle: math.NaN()}
	return Standing{train.Misalignment{V: t, H: t}, math.NaN()}
}

// fault is one at so many bytes from the start of a text.
func fault(text string, at int, message, hint string) Fault {
	at = min(max(at, 0), len(text))
	line := 1 + strings.Count(text[:at], "\n")
	start := strings.LastIndexByte(text[:at], '\n') + 1
	return Fault{line, 1 + utf8.RuneCountInString(text[start:at]), message, hint}
}
