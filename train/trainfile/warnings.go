package trainfile

import (
	"fmt"
	"math"

	"leastmove/train"
	"leastmove/train/spelling"
)

// From these sizes on a found misalignment gets a warning: a machine set down by
// eye stands nearer.
const (
	unusualOffset = 5   // mm
	unusualMils   = 200 // mil, of an inch file
	unusualAngle  = 10  // mrad
)

// farOff is the size in mm from which on an offset gets a warning.
func (r *reader) farOff() float64 {
	if r.units == train.Inches {
		return unusualMils * train.Mil
	}
	return unusualOffset
}

// warnings warns of what can be planned with but is probably not meant.
func (r *reader) warnings(t *train.Train, file *section, machines []machinePart, couplings []couplingPart) {
	if r.unknown {
		return
	}
	r.warnIdle(t, couplings)
	for _, c := range couplings {
		if c.joined && c.coupling.From.Machine < c.coupling.To.Machine { // else it has its fault
			r.warnInstruments(t, c)
			r.warnSpeeds(t, c)
		}
		r.warnMisalignment(c)
		r.warnGap(c)
	}
	for i, part := range machines {
		m := &t.Machines[i]
		for j, n := range m.Nozzles {
			if math.IsInf(n.Limit, 1) && !m.Hold {
				r.warn(part.nozzles[j].node.Key,
					fmt.Sprintf("no limit at nozzle %s of %s: the plan does not mind what a move does to the pipe",
						spelling.Quote(n.Name), spelling.Quote(m.Name)), "write limit = ...: how far the flange may be displaced")
			}
		}
	}
	r.warnShifts(t, file, machines)
	r.warnCalculated(t, machines)
	r.warnUngrown(t, machines)
	r.warnChance(t, file)
	r.warnExact(file)
	before := r.noted[Warning]
	switch r.units {
	case train.Inches:
		r.warnInches(t, file, couplings)
	case train.Millimetres:
		r.warnMillimetres(t, file)
	}
	if r.noted[Warning] == before { // else the whole file has its warning
		r.warnSizes()
		if len(r.unusual) == 0 {
			r.warnProportions(t, machines)
		}
		r.warnReadings(couplings)
	}
}

// warnChance warns of a chance that the plan must have and that can't be worked out.
func (r *reader) warnChance(t *train.Train, file *section) {
	if t.Aim.Chance == 0 || t.ChanceKnown() {
		return
	}
	hint := "state [errors]: how good the readings are"
	if t.Errors != (train.Errors{}) {
		hint = "state growth and journal shift of every machine with a coupling, v = 0 where there is none"
	}
	r.warn(file.sub("aim").key("chance"), "no chance can be worked out: the plan keeps use instead", hint)
}

// warnExact warns of readings that are said to have no error: every chance is too high by that.
func (r *reader) warnExact(file *section) {
	e := file.sub("errors")
	for _, key := range []string{"offset", "angle"} {
		if e.good(key) && e.number(key) == 0 {
			r.warn(e.at(key), key+" in [errors] is 0: no reading is without error, and chances are too high by it",
				"give the width that 95 % of what is found is within, to either side")
		}
	}
}

// warnShifts warns of machines that may be shifted along the train, where only the default says how far.
func (r *reader) warnShifts(t *train.Train, file *section, machines []machinePart) {
	if file.sub("relief").has("axial_most") {
		return
	}
	for i, part := range machines {
		m := &t.Machines[i]
		if most := t.ShiftMost(m); !m.Hold && len(m.Feet) > 0 && !math.IsInf(most, 1) {
			r.warn(part.section.key("axial"), fmt.Sprintf("no bolt and hole bound how far %s is shifted along the train: "+
				"%s at most is taken", spelling.Quote(m.Name), r.show(most, Move)),
				"give bolt and hole of a foot, or axial_most in [relief]")
		}
	}
}

// warnUngrown warns of machines whose growth is not stated, where nothing else is wrong with the file: a coupling with
// limits sits on each.
func (r *reader) warnUngrown(t *train.Train, machines []machinePart) {
	if r.noted[Error] > 0 {
		return
	}
	for _, u := range t.Unstated() {
		if u.Kind == train.UnstatedGrowth {
			m := &t.Machines[u.Machine]
			r.warn(machines[u.Machine].section.node.Key,
				fmt.Sprintf("growth of %s from cold to running is not stated: it is planned as none, and no chance is given",
					spelling.Quote(m.Name)), "give v at each station of [[machine.growth]]; v = 0 says that it does not grow")
		}
	}
}

// oneSpeed is the share by which the speeds of two coupled shafts may differ:
// what slips between them, a fluid coupling, does so by a few per cent.
const oneSpeed = 0.05

// warnSpeeds warns of a coupling whose two shafts turn at different speeds.
func (r *reader) warnSpeeds(t *train.Train, c couplingPart) {
	from, to := c.coupling.From, c.coupling.To
	a, b := t.Machines[from.Machine].Shafts[from.Shaft].RPM, t.Machines[to.Machine].Shafts[to.Shaft].RPM
	if math.Abs(a-b) > oneSpeed*math.Max(a, b) { // not where one is not stated
		r.warn(c.section.at("to"), fmt.Sprintf("speeds differ at coupling %s, %s and %s of %s and %s",
			spelling.Quote(c.coupling.Name), r.show(a, Speed), r.show(b, Speed), spelling.Quote(t.ShaftName(from)),
			spelling.Quote(t.ShaftName(to))),
			"two coupled shafts turn alike: check rpm of both, and which shaft of a gear is meant")
	}
}

