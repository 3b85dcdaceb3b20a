// Package starter writes a train file to start from, short: every number in it is a
// placeholder, what has to be read is left blank, and what few trains need stands in the
// manual and not in it.
package starter

import (
	"fmt"
	"strings"

	"leastmove/train"
	"leastmove/train/trainfile/tree"
)

// A Machine is one of the train.
type Machine struct {
	Name string
	Gear bool // has two shafts
}

// Readings are how couplings are read.
type Readings string

const (
	NoReadings Readings = ""         // offset and angle are given
	Reverse    Readings = "reverse"  // a dial on each rim
	RimFace    Readings = "rim-face" // a dial on the rim and one on the face
	Offsets    Readings = "offset"   // offsets at two planes
)

// Kinds are the ways of reading that the starter has blocks for.
func Kinds() []string { return []string{string(Reverse), string(RimFace), string(Offsets)} }

// Options say what kind of train to write.
type Options struct {
	Machines []Machine // two or more
	Units    train.Units
	Readings []Readings // how couplings are read: one for all, or one a coupling; none: offset and angle
}

// Most is the most machines that a starter is written for.
const Most = 50

// A writer writes one file.
type writer struct {
	strings.Builder
	Options
}

// Write is the train file.
func Write(o Options) string {
	w := &writer{Options: o}
	w.head()
	for i := range o.Machines {
		w.machine(i)
	}
	for i := range len(o.Machines) - 1 {
		w.coupling(i)
	}
	return w.String()
}

// line writes lines.
func (w *writer) line(format string, args ...any) { fmt.Fprintf(w, format+"\n", args...) }

// pick is the value for an mm or an inch file.
func (w *writer) pick(mm, inch string) string {
	if w.Units == train.Inches {
		return inch
	}
	return mm
}

// length is a station in the file's lengths, mm or inches.
func (w *writer) length(mm, inch float64) float64 {
	if w.Units == train.Inches {
		return inch
	}
	return mm
}

// The layout: machine after machine at one distance, feet at two stations of each.
func (w *writer) pitch() float64 { return w.length(2000, 80) }
func (w *writer) first() float64 { return w.length(300, 12) }
func (w *writer) last() float64  { return w.length(1300, 52) }

func (w *writer) head() {
	w.line(`#:schema train-file.schema.json
# EVERY NUMBER IS A PLACEHOLDER: put in your own. Fill in lines with %s and take these words away.
# Stations, heights, bolts in %s; shims, offsets, growth in %s; angles in %s.
# x runs from the first machine to the last; left, 3 and 9 o'clock looking that way.
# Bolt-bound, no shims, soft foot, nozzles, spacers, limits by speed: leastmove help start.
title  = "my train"
units  = %q
shims  = { step = %s }   # finest change of a shim pack
errors = { offset = %s, angle = 0.05, placing = %s, growth = 0.2, growth_least = %s } # 95 %% half-widths`,
		strings.TrimSpace(tree.ToRead), w.pick("mm", "inches"), w.pick("mm", "mils (0.001 inch)"),
		w.pick("mrad, mm per m", "mrad"), w.Units.String(), w.pick("0.05", "1.0"),
		w.pick("0.02", "0.5"), w.pick("0.02", "1.0"), w.pick("0.02", "0.5"))
}

// rolls is the remark on a gear case whose left and right packs may differ.
func (m *Machine) rolls() string {
	if !m.Gear {
		return ""
	}
	return "roll = true, level = { roll = 0.2 }: packs differ left and right; tooth contact turns"
}

func (w *writer) machine(i int) {
	m, once := w.Machines[i], remarks(i == 0)
	w.line("\n[[machine]]")
	w.line("name   = %q", m.Name)
	w.row(fmt.Sprintf("at     = %g", float64(i)*w.pitch()), once("station of the train where this machine's own x = 0 is"))
	w.row("height = "+w.pick("500", "20"), once("of the shaft above the shims"))
	w.row(fmt.Sprintf("rpm    = %d", w.rpm(i)), m.rolls())
	w.row(fmt.Sprintf("growth = [{ v = %s }]", w.pick("0.10", "4.0")), once("up, from cold to running; 0: none"))
	const run = "run = { v = 0, h = 0 }"
	if m.Gear {
		w.line(`shaft  = [{ name = "input", y = %s, %s }, # y: + left of the middle
          { name = "output", y = %s, %s, rpm = %d }]`, w.pick("150", "6"), run, w.pick("-150", "-6"), run, w.rpm(i+1))
	} else {
		w.row("run    = { v = 0, h = 0 }", once("journal shift from rest to running; 0: rolling bearings"))
	}
	w.row("foot   = [", once("pairs, left and right alike; shim: the pack now; raise: most that may go in"))
	for n, x := range []float64{w.first(), w.last()} {
		w.line(`  { name = %q, x = %g, spread = %s, shim = %s, raise = %s, bolt = %s, hole = %s }%s`,
			[]string{"front", "rear"}[n], x, w.pick("800", "32"), w.pick("3.0", "120"), w.pick("5.0", "200"),
			w.pick("24", "1"), w.pick("28", "1.125"), []string{",", "]"}[n])
	}
}

// remarks say something where it is said, and nothing elsewhere.
func remarks(said bool) func(string) string {
	return func(remark string) string {
		if !said {
			return ""
		}
		return remark
	}
}

// row is a line and what is said of it, at one column.
func (w *writer) row(text, remark string) {
	if remark != "" {
		text = fmt.Sprintf("%-26s # %s", text, remark)
	}
	w.line("%s", text)
}

// rpm is the speed of a machine, 1/min: every gear turns it up or back down.
func (w *writer) rpm(i int) int {
	fast := false
	for _, m := range w.Machines[:min(i, len(w.Machines))] {
		fast = fast != m.Gear
	}
	if fast {
		return 6000
	}
	return 1500
}

// end is the shaft that a coupling sits on.
func (w *writer) end(i int, to bool) string {
	switch name := w.Machines[i].Name; {
	case w.Machines[i].Gear && to:
		return name + "/input"
	case w.Machines[i].Gear:
		return name + "/output"
	default:
		return name
	}
}

func (w *writer) coupling(i int) {
	once := remarks(i == 0)
	x := (float64(i)*w.pitch() + w.last() + float64(i+1)*w.pitch() + w.first()) / 2
	w.line("")
	if i == 0 {
		for _, d := range w.drawings() {
			w.line("%s", d)
		}
	}
	w.line("[[coupling]]")
	w.line("name   = %q", fmt.Sprintf("coupling %d", i+1))
	w.line("from   = %q", w.end(i, false))
	w.line("to     = %q", w.end(i+1, true))
	w.row(fmt.Sprintf("x      = %g", x), once("plane of the offsets, a station of the train"))
	w.row(fmt.Sprintf("limit  = { offset = %s, angle = 0.5 }", w.pick("0.05", "2.0")),
		once("from the coupling's maker, or your own standard"))
	w.reading(i, x)
}
