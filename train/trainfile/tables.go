package trainfile

// Tables are all tables of the train file in the order of the documents, the
// whole file first. Ranges are wide: they catch slips of the unit and of the
// decimal point, not bad engineering.
func Tables() []*Table {
	t := newTables()
	return []*Table{
		t.file, t.sides, t.shims, t.errors, t.aim,
		t.machine, t.level, t.levelFound, t.shaft, t.run, t.foot, t.footSide, t.travel, t.growth, t.nozzle,
		t.coupling, t.limit, t.found, t.taken, t.tilt, t.wanted, t.wantedTilt,
		t.band, t.condition,
	}
}

type tables struct {
	file, sides, shims, errors, aim                                                  *Table
	machine, level, levelFound, shaft, run, growth, foot, footSide, travel           *Table
	nozzle, coupling, limit, found, taken, tilt, wanted, wantedTilt, band, condition *Table
}

// Ranges in mm, mrad, 1/min and °C.
var (
	stations = Range{Min: -10e6, Max: 10e6}          // of the longest train of 2,000 machines
	sideways = Range{Min: -20e3, Max: 20e3}          // from a machine's centreline
	packs    = Range{Min: 0, Max: 300}               // under one foot
	offsets  = Range{Min: -100, Max: 100}            // of a coupling
	angles   = Range{Min: -100, Max: 100}            // of a coupling or a machine
	growths  = Range{Min: -50, Max: 50}              // from cold to running
	speeds   = Range{Min: 0, Max: 300e3, Over: true} // of a shaft
	shares   = Range{Min: -1, Max: 5}                // of growth or running shift in a condition
	widths   = Range{Min: 0, Max: 100, Over: true}   // of a limit on movement
	angular  = Range{Min: 0, Max: 100, Over: true}   // of a limit on an angle
)

func same(s string) [2]string { return [2]string{s, s} }

