package trainfile

import "slices"

func (t *tables) machineTables() {
	t.levelFound = &Table{Header: "level.found = { }", Doc: "how far off level a machine is before the moves", Keys: []Key{
		{Name: "pitch", Unit: Angle, Range: angles, Default: same(notStated),
			Doc: "+ lowers the end further along the train; not stated: counted as level, and the page says so"},
		{Name: "roll", Unit: Angle, Range: angles, Default: same(notStated),
			Doc: "+ raises the left side; not stated: the same"},
	}}
	t.level = &Table{Header: "level = { }", Doc: "how far off level a machine may be (oil drains, gear contact)",
		Keys: []Key{
			{Name: "pitch", Unit: Angle, Range: angular, Usual: usualLevel, Default: same(noLimit), Doc: "most pitch off level"},
			{Name: "roll", Unit: Angle, Range: angular, Usual: usualLevel, Default: same(noLimit), Doc: "most roll off level"},
			{Name: "found", Kind: Sub, Table: t.levelFound, Doc: t.levelFound.Doc},
		}}
	run := Key{Name: "run", Kind: Sub, Table: t.run, Default: same(notStated), Doc: t.run.Doc}
	clearance := Key{Name: "clearance", Unit: Move, Range: Range{Max: 10, Over: true}, Usual: Usual{0.02, 2},
		Default: same(notStated), Doc: "of its bearings, of the diameter: bounds the journal shift"}
	shaftGrowth := &Table{Header: "[[machine.shaft.growth]]", Doc: "growth of this shaft in place of its machine's",
		Keys: without(t.growth.Keys, "y")}
	t.shaft = &Table{Header: "[[machine.shaft]]", Doc: "a shaft, only where a machine has more than one", Keys: []Key{
		{Name: "name", Kind: Text, Doc: "couplings name it MACHINE/SHAFT; needed where there are two or more"},
		{Name: "y", Unit: Length, Range: sideways, Default: same("0"), Doc: "from the machine's own centreline, + left"},
		{Name: "z", Unit: Length, Range: sideways, Default: same("0"), Doc: "from the machine's height, + up"},
		{Name: "rpm", Unit: Speed, Range: speeds, Usual: usualSpeed, Default: same("the machine's"), Doc: "speed"},
		run, clearance,
		{Name: "growth", Kind: Subs, Table: shaftGrowth, Default: same("the machine's"), Doc: shaftGrowth.Doc},
	}}
	t.travel = &Table{Header: "travel = { }",
		Doc: "further limits to moves sideways (an obstruction, a dowel, a jack bolt)", Keys: []Key{
			{Name: "left", Unit: Move, Range: Range{Max: 500}, Usual: Usual{0.02, 30}, Default: same(noLimit),
				Doc: "most to the left"},
			{Name: "right", Unit: Move, Range: Range{Max: 500}, Usual: Usual{0.02, 30}, Default: same(noLimit),
				Doc: "most to the right"},
		}}
	own := []Key{
		{Name: "shim", Unit: Move, Range: packs, Usual: usualPack, Default: same(notStated), Doc: "pack under it now"},
		{Name: "pieces", Kind: Numbers, Unit: Move, Range: shim, Usual: usualPack,
			Doc: "the shims under it now, from the base up; without shim the pack is their sum; []: none"},
		{Name: "soft", Unit: Move, Range: Range{Max: 5}, Usual: Usual{0.01, 1}, Default: same(notStated),
			Doc: "soft foot: gap measured under it with its own bolt loose; 0: none; not stated: counted as none, and the " +
				"page says so"},
		{Name: "lower", Unit: Move, Range: packs, Usual: usualPack, Default: same("shim - keep"),
			Doc: "most that may come out, at most the pack"},
		{Name: "raise", Unit: Move, Range: packs, Usual: usualPack, Default: same(noLimit), Doc: "most that may be added"},
		{Name: "cut", Unit: Move, Range: Range{Max: 20}, Default: same("0"),
			Doc: "taken off the foot or its base since the pack was read: as much more must go in to stand the same"},
		{Name: "bolt", Thread: true, Unit: Length, Range: Range{Max: 300, Over: true}, Usual: Usual{4, 200},
			Default: same(notStated),
			Doc:     `diameter, or the name of a coarse thread in either kind of file: "M24", "1 1/8 in"`},
		{Name: "hole", Unit: Length, Range: Range{Max: 500, Over: true}, Usual: Usual{4, 250}, Default: same(notStated),
			Doc: "diameter; counts where fit is given too"},
		{Name: "fit", Kind: Word, Words: []string{"fine", "medium", "coarse", "close", "normal", "loose"},
			Doc: "where no hole is given: the fine, medium or coarse hole of ISO 273 (inch file: close, normal or loose of " +
				"ASME B18.2.8)"},
		{Name: "bolt_at", Kind: Pair, Unit: Length, Range: Range{Min: -200, Max: 200}, Default: same("[0, 0]"),
			Doc: "where the bolt sits from the hole's centre: [axial, left]"},
		{Name: "free", Unit: Move, Range: Range{Max: 100}, Usual: Usual{0.02, 10}, Default: same("0"),
			Doc: "clearance between bolt and hole that must be left, cold and in every condition"},
		{Name: "travel", Kind: Sub, Table: t.travel, Doc: t.travel.Doc},
		{Name: "rise", Unit: Warmth, Range: Range{Min: -300, Max: 1000}, Usual: Usual{0.5, 250},
			Doc: "warms by this much from cold to running"},
		{Name: "material", Kind: Text, Doc: "of what stands between shim plane and shaft; growth is worked out"},
		{Name: "height", Unit: Length, Range: Range{Max: 10e3, Over: true}, Usual: usualHeight,
			Default: same("the machine's"), Doc: "over which growth is worked out"},
	}
	t.footSide = &Table{Header: "left = { }, right = { }", Doc: "what differs at the left or right foot of a pair",
		Keys: own}
	t.foot = &Table{Header: "[[machine.foot]]", Doc: "a foot, or a pair of feet at one station", Keys: append([]Key{
		{Name: "name", Kind: Text, Required: true, Doc: `a pair becomes "NAME left" and "NAME right"`},
		{Name: "x", Unit: Length, Range: stations, Required: true, Doc: "the machine's own station"},
		{Name: "spread", Unit: Length, Range: Range{Max: 40e3, Over: true}, Usual: Usual{50, 6000},
			Doc: "two feet, half of it to the left and half to the right; or y"},
		{Name: "y", Unit: Length, Range: sideways, Usual: Usual{5, 3000},
			Doc: "one foot, from the machine's centreline, + left; or spread"},
		{Name: "left", Kind: Sub, Table: t.footSide, Doc: "what differs at the left foot of a pair"},
		{Name: "right", Kind: Sub, Table: t.footSide, Doc: "what differs at the right foot of a pair"},
	}, own...)}
	t.nozzle = &Table{Header: "[[machine.nozzle]]", Doc: "a point that pipes hold on to", Keys: []Key{
		{Name: "name", Kind: Text, Required: true, Doc: "name of the flange"},
		{Name: "x", Unit: Length, Range: stations, Required: true, Doc: "the machine's own station"},
		{Name: "y", Unit: Length, Range: sideways, Usual: Usual{5, 10e3}, Default: same("0"),
			Doc: "from the machine's centreline, + left"},
		{Name: "z", Unit: Length, Range: sideways, Usual: Usual{5, 10e3}, Required: true, Doc: "above the shim plane"},
		{Name: "limit", Unit: Move, Range: widths, Usual: Usual{0.01, 10}, Default: same(noLimit),
			Doc: "most that it may be displaced, in any direction"},
	}}
	t.pointRunning = &Table{Header: "running = { }",
		Doc: "where the same point stands when running, in the same frame: the growth follows", Keys: []Key{
			{Name: "v", Unit: Move, Range: positions, Required: true, Doc: "+ high"},
			{Name: "h", Unit: Move, Range: positions, Required: true, Doc: "+ left"},
		}}
	t.point = &Table{Header: "[[machine.point]]",
		Doc: "a point of a survey: where the centre of a shaft was found, in one frame for the whole train", Keys: []Key{
			{Name: "shaft", Kind: Text, Doc: "name of the shaft, where the machine has more than one"},
			{Name: "x", Unit: Length, Range: stations, Required: true, Doc: "the machine's own station"},
			{Name: "v", Unit: Move, Range: positions, Required: true, Doc: "+ high, from anywhere"},
			{Name: "h", Unit: Move, Range: positions, Required: true, Doc: "+ left, from any line along the train"},
			{Name: "error", Unit: Move, Range: Range{Min: 1e-4, Max: 10}, Usual: usualError,
				Doc: "of v and of h, 95 % half-width; not stated it counts as 0.04 mm, ours: common practice, no source"},
			{Name: "running", Kind: Sub, Table: t.pointRunning, Doc: t.pointRunning.Doc},
		}}
	t.machine = &Table{Header: "[[machine]]", Doc: "a machine: one rigid body on its feet", Keys: []Key{
		{Name: "name", Kind: Text, Required: true, Doc: "name of the machine"},
		{Name: "at", Unit: Length, Range: stations, Default: same("0"),
			Doc: "train station that its own x values start from"},
		{Name: "height", Unit: Length, Range: Range{Min: -10e3, Max: 10e3}, Usual: usualHeight, Required: true,
			Doc: "shaft centreline above the shim plane"},
		{Name: "rpm", Unit: Speed, Range: speeds, Usual: usualSpeed, Default: same(notStated), Doc: "speed"},
		{Name: "hold", Kind: Switch, Default: same("false"), Doc: "true: may not be moved (it still grows)"},
		{Name: "roll", Kind: Switch, Default: same("false"), Doc: "true: left and right packs may differ"},
		{Name: "axial", Kind: Switch, Default: same("false"), Doc: "true: may be shifted along the train"},
		{Name: "effort", Range: Range{Min: 0.001, Max: 1000}, Default: same("1"),
			Doc: "how much harder than usual it is to move"},
		{Name: "flat", Unit: Move, Range: Range{Min: 0, Max: 10}, Usual: Usual{0.005, 1}, Default: same("that of [shims]"),
			Doc: "most soft foot that its packs may leave"},
		{Name: "step", Unit: Move, Range: Range{Min: 0, Max: 10}, Usual: Usual{0.005, 0.3}, Default: same("that of [shims]"),
			Doc: "finest change of its shims; 0: it stands on chocks or wedges, any size to 0.01 mm or 0.5 mil"},
		{Name: "stock", Kind: Numbers, Unit: Move, Range: shim, Usual: usualPack, Default: same("that of [shims]"),
			Doc: "thicknesses that its packs are made of"},
		{Name: "max_pieces", Kind: Count, Range: Range{Min: 1, Max: 100}, Default: same("that of [shims]"),
			Doc: "most pieces in one of its packs"},
		{Name: "level", Kind: Sub, Table: t.level, Doc: t.level.Doc},
		ofOne(run), ofOne(clearance),
		{Name: "shaft", Kind: Subs, Table: t.shaft, Doc: t.shaft.Doc},
		{Name: "foot", Kind: Subs, Table: t.foot, Doc: t.foot.Doc},
		{Name: "growth", Kind: Subs, Table: t.growth, Doc: t.growth.Doc},
		{Name: "nozzle", Kind: Subs, Table: t.nozzle, Doc: t.nozzle.Doc},
		{Name: "point", Kind: Subs, Table: t.point, Doc: t.point.Doc},
	}}
}

