package trainfile

// turns in degrees are what a sweep may name: twice round either way.
var turns = Range{Min: -720, Max: 720}

func (t *tables) readingTables() {
	// A dial that is read to 0.01 mm, or to half a mil, at four positions can be off by 0.02 mm or 1 mil in the sum of
	// the ring. The thresholds are ours: no published ones were found.
	t.checks = &Table{Header: "[checks]", Doc: "from where on readings are doubted; the defaults are ours: no " +
		"published ones were found", Keys: []Key{
		{Name: "ring", Unit: Move, Range: widths, Default: [2]string{"0.03", "1.5"},
			Doc: "by which top + bottom may differ from left + right, before sag is taken out"},
		{Name: "back", Unit: Move, Range: widths, Default: [2]string{"0.02", "1"},
			Doc: "by which a position that is read twice may differ"},
		{Name: "residual", Unit: Move, Range: widths, Default: [2]string{"0.03", "1.5"},
			Doc: "by which a reading may be off what all say together"},
		{Name: "repeat", Unit: Move, Range: widths, Default: [2]string{"0.05", "2"},
			Doc: "by which two sets may differ where they were read"},
		{Name: "method", Unit: Move, Range: widths, Default: [2]string{"0.05", "2"},
			Doc: "by which one kind of reading may differ from the others, at the plunger"},
		{Name: "span", Unit: Length, Range: Range{Max: 20e3, Over: true}, Default: [2]string{"200", "8"},
			Doc: "of a rim's bracket, from which on its sag is asked for"},
		{Name: "survey", Unit: Move, Range: widths, Default: [2]string{"0.1", "4"},
			Doc: "by which a survey and what was read may differ at a coupling and round the train, where errors do not " +
				"let expect more"},
		{Name: "survey_angle", Unit: Angle, Range: angular, Default: same("0.5"), Doc: "the same of the angle at a coupling"},
	}}
	t.reading = &Table{Header: "[[coupling.reading]]",
		Doc: "what was read, in place of v and h in [coupling.found]; both shafts turned together", Keys: []Key{
			{Name: "kind", Kind: Word, Words: []string{"rim", "face", "offset"}, Required: true,
				Doc: "a dial on a rim, a dial on a face, or offsets at a plane from any instrument"},
			{Name: "on", Kind: Text, Doc: "the shaft that the plunger touches, as in from and to; its bracket is on " +
				"the other one"},
			{Name: "x", Unit: Length, Range: stations, Doc: "plane of a rim's plunger or of the offsets, in train stations"},
			{Name: "clock", Kind: Clock, Unit: Move, Range: offsets,
				Doc: "readings by clock position, looking from the first machine to the last: { 12 = 0, 3 = 0.1, 6 = 0.2, 9 = " +
					"0.1 }; three are enough"},
			{Name: "sweep", Kind: Sweep, Unit: Move, Range: offsets,
				Doc: "or by degrees clockwise from 12: [[0, 0], [45, 0.02], [120, 0.11]]"},
			{Name: "file", Kind: Text, Doc: "or the name of a file beside the train file, or in a folder there: lines of " +
				"degrees, reading (CSV; semicolons or tabs too, # for remarks)"},
			{Name: "opposite", Kind: Clock, Unit: Move, Range: offsets,
				Doc: "of a face, beside clock: what a second dial on the same face, half a turn on, showed while the first " +
					"was at these positions; takes axial float out"},
			{Name: "radius", Unit: Length, Range: Range{Max: 5000, Over: true}, Usual: Usual{5, 2500},
				Doc: "from the shaft's centre to the plunger; of a rim optional: lets true geometry be taken out"},
			{Name: "away", Kind: Switch, Default: same("false"), Doc: "true: the face looks away from the coupling's gap"},
			{Name: "pushed_in", Kind: Word, Words: []string{"+", "-"}, Default: same("+"),
				Doc: "what the dial shows as its plunger is pushed in"},
			{Name: "sag", Unit: Move, Range: Range{Min: -10, Max: 10}, Usual: Usual{0.003, 2},
				Doc: "what the bracket reads at 6 on a sag bar, zeroed at 12; 0: none"},
			{Name: "true_sag", Unit: Move, Range: Range{Max: 5}, Usual: Usual{0.0015, 1},
				Doc: "or the true sag of a rim's bracket, half of that and positive"},
			{Name: "range", Unit: Move, Range: Range{Max: 200, Over: true}, Usual: Usual{0.2, 100},
				Doc: "of the dial: how far its plunger travels; readings further apart have passed its end"},
			{Name: "set", Kind: Count, Range: Range{Min: 1, Max: 1000}, Default: same("1"),
				Doc: "number of the pass, where a coupling was read more than once"},
			{Name: "error", Unit: Move, Range: Range{Max: 10, Over: true}, Usual: usualError,
				Doc: "of one reading, 95 % half-width; not stated it counts as 0.02 mm, ours: common practice, no source"},
			{Name: "v", Unit: Move, Range: offsets, Doc: "offset of the to shaft at x, + high"},
			{Name: "h", Unit: Move, Range: offsets, Doc: "offset of the to shaft at x, + left"},
		}}
	t.target = &Table{Header: "[[coupling.target]]",
		Doc: "an instrument that will be put on after the moves, beside those of the readings: a plan says what " +
			"it is to show"}
	for _, k := range t.reading.Keys {
		switch k.Name {
		case "kind", "on", "x", "radius", "away", "pushed_in", "sag", "true_sag":
			t.target.Keys = append(t.target.Keys, k)
		}
	}
}