func newTables() *tables {
	t := &tables{}
	t.run = &Table{Header: "run = { }", Doc: "shift of the loaded shaft in its bearings", Keys: []Key{
		{Name: "v", Unit: Move, Range: Range{Min: -10, Max: 10}, Default: same("0"), Doc: "up"},
		{Name: "h", Unit: Move, Range: Range{Min: -10, Max: 10}, Default: same("0"), Doc: "to the left"},
	}}
	t.growth = &Table{Header: "[[machine.growth]]", Doc: "growth from cold to running at one station (uniform) or at two (a line)", Keys: []Key{
		{Name: "x", Unit: Length, Range: stations, Default: same("0"), Doc: "the machine's own station"},
		{Name: "v", Unit: Move, Range: growths, Default: same("0"), Doc: "up"},
		{Name: "h", Unit: Move, Range: growths, Default: same("0"), Doc: "to the left"},
		{Name: "a", Unit: Move, Range: growths, Default: same("0"), Doc: "along the train"},
	}}
	t.sides = &Table{Header: "[sides]", Doc: "the site's words for the two sides, looking from the first machine to the last", Keys: []Key{
		{Name: "left", Kind: Text, Default: same("left"), Doc: "word for the left side"},
		{Name: "right", Kind: Text, Default: same("right"), Doc: "word for the right side"},
	}}
	t.shims = &Table{Header: "[shims]", Doc: "what packs the crew can make", Keys: []Key{
		{Name: "step", Unit: Move, Range: Range{Min: 0, Max: 10, Over: true}, Default: [2]string{"0.05", "1"}, Doc: "the finest change that the crew makes"},
		{Name: "flat", Unit: Move, Range: Range{Min: 0, Max: 10}, Default: [2]string{"0.05", "2"}, Doc: "most soft foot that the packs may leave"},
		{Name: "keep", Unit: Move, Range: packs, Default: same("0"), Doc: "pack that must stay under every foot for the next job"},
		{Name: "stock", Kind: Numbers, Unit: Move, Range: Range{Min: 0, Max: 300, Over: true}, Doc: "thicknesses on the shelf"},
		{Name: "max_pieces", Kind: Count, Range: Range{Min: 1, Max: 100}, Doc: "most pieces in one pack"},
	}}
	t.errors = &Table{Header: "[errors]", Doc: "errors of what was found and of what will be done, 95 % half-widths", Keys: []Key{
		{Name: "offset", Unit: Move, Range: Range{Max: 10}, Default: same("0"), Doc: "of a found offset"},
		{Name: "angle", Unit: Angle, Range: Range{Max: 50}, Default: same("0"), Doc: "of a found angle"},
		{Name: "placing", Unit: Move, Range: Range{Max: 10}, Default: same("0"), Doc: "of a sideways move as the crew sets it"},
		{Name: "growth", Range: Range{Max: 5}, Default: same("0"), Doc: "of growth, as a share of it"},
	}}
	t.aim = &Table{Header: "[aim]", Doc: "what the plan is to reach", Keys: []Key{
		{Name: "use", Range: Range{Max: 1, Over: true}, Default: same("0.7"), Doc: "share of every coupling limit that the plan may use"},
		{Name: "touch", Unit: Move, Range: Range{Max: 1000}, Default: same("0"), Doc: "cost of moving a machine at all, in units of movement"},
		{Name: "least_move", Unit: Move, Range: Range{Max: 10}, Default: same("0"), Doc: "a foot moves by at least this or not at all"},
	}}
	t.machineTables()
	t.couplingTables()
	t.band = &Table{Header: "[[band]]", Doc: "limits by speed, for couplings without limits of their own", Keys: []Key{
		{Name: "up_to_rpm", Unit: Speed, Range: speeds, Required: true, Doc: "the band holds up to this speed"},
		{Name: "offset", Unit: Move, Range: widths, Doc: "limit of the offset at one engagement plane"},
		{Name: "angle", Unit: Angle, Range: angular, Doc: "limit of the angle at one engagement plane"},
		{Name: "flex_angle", Unit: Angle, Range: angular, Doc: "limit of the angle at each flex plane of a spacer coupling"},
	}}
	t.condition = &Table{Header: "[[condition]]", Doc: "a state of the train in which its couplings must be within limits", Keys: []Key{
		{Name: "name", Kind: Text, Required: true, Doc: `"running" stands for itself`},
		{Name: "growth", Range: shares, Default: same("1"), Doc: "share of every machine's growth"},
		{Name: "machine", Kind: Shares, Range: shares, Doc: "in its place, of one machine's: { turbine = 0.5 }"},
		{Name: "run", Range: shares, Default: same("1"), Doc: "share of the shafts' running shift"},
		{Name: "use", Range: Range{Max: 10, Over: true}, Default: same("1"), Doc: "share of the coupling limits that may be used here"},
	}}
	t.file = &Table{Header: "(top of the file)", Doc: "the train", Keys: []Key{
		{Name: "title", Kind: Text, Required: true, Doc: "name of the train"},
		{Name: "units", Kind: Word, Words: []string{"mm", "inch"}, Required: true, Doc: "units of the whole file"},
		{Name: "sides", Kind: Sub, Table: t.sides, Doc: t.sides.Doc},
		{Name: "shims", Kind: Sub, Table: t.shims, Doc: t.shims.Doc},
		{Name: "errors", Kind: Sub, Table: t.errors, Doc: t.errors.Doc},
		{Name: "aim", Kind: Sub, Table: t.aim, Doc: t.aim.Doc},
		{Name: "machine", Kind: Subs, Table: t.machine, Required: true, Doc: "the machines, in the order of the train; two or more"},
		{Name: "coupling", Kind: Subs, Table: t.coupling, Required: true, Doc: "the couplings between neighbours, in any order"},
		{Name: "band", Kind: Subs, Table: t.band, Doc: t.band.Doc},
		{Name: "condition", Kind: Subs, Table: t.condition, Doc: t.condition.Doc},
	}}
	return t
}