// ofOne is a shaft's key as the machine has it that names no shaft.
func ofOne(k Key) Key {
	k.Doc += "; of a machine that names no [[machine.shaft]]"
	return k
}

// without are keys less some.
func without(keys []Key, names ...string) []Key {
	return slices.DeleteFunc(slices.Clone(keys), func(k Key) bool { return slices.Contains(names, k.Name) })
}

// baseTables are those of a base: the keys that it shares with a machine mean the same.
func (t *tables) baseTables() {
	sides := without(t.footSide.Keys, "rise", "material", "height")
	t.baseFootSide = &Table{Header: t.footSide.Header, Doc: "what differs at the left or right foot of a pair of a base",
		Keys: sides}
	foot := without(t.foot.Keys, "rise", "material", "height")
	for n := range foot {
		switch k := &foot[n]; k.Name {
		case "left", "right":
			k.Table = t.baseFootSide
		case "x":
			k.Doc = "the base's own station"
		case "y":
			k.Doc = "one foot, from the centreline of the first machine on the base, + left; or spread"
		}
	}
	t.baseFoot = &Table{Header: "[[base.foot]]", Doc: "a foot of a base, or a pair of feet at one station", Keys: foot}
	of := func(name, doc string) Key {
		k := *t.machine.need(name)
		if doc != "" {
			k.Doc = doc
		}
		return k
	}
	t.base = &Table{Header: "[[base]]", Doc: "a base on feet of its own: a rigid body that takes the machines on it " +
		"along; each may be moved on it besides", Keys: []Key{
		of("name", "name of the base, unlike any machine's"),
		{Name: "machines", Kind: Names, Required: true,
			Doc: "names of the machines that stand on it; each on one base at most"},
		of("at", ""),
		{Name: "height", Unit: Length, Range: Range{Min: -10e3, Max: 10e3}, Usual: usualHeight, Required: true,
			Doc: "shim plane of the first machine on it above its own"},
		of("hold", "true: may not be moved"), of("roll", ""), of("axial", ""), of("effort", ""), of("flat", ""),
		of("step", ""), of("stock", ""), of("max_pieces", ""), of("level", ""),
		{Name: "foot", Kind: Subs, Table: t.baseFoot, Doc: t.baseFoot.Doc},
	}}
}

