package trainfile

// Tables are all tables of the train file in the order of the documents, the
// whole file first. Ranges are wide: they catch slips of the unit and of the
// decimal point, not bad engineering.
func Tables() []*Table {
	t := newTables()
	return []*Table{
		t.file, t.sides, t.shims, t.errors, t.aim, t.relief, t.checks,
		t.machine, t.level, t.levelFound, t.shaft, t.run, t.foot, t.footSide, t.travel, t.growth, t.nozzle, t.point,
		t.pointRunning, t.base, t.baseFoot, t.baseFootSide,
		t.coupling, t.limit, t.found, t.taken, t.tilt, t.reading, t.target, t.wanted, t.wantedTilt,
		t.band, t.bandFile, t.condition, t.ownGrowth,
	}
}

type tables struct {
	file, sides, shims, errors, aim, relief                                          *Table
	machine, level, levelFound, shaft, run, growth, foot, footSide, travel           *Table
	nozzle, coupling, limit, found, taken, tilt, wanted, wantedTilt, band, condition *Table
	checks, reading, target, point, pointRunning, bandFile, ownGrowth                *Table
	base, baseFoot, baseFootSide                                                     *Table
}

// Ranges in mm, mrad, 1/min and °C.
var (
	stations  = Range{Min: -10e6, Max: 10e6}          // of the longest train of 2,000 machines
	sideways  = Range{Min: -20e3, Max: 20e3}          // from a machine's centreline
	packs     = Range{Min: 0, Max: 300}               // under one foot
	shim      = Range{Min: 0, Max: 300, Over: true}   // one of a pack
	offsets   = Range{Min: -100, Max: 100}            // of a coupling
	angles    = Range{Min: -100, Max: 100}            // of a coupling or a machine
	growths   = Range{Min: -50, Max: 50}              // from cold to running
	speeds    = Range{Min: 0, Max: 300e3, Over: true} // of a shaft
	positions = Range{Min: -50e3, Max: 50e3}          // in the frame of a survey
	shares    = Range{Min: -1, Max: 5}                // of growth or journal shift in a condition
	widths    = Range{Min: 0, Max: 100, Over: true}   // of a limit on movement
	angular   = Range{Min: 0, Max: 100, Over: true}   // of a limit on an angle
)

// Usual sizes, in the same units: of what comes up at more than one key. They
// are common practice, no source.
var (
	usualHeight = Usual{10, 4000} // of a shaft, mm
	usualPack   = Usual{0.01, 60} // of a pack or one shim, mm
	usualRun    = Usual{0.001, 1} // of a shaft in its bearings, mm
	usualRise   = Usual{0.002, 5} // of growth up or sideways, mm
	usualOffset = Usual{0.005, 1} // of a limit, mm
	usualAngle  = Usual{0.06, 10} // of a limit at a coupling, mrad: 0.01 mm over 160 mm is the least
	usualLevel  = Usual{0.02, 10} // of a limit on a machine's level, mrad
	usualError  = Usual{5e-4, 1}  // of a reading or of placing, mm
	usualGap    = Usual{0.5, 5e3} // between shaft ends, mm
	usualSpeed  = Usual{20, 1e5}  // of a shaft, 1/min
)

func same(s string) [2]string { return [2]string{s, s} }

