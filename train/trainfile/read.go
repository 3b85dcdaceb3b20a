// Package trainfile reads a train file (TOML) into a train.Train, or says what
// is wrong with it: every fault in one run, in file order, each with its
// place, the value and its unit, what is allowed and what to do.
//
// A file goes through four steps:
//
//	text → tree (package tree)             every value with its place
//	     → sections (section.go, value.go) key by key, against the tables in tables.go: types, units, ranges
//	     → parts (machine.go, ...)         what several keys say together
//	     → train (chain.go, condition.go) what several tables say together, and what is doubtful (warnings.go, usual.go)
//
// Units are converted once, in value.go: from there on every length, move
// and offset is in mm, every angle in mrad, every rise in °C. Messages give
// values as they were typed.
//
// What a file need not say, beyond the defaults in the tables: a held machine
// may have no feet, or feet at one station; any other machine has feet at two
// stations or more. A condition that states no growth has all of it. A nozzle
// may state no limit, which gets a warning. The plane of a coupling is between the
// first foot of its one machine and the last of the other, and gets a warning where
// it is not between the middles of their feet, or far from them. Machines stand in the order in
// which they are listed, by the middles of their feet; couplings may be listed
// in any order.
package trainfile

import (
	"leastmove/train"
	"leastmove/train/spelling"
	"leastmove/train/trainfile/tree"
)

// Options is what Read needs from outside the package.
type Options struct {
	// ClearanceHole is the hole in mm that a standard gives for a bolt in mm
	// and a fit ("fine", "medium", "coarse" or "close", "normal", "loose"), in
	// the series that goes with the units; false where it gives none. Where
	// nil, a file that names a fit has a fault.
	ClearanceHole func(bolt float64, fit string, inch bool) (hole float64, ok bool)
	// Thread is the nominal and the minor diameter in mm of a thread by its
	// name ("M24", "1 1/8 in"), and whether it is one of the inch series; its
	// error is one line on what to write instead. Where nil, a file that names
	// a thread has a fault.
	Thread func(name string) (diameter, minor float64, inch bool, err error)
	// Minor is the minor diameter in mm of the coarse thread with this nominal
	// diameter in mm, in the inch or the metric series; 0 where there is none.
	// Where nil, no minor diameter is known but by a thread's name.
	Minor func(diameter float64, inch bool) float64
	// File is what is in a file that the train file names; its error is one line
	// and says nothing of where it was looked for. Where nil, a file that names
	// another has a fault.
	File func(name string) ([]byte, error)
	// Bands is a file of bands for trains that have none of their own; nil: there
	// is none. Its faults come before those of the train file.
	Bands *File
}

// The most of one kind that a file may hold. A usual machine has four to eight feet and
// a few nozzles, a train two to four conditions.
const (
	mostFeet       = 40
	mostNozzles    = 40
	mostConditions = 40
	mostBases      = 40
	longestName    = 200 // characters
)

// Read reads the text of a train file; name is what faults call it. The train
// is nil if and only if the report has failed; warnings come with a train.
func Read(name string, src []byte, options Options) (*train.Train, Report) {
	f := &File{Name: name, Text: src}
	table := newTables().file
	text, root, bad := f.decode(table)
	r := &reader{source: text, options: options}
	var plant Report
	if options.Bands != nil {
		r.plant, plant = bandFile(options.Bands)
		r.unbanded = plant.Failed()
	}
	if bad != nil {
		return nil, append(plant, r.unread(bad)...)
	}
	t := r.train(root, table)
	r.report = append(plant, r.report.sorted()...)
	if r.report.Failed() {
		return nil, r.report
	}
	return t, r.report
}

// train reads the tables of the file, which the table at its top leads to.
func (r *reader) train(root *tree.Node, table *Table) *train.Train {
	r.findUnits(root)
	root.Key = tree.Span{}
	r.unread(root.Wrong)
	file := r.section(root, table)
	t := &train.Train{Title: file.text("title"), Units: r.units}
	r.settings(t, file)
	machines := r.machines(t, file)
	r.index(t, machines)
	couplings := r.couplings(t, file)
	lines := r.surveyed(t, machines, couplings)
	r.chain(t, machines, couplings, file.good("coupling") && file.good("machine"))
	slides(t)
	r.bases(t, file, machines)
	r.conditions(t, file)
	if t.Aim.Transient > 0 {
		t.Between = t.WarmUp()
	}
	r.warnSurvey(t, lines, machines, couplings)
	r.warnings(t, file, machines, couplings)
	r.warnUnread()
	return t
}

// findUnits looks up the file's units before anything else is read. Its
// faults are found with those of the other keys.
func (r *reader) findUnits(root *tree.Node) {
	n := root.Table["units"]
	r.unknown = true
	if n == nil {
		return
	}
	for _, u := range []train.Units{train.Millimetres, train.Inches} {
		if n.Value == u.String() {
			r.units, r.unknown = u, false
		}
	}
}

// settings reads sides, shims, errors, aim, relief and checks.
func (r *reader) settings(t *train.Train, file *section) {
	sides := file.sub("sides")
	t.Sides = train.Sides{Left: sides.text("left"), Right: sides.text("right")}
	if sides.has("left") && sides.has("right") && t.Sides.Left == t.Sides.Right && sides.good("left") {
		r.fault(sides.at("right"), "both sides are called "+spelling.Quote(t.Sides.Left), "")
	}
	shims := file.sub("shims")
	t.Shims = train.Shims{
		Step: shims.number("step"),
		Keep: shims.number("keep"),
	}
	if shims.good("max_pieces") {
		t.Shims.MaxPieces = int(shims.number("max_pieces"))
	}
	t.Shims.Stock = shimStock(shims)
	e := file.sub("errors")
	t.Errors = train.Errors{
		Offset: e.number("offset"), Angle: e.number("angle"),
		Placing: e.number("placing"), Growth: e.number("growth"), GrowthLeast: e.number("growth_least"),
		Assumed: train.AssumedErrors{
			Offset: !e.has("offset"), Angle: !e.has("angle"), Placing: !e.has("placing"),
			Growth: !e.has("growth"), GrowthLeast: !e.has("growth_least"),
		},
		Stated: true,
	}
	if !file.has("errors") {
		t.Errors = train.Errors{}
	}
	aim := file.sub("aim")
	t.Aim = train.Aim{
		Use: aim.number("use"), Transient: aim.numberOr("transient", 0), Chance: aim.numberOr("chance", 0),
		FixedCost: aim.number("touch"), LeastMove: aim.numberOr("least_move", 0),
		LeastPlaced: aim.numberOr("least_move", train.LeastPlaced*t.Errors.Placing),
	}
	t.Relief = relief(file.sub("relief"))
	checks := file.sub("checks")
	t.Checks = train.Checks{
		Ring: checks.number("ring"), Return: checks.number("back"), Residual: checks.number("residual"),
		Repeat: checks.number("repeat"), Method: checks.number("method"), Span: checks.number("span"),
		Survey: checks.number("survey"), Turned: checks.number("survey_angle"),
	}
}