func (t *tables) couplingTables() {
	t.limit = &Table{Header: "[coupling.limit]", Doc: "how close the coupling must be", Keys: []Key{
		{Name: "offset", Unit: Move, Range: widths, Usual: usualOffset, Doc: "at one engagement plane; not with flex"},
		{Name: "angle", Unit: Angle, Range: angular, Usual: usualAngle, Doc: "between the shafts, or at each flex plane"},
		{Name: "published", Kind: Word, Words: []string{"spacer"},
			Doc: "in place of angle, with flex: half a mil for each inch between the flex planes, 0.5 mrad at each " +
				"(Jackson, The Practical Vibration Primer, 1979)"},
		{Name: "each_plane", Kind: Switch, Default: same("false"),
			Doc: "true: vertical and horizontal are limited each, not combined"},
		{Name: "combined", Kind: Word, Words: []string{"sum"}, Default: same("each limit alone"),
			Doc: "\"sum\": the shares of their limits that offset, angle and gap use at one time add up to at most 1"},
		{Name: "gap", Unit: Length, Range: Range{Max: 500, Over: true}, Usual: Usual{0.05, 20}, Default: same(noLimit),
			Doc: "of the distance between shaft ends, where one is found and wanted"},
	}}
	t.tilt = &Table{Header: "v = { }, h = { }",
		Doc: "misalignment of the to shaft against the from shaft, + high or left", Keys: []Key{
			{Name: "offset", Unit: Move, Range: offsets, Required: true, Doc: "at the coupling's x"},
			{Name: "angle", Unit: Angle, Range: angles, Required: true, Doc: "+ slopes up or points left as x grows"},
		}}
	t.wantedTilt = &Table{Header: "v = { }, h = { }", Doc: "misalignment to aim at, + high or left", Keys: []Key{
		{Name: "offset", Unit: Move, Range: offsets, Usual: Usual{0.001, unusualOffset}, Default: same("0"),
			Doc: "at the coupling's x"},
		{Name: "angle", Unit: Angle, Range: angles, Usual: Usual{0.001, unusualAngle}, Default: same("0"),
			Doc: "+ slopes up or points left as x grows"},
	}}
	t.taken = &Table{Header: "taken = { }", Doc: "shares that were there when the coupling was read", Keys: []Key{
		{Name: "growth", Range: Range{Max: 1.5}, Default: same("0"), Doc: "of growth"},
		{Name: "run", Range: Range{Max: 1.5}, Default: same("0"), Doc: "of the shafts' journal shift"},
	}}
	gap := Key{Name: "gap", Unit: Length, Range: Range{Max: 20e3}, Usual: usualGap, Doc: "distance between shaft ends"}
	t.found = &Table{Header: "[coupling.found]",
		Doc: "the coupling as it sits, cold and at standstill unless taken says otherwise", Keys: []Key{
			{Name: "v", Kind: Sub, Table: t.tilt, Doc: "vertical, + high"},
			{Name: "h", Kind: Sub, Table: t.tilt, Doc: "horizontal, + left"},
			gap,
			{Name: "taken", Kind: Sub, Table: t.taken, Doc: t.taken.Doc},
		}}
	t.wanted = &Table{Header: "[coupling.wanted]", Doc: "misalignment to aim at in the running condition", Keys: []Key{
		{Name: "v", Kind: Sub, Table: t.wantedTilt, Doc: "vertical, + high"},
		{Name: "h", Kind: Sub, Table: t.wantedTilt, Doc: "horizontal, + left"},
		gap,
	}}
	t.coupling = &Table{Header: "[[coupling]]", Doc: "a coupling between two neighbours", Keys: []Key{
		{Name: "name", Kind: Text, Required: true, Doc: "name of the coupling"},
		{Name: "from", Kind: Text, Required: true, Doc: "MACHINE, or MACHINE/SHAFT; the one nearer the start of the train"},
		{Name: "to", Kind: Text, Required: true, Doc: "MACHINE, or MACHINE/SHAFT"},
		{Name: "rpm", Unit: Speed, Range: speeds, Usual: usualSpeed, Default: same("the faster of its two shafts'"),
			Doc: "speed, for the bands"},
		{Name: "x", Unit: Length, Range: stations, Required: true, Doc: "plane of the offsets, in train stations"},
		{Name: "flex", Kind: Pair, Unit: Length, Range: stations,
			Doc: "spacer coupling: its two flex planes, in train stations"},
		{Name: "limit", Kind: Sub, Table: t.limit, Default: same("a band's"), Doc: t.limit.Doc},
		{Name: "found", Kind: Sub, Table: t.found, Doc: t.found.Doc},
		{Name: "reading", Kind: Subs, Table: t.reading, Doc: t.reading.Doc},
		{Name: "target", Kind: Subs, Table: t.target, Doc: t.target.Doc},
		{Name: "wanted", Kind: Sub, Table: t.wanted, Doc: t.wanted.Doc},
	}}
}