func newTables() *tables {
	t := &tables{}
	t.run = &Table{Header: "run = { }", Doc: "journal shift: how far the loaded shaft shifts in its bearings from " +
		"rest to running; all 0: not at all", Keys: []Key{
		{Name: "v", Unit: Move, Range: Range{Min: -10, Max: 10}, Usual: usualRun, Default: same("0"),
			Doc: "up; a shaft at rest lies at the bottom, so that it is not below 0"},
		{Name: "h", Unit: Move, Range: Range{Min: -10, Max: 10}, Usual: usualRun, Default: same("0"), Doc: "to the left"},
	}}
	t.growth = &Table{Header: "[[machine.growth]]",
		Doc: "growth from cold to running at one station (uniform), at two (a line), or measured at more (the line that " +
			"fits best)", Keys: []Key{
			{Name: "x", Unit: Length, Range: stations, Default: same("0"), Doc: "the machine's own station"},
			{Name: "y", Unit: Length, Range: sideways, Default: same("0"),
				Doc: "where it was measured, from the machine's centreline, + left; from two different y the roll of the " +
					"case follows"},
			{Name: "v", Unit: Move, Range: growths, Usual: usualRise, Default: same("0"), Doc: "up"},
			{Name: "h", Unit: Move, Range: growths, Usual: usualRise, Default: same("0"), Doc: "to the left"},
			{Name: "a", Unit: Move, Range: growths, Usual: Usual{0.002, 30}, Default: same("0"), Doc: "along the train"},
		}}
	t.sides = &Table{Header: "[sides]", Doc: "the site's words for the two sides, looking from the first machine to " +
		"the last", Keys: []Key{
		{Name: "left", Kind: Text, Default: same("left"), Doc: "word for the left side"},
		{Name: "right", Kind: Text, Default: same("right"), Doc: "word for the right side"},
	}}
	t.shims = &Table{Header: "[shims]", Doc: "what packs the crew can make", Keys: []Key{
		{Name: "step", Unit: Move, Range: Range{Min: 0, Max: 10, Over: true}, Usual: Usual{0.005, 0.3},
			Default: [2]string{"0.05", "1"}, Doc: "the finest change that the crew makes"},
		{Name: "flat", Unit: Move, Range: Range{Min: 0, Max: 10}, Usual: Usual{0.005, 1}, Default: same(usualFlat),
			Doc: "most soft foot that the packs of a machine may leave"},
		{Name: "keep", Unit: Move, Range: packs, Usual: usualPack, Default: same("0"),
			Doc: "pack that must stay under every foot for the next job"},
		{Name: "stock", Kind: Numbers, Unit: Move, Range: shim, Usual: usualPack, Doc: "thicknesses on the shelf"},
		{Name: "max_pieces", Kind: Count, Range: Range{Min: 1, Max: 100}, Doc: "most pieces in one pack"},
	}}
	t.errors = &Table{Header: "[errors]", Doc: "errors of what was found and of what will be done, 95 % half-widths; " +
		"0: exact; with [errors] given, what it leaves out takes a default of ours: common practice, no source",
		Keys: []Key{
			{Name: "offset", Unit: Move, Range: Range{Max: 10}, Usual: usualError, Default: [2]string{"0.02", "1"},
				Doc: "of a found offset"},
			{Name: "angle", Unit: Angle, Range: Range{Max: 50}, Usual: Usual{0.001, 5}, Default: same("0.05"),
				Doc: "of a found angle"},
			{Name: "placing", Unit: Move, Range: Range{Max: 10}, Usual: usualError, Default: [2]string{"0.02", "1"},
				Doc: "of a sideways move as the crew sets it"},
			{Name: "growth", Range: Range{Max: 5}, Default: same("0.2"),
				Doc: "of growth and of journal shift, as a share of it"},
			{Name: "growth_least", Unit: Move, Range: Range{Max: 10}, Usual: usualError, Default: [2]string{"0.02", "1"},
				Doc: "of growth and of journal shift besides, also where it is 0"},
		}}
	t.aim = &Table{Header: "[aim]", Doc: "what the plan is to reach", Keys: []Key{
		{Name: "use", Range: Range{Max: 1, Over: true}, Default: same("0.7"),
			Doc: "share of every coupling limit that the plan may use"},
		{Name: "chance", Range: Range{Max: 0.9999, Over: true}, Default: same(notStated),
			Doc: "chance of ending within limits that the plan must have, in place of use; from it on a plan is to be " +
				"carried out, or from 0.95 where it is not stated"},
		{Name: "transient", Range: Range{Max: 5, Over: true}, Default: same(notStated),
			Doc: "share of every coupling limit that may be used in warm-up between the conditions; not stated: it is " +
				"said and not limited"},
		{Name: "touch", Unit: Move, Range: Range{Max: 1000}, Default: same("0"),
			Doc: "cost of moving a machine at all, in units of movement"},
		{Name: "least_move", Unit: Move, Range: Range{Max: 10}, Usual: Usual{0.005, 5}, Default: same("twice errors.placing"),
			Doc: "a foot moves by at least this or not at all; not stated: sideways and along the train, as a pack is as " +
				"thick as it is marked, and none without [errors]"},
	}}
	cost := Range{Max: 1e6, Over: true}
	t.relief = &Table{Header: "[relief]", Doc: "what options cost the crew, in units that only compare " +
		"with each other, and how far each may go; the defaults are ours: common practice, no source", Keys: []Key{
		{Name: "hole", Range: cost, Default: same("20"), Doc: "per mm that a hole is opened, in an inch file too"},
		{Name: "bolt", Range: cost, Default: same("10"), Doc: "per mm that a bolt's shank is turned down"},
		{Name: "pack", Range: cost, Default: same("40"),
			Doc: "per mm of room made under a foot by machining the foot or the base"},
		{Name: "raise", Range: cost, Default: same("5"), Doc: "per mm more that may go into a pack: spacers, longer bolts"},
		{Name: "axial", Range: cost, Default: same("30"), Doc: "for shifting a machine along the train at all"},
		{Name: "roll", Range: cost, Default: same("5"), Doc: "for setting a machine's left and right packs apart at all"},
		{Name: "release", Range: cost, Default: same("200"), Doc: "for moving a held machine at all"},
		{Name: "open", Unit: Length, Range: Range{Max: 50}, Usual: Usual{0.2, 20}, Default: [2]string{"6", "0.25"},
			Doc: "most that a hole's diameter is opened: what a plate washer covers; 0: never"},
		{Name: "cut", Unit: Move, Range: Range{Max: 50}, Usual: Usual{0.05, 20}, Default: [2]string{"3", "120"},
			Doc: "most that is taken off a foot or a base; 0: never"},
		{Name: "axial_per_mm", Range: Range{Max: 1e6}, Default: same("5"),
			Doc: "per mm that a machine is shifted along the train, beside what shifting it at all costs"},
		{Name: "axial_most", Unit: Move, Range: Range{Max: 1000}, Usual: Usual{0.1, 50}, Default: [2]string{"3", "120"},
			Doc: "most that a machine is shifted along the train where no bolt and hole bound it, in options and where the " +
				"file has axial = true; 0: never"},
	}}
	t.machineTables()
	t.baseTables()
	t.readingTables()
	t.couplingTables()
	t.band = &Table{Header: "[[band]]", Doc: "limits by speed, for couplings without limits of their own", Keys: []Key{
		{Name: "up_to_rpm", Unit: Speed, Range: speeds, Required: true, Doc: "the band holds up to this speed"},
		{Name: "offset", Unit: Move, Range: widths, Usual: usualOffset, Doc: "limit of the offset at one engagement plane"},
		{Name: "angle", Unit: Angle, Range: angular, Usual: usualAngle, Doc: "limit of the angle at one engagement plane"},
		{Name: "flex_angle", Unit: Angle, Range: angular, Usual: usualAngle,
			Doc: "limit of the angle at each flex plane of a spacer coupling"},
	}}
	t.bandFile = &Table{Header: "(a file of bands)",
		Doc: "limits by speed in a file of their own, for --bands: a train's own bands come first, a coupling's own " +
			"limits before both", Keys: []Key{
			{Name: "title", Kind: Text, Doc: "name of the standard"},
			{Name: "units", Kind: Word, Words: []string{"mm", "inch"}, Required: true,
				Doc: "units of this file, whatever the train file has"},
			{Name: "band", Kind: Subs, Table: t.band, Required: true, Doc: t.band.Doc},
		}}
	t.ownGrowth = &Table{Header: "[[condition.growth]]",
		Doc: "growth that a machine has in this condition, in place of a share of its own: a chilled compressor, " +
			"another load; at one station or at two, the form of [[machine.growth]]", Keys: append([]Key{
			{Name: "machine", Kind: Text, Required: true, Doc: "name of the machine"},
		}, t.growth.Keys...)}
	t.condition = &Table{Header: "[[condition]]",
		Doc: "a state of the train in which its couplings must be within limits", Keys: []Key{
			{Name: "name", Kind: Text, Required: true, Doc: `"running" stands for itself`},
			{Name: "growth", Range: shares, Table: t.ownGrowth, Default: same("1"),
				Doc: "share of every machine's growth; or [[condition.growth]]: growth of its own"},
			{Name: "machine", Kind: Shares, Range: shares, Doc: "in its place, of one machine's: { turbine = 0.5 }"},
			{Name: "run", Range: shares, Default: same("1"), Doc: "share of the shafts' journal shift"},
			{Name: "use", Range: Range{Max: 10, Over: true}, Default: same("1"),
				Doc: "share of the coupling limits that may be used here"},
		}}
	t.file = &Table{Header: "(top of the file)", Doc: "the train", Keys: []Key{
		{Name: "title", Kind: Text, Required: true, Doc: "name of the train"},
		{Name: "units", Kind: Word, Words: []string{"mm", "inch"}, Required: true, Doc: "units of the whole file"},
		{Name: "sides", Kind: Sub, Table: t.sides, Doc: t.sides.Doc},
		{Name: "shims", Kind: Sub, Table: t.shims, Doc: t.shims.Doc},
		{Name: "errors", Kind: Sub, Table: t.errors, Doc: t.errors.Doc},
		{Name: "aim", Kind: Sub, Table: t.aim, Doc: t.aim.Doc},
		{Name: "relief", Kind: Sub, Table: t.relief, Doc: t.relief.Doc},
		{Name: "checks", Kind: Sub, Table: t.checks, Doc: t.checks.Doc},
		{Name: "machine", Kind: Subs, Table: t.machine, Required: true,
			Doc: "the machines, in the order of the train; two or more"},
		{Name: "base", Kind: Subs, Table: t.base, Doc: t.base.Doc},
		{Name: "coupling", Kind: Subs, Table: t.coupling, Required: true,
			Doc: "the couplings between neighbours, in any order"},
		{Name: "band", Kind: Subs, Table: t.band, Doc: t.band.Doc},
		{Name: "condition", Kind: Subs, Table: t.condition, Doc: t.condition.Doc},
	}}
	return t
}