// warnIdle warns of a machine with several shafts of which one carries both of
// its couplings and another none.
func (r *reader) warnIdle(t *train.Train, couplings []couplingPart) {
	for n := 1; n < len(couplings); n++ {
		before, after := couplings[n-1].coupling, couplings[n].coupling
		end := after.From
		if !couplings[n-1].joined || !couplings[n].joined || before.To != end || len(t.Machines[end.Machine].Shafts) < 2 {
			continue
		}
		m := &t.Machines[end.Machine]
		r.warn(couplings[n].section.at("from"),
			fmt.Sprintf("couplings %s and %s both sit on %s of %s, and its other shafts carry none",
				spelling.Quote(before.Name), spelling.Quote(after.Name), m.Shafts[end.Shaft].Name, spelling.Quote(m.Name)),
			"a gear takes in on one shaft and gives out on another")
	}
}

func (r *reader) warnMisalignment(c couplingPart) {
	found := c.section.sub("found")
	for _, plane := range []string{"v", "h"} {
		s := found.sub(plane)
		if s.good("offset") && math.Abs(s.numberOr("offset", 0)) > r.farOff() {
			r.warn(s.at("offset"), fmt.Sprintf("the offset found at coupling %s is %s: over %s is doubtful",
				spelling.Quote(c.coupling.Name),
				r.value(s, "offset", Move), r.show(r.farOff(), Move)), r.moveHint())
		}
		if s.good("angle") && math.Abs(s.numberOr("angle", 0)) > unusualAngle {
			r.warn(s.at("angle"), fmt.Sprintf("the angle found at coupling %s is %s: over %s is doubtful",
				spelling.Quote(c.coupling.Name),
				r.value(s, "angle", Angle), r.show(unusualAngle, Angle)), "angles are in mrad: mm per m, or mils per inch")
		}
	}
}

func (r *reader) moveHint() string {
	if r.units == train.Inches {
		return "offsets are in mils (0.001 inch) in this file"
	}
	return "offsets are in mm in this file"
}

// warnGap warns of a limit of the gap that limits nothing.
func (r *reader) warnGap(c couplingPart) {
	limit := c.section.sub("limit")
	if limit.good("gap") && (math.IsNaN(c.coupling.FoundGap) || math.IsNaN(c.coupling.WantedGap)) &&
		!(c.section.sub("found").has("gap") && c.section.sub("wanted").has("gap")) {
		r.warn(limit.key("gap"), fmt.Sprintf("limit.gap of coupling %s has no effect", spelling.Quote(c.coupling.Name)),
			"it needs found.gap and wanted.gap")
	}
}

// Sizes that tell millimetres from inches. The smallest standard motor stands
// 56 mm high.
const (
	smallMil    = 0.5 // mil: offsets and packs that are all under it were typed in inches
	lowest      = 50  // mm: heights that are all under it were typed in inches
	narrowest   = 150 // mm: and so were feet that are all nearer together than this
	thickest    = 50  // mm: packs that are all over it were typed in mils or microns
	tallestInch = 300 // inch: heights that are all over it were typed in mm
)

// warnInches warns of inches typed for mils, and of mm typed for inches.
func (r *reader) warnInches(t *train.Train, file *section, couplings []couplingPart) {
	largest := 0.0 // mm
	for _, c := range couplings {
		largest = math.Max(largest, math.Max(math.Abs(c.coupling.Found.V.Offset), math.Abs(c.coupling.Found.H.Offset)))
	}
	for _, m := range t.Machines {
		for _, f := range m.Feet {
			if !math.IsNaN(f.Pack) {
				largest = math.Max(largest, f.Pack)
			}
		}
	}
	if largest > 0 && largest < smallMil*train.Mil {
		r.warn(file.at("units"), fmt.Sprintf("every offset and every pack in this inch file is under %s",
			r.show(smallMil*train.Mil, Move)),
			"lengths are in inches, but offsets, shims and moves are in mils (0.001 inch): write 12 for .012 inch")
	}
	if every(t, func(m *train.Machine) bool { return m.Height > tallestInch*train.Inch }) {
		r.warn(file.at("units"), fmt.Sprintf("every machine in this inch file is over %s high",
			r.show(tallestInch*train.Inch, Length)),
			"lengths are in inches")
	}
}

// warnMillimetres warns of inches, mils or microns typed for mm.
func (r *reader) warnMillimetres(t *train.Train, file *section) {
	if every(t, func(m *train.Machine) bool {
		first, last := ends(m)
		return m.Height < lowest && m.Height > 0 && last-first < narrowest
	}) {
		r.warn(file.at("units"), fmt.Sprintf("every machine in this mm file is under %d mm high, with its feet under %d "+
			"mm apart", lowest, narrowest),
			`lengths are in mm; a file in inches has units = "inch"`)
	}
	packs, thick := 0, 0
	for _, m := range t.Machines {
		for _, f := range m.Feet {
			if !math.IsNaN(f.Pack) {
				packs++
				if f.Pack > thickest {
					thick++
				}
			}
		}
	}
	if packs > 2 && thick == packs {
		r.warn(file.at("units"), fmt.Sprintf("every pack in this mm file is over %d mm", thickest),
			"packs are in mm, not in mils or microns")
	}
}

func every(t *train.Train, is func(*train.Machine) bool) bool {
	row := t.Machines[:t.Row()]
	for i := range row {
		if !is(&row[i]) {
			return false
		}
	}
	return len(row) > 0
}
