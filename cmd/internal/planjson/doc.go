// Package planjson has the JSON documents of the commands, each as a Go struct: a
// plan is written from it, read into it, and its JSON Schema is made from it. The
// other commands' documents (check, compare, verify) are written only.
//
// What the tags of a field say:
//
//	json    its key, and whether it may be left out
//	about   what it is, with its sign; the description in the schema
//	unit    of a number: one of the units of unit.go
//	null    "yes": a list that may be null
//	hand    a person may write it: "read", "passed" (not read then) or "only" (the program
//	        never does)
//	read    what reading holds it to: "name" (it must be there), "set" (a move that a
//	        person sets), "shim" (the thickness of one)
//
// A person may write a plan in a short form:
//
//	{"units": "mm",
//	 "machines": [
//	   {"name": "turbine", "feet": [
//	     {"name": "exhaust", "up": -0.45, "left": 0.2},
//	     {"name": "steam end left", "up": 0.1}]},
//	   {"name": "gear", "axial": 0.3}]}
//
// What is not named stays. A foot may be called by the name of its pair: both feet
// move then.
//
//	text → tree (tree.go)              every value with its place; size, depth and numbers bounded
//	     → plan (read.go, decode.go)   the struct, its numbers in the units of the plan
//	     → moves (moves.go)            names held against the train, in mm
//
// Every fault says where it is, what is wrong and what to do.
package planjson
