// Package starter writes a train file to start from: every number in it is a
// placeholder, and its comments say what each one is and what else may be said.
package starter

import (
	"fmt"
	"strings"

	"leastmove/train"
	"leastmove/train/trainfile/tree"
)

// Options say what kind of train to write.
type Options struct {
	Machines int // two or more
	Units    train.Units
	Gear     bool // the second machine is a gear with two shafts
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
	at := 0.0
	for i := range o.Machines {
		w.machine(i, at)
		at += w.pitch()
	}
	for i := range o.Machines - 1 {
		w.coupling(i)
	}
	w.tail()
	return w.String()
}

// remarks is the column where what is said of a line starts.
const remarks = 25

// line writes lines, what is said of them at one column.
func (w *writer) line(format string, args ...any) {
	for _, line := range strings.Split(fmt.Sprintf(format, args...), "\n") {
		if at := strings.LastIndex(line, "  # "); at > 0 {
			line = fmt.Sprintf("%-*s%s", remarks-1, strings.TrimRight(line[:at], " "), " "+strings.TrimLeft(line[at:], " "))
		}
		w.WriteString(line + "\n")
	}
}

// pick is the value for an mm or an inch file.
func (w *writer) pick(mm, inch string) string {
	if w.Units == train.Inches {
		return inch
	}
	return mm
}

// The layout, in the file's lengths: machine after machine at one distance.
func (w *writer) pitch() float64 { return w.length(2000, 80) }
func (w *writer) first() float64 { return w.length(300, 12) }
func (w *writer) last() float64  { return w.length(1300, 52) }

func (w *writer) length(mm, inch float64) float64 {
	if w.Units == train.Inches {
		return inch
	}
	return mm
}

func (w *writer) name(i int) string {
	switch {
	case i == 0:
		return "motor"
	case i == 1 && w.Gear:
		return "gear"
	case w.Machines == 2 || w.Machines == 3 && w.Gear:
		return "compressor"
	case w.Gear:
		return fmt.Sprintf("compressor %d", i-1)
	}
	return fmt.Sprintf("compressor %d", i)
}

func (w *writer) head() {
	w.line(`# A train file to start from. EVERY NUMBER IN IT IS A PLACEHOLDER: put your own
# in its place. leastmove check FILE says how it reads it, leastmove plan FILE
# what to move.
#
# Lengths (at, x, y, height, spread, flex, radius, bolt, hole, bolt_at) are in %s;
# moves (shim, pieces, soft, raise, offsets, growth, readings) in %s;
# angles in %s.
# x runs along the train from the first machine to the last; left is seen looking
# that way; 12, 3, 6 and 9 o'clock too.
# Lines that start with # are left out; take the # away from those you need. Those
# with %[5]s must be filled in: without them nothing is planned.

title = "my train"
units = %[4]q
`, w.pick("mm", "inches"), w.pick("mm", "mils (0.001 inch)"), w.pick("mrad (mm per m)", "mrad (mils per inch)"), w.Units, strings.TrimSpace(tree.ToRead))
	w.line(`# [sides]                # your site's words for the two sides
# left  = "north"
# right = "south"

[shims]
step = %s               # finest change of a pack
# stock = %s   # thicknesses on the shelf

[errors]                 # 95 %% half-widths: how good readings and moves are
offset  = %s           # of a found offset
angle   = 0.05           # of a found angle
placing = %s           # of a side move as the crew sets it
growth  = 0.2            # of growth and of journal shift, as a share of it ...
growth_least = %s      # ... and besides, also where it is 0

# [aim]
# use = 0.7              # share of every coupling limit that a plan may use
`, w.pick("0.05", "1.0 "), w.pick("[0.05, 0.1, 0.2, 0.5, 1.0, 2.0]", "[1, 2, 5, 10, 25, 50, 100]"), w.pick("0.02", "1.0 "), w.pick("0.02", "1.0 "), w.pick("0.02", "1.0 "))
}

func (w *writer) machine(i int, at float64) {
	gear := i == 1 && w.Gear
	w.line(`# ---- machine %d ----
[[machine]]
name   = %q
at     = %g             # station of the train where this machine's own x = 0 is
height = %s             # shaft centreline above the shim plane
rpm    = %s`, i+1, w.name(i), at, w.pick("500", "20"), w.rpm(i))
	if i == 0 {
		w.line(`# hold = true            # may not be moved
# effort = 2             # harder to move than others
# run = { v = %s, h = 0 }   # journal shift from rest to running; 0 and 0: none
# clearance = %s        # of its bearings, of the diameter: bounds the journal shift
# level = { pitch = 0.5, found = { pitch = 0.0 } }   # mrad off level: most, and now; roll too`, w.pick("0.05", "2"), w.pick("0.2", "8"))
	}
	if gear {
		w.line(`# roll = true            # left and right packs may differ; a twisted case shifts tooth contact
# level = { roll = 0.2, found = { roll = 0.0 } }   # mrad off level: most, and now; pitch too

[[machine.shaft]]
name = "low speed"
y    = %s              # from the machine's centreline, + left
# run = { v = %s, h = 0 }   # journal shift from rest to running, + up, + left; all 0: none
[[machine.shaft]]
name = "high speed"
y    = %s
rpm  = 6000`, w.pick("150", "6"), w.pick("0.05", "2"), w.pick("-150", "-6"))
	}
	for n, x := range []float64{w.first(), w.last()} {
		name := []string{"front", "rear"}[n]
		w.line(`
[[machine.foot]]         # a pair of feet: "%s left" and "%s right"
name   = %q
x      = %g
spread = %s            # between the two
shim   = %s            # pack under each of them now
raise  = %s            # most that may be added
bolt   = %s             # diameters
hole   = %s`, name, name, name, x, w.pick("800", "32"), w.pick("3.0", "120"), w.pick("5.0", "200"), w.pick("24", "1"), w.pick("28", "1.125"))
		if i == 0 && n == 0 {
			w.line(`# lower = %s             # most that may come out (default: all of the pack)
# pieces = %s   # the shims that the pack is made of, from the base up
# soft = %s            # soft foot: gap under it with its own bolt loose
# bolt_at = [0, %s]    # where the bolt sits from the hole's middle: along, + left
# fit = %-16q # in place of hole: one drilled to the standard
# travel = { left = %s, right = %s }   # less room than the hole has
# rise = %s              # warms by this much, %s, from cold to running ...
# material = "cast iron" # ... and is made of this: in place of machine.growth
# left = { shim = %s }   # what differs at one foot of the pair: any of these`,
				w.pick("2.5", "100"), w.pick("[2.0, 1.0]", "[100, 20]"), w.pick("0.05", "2.0"), w.pick("0.5", "0.02"),
				w.pick("medium", "normal"),
				w.pick("1.0", "40"), w.pick("1.0", "40"), w.pick("35", "60"), w.pick("°C", "°F"), w.pick("3.2", "126"))
		}
	}
	w.line(`
[[machine.growth]]       # from cold to running, up (v) and left (h): one station or two
x = %g
v = %s
# h = 0`, w.first(), w.pick("0.10", "4.0"))
	if i == 0 {
		w.line(`
# [[machine.nozzle]]     # a point that pipes hold: how far it may be displaced
# name  = "suction"
# x     = %s
# y     = 0
# z     = %s
# limit = %s`, w.pick("800", "32"), w.pick("900", "36"), w.pick("0.5", "20"))
	}
	w.line("")
}

func (w *writer) rpm(i int) string {
	if w.Gear && i > 1 {
		return "6000"
	}
	return "1500"
}

// end is the shaft that a coupling sits on.
func (w *writer) end(i int, to bool) string {
	name := w.name(i)
	if i == 1 && w.Gear {
		if to {
			return name + "/low speed"
		}
		return name + "/high speed"
	}
	return name
}

func (w *writer) coupling(i int) {
	behind := float64(i)*w.pitch() + w.last()
	next := float64(i+1)*w.pitch() + w.first()
	x := (behind + next) / 2
	half := w.length(100, 4)
	w.line(`# ---- coupling %d ----
[[coupling]]
name = "coupling %d"
from = %q
to   = %q
x    = %g              # plane of the offsets, in stations of the train
# flex = [%g, %g]     # a spacer coupling: its two flex planes; then no limit on the offset

[coupling.limit]         # from the coupling's maker, or your own standard
offset = %s
angle  = 0.5

[coupling.found]         # how the second shaft stands against the first, cold
%[9]sv = { offset = , angle = }   # + high, + climbing as x grows
%[9]sh = { offset = , angle = }   # + left, + turning left
`, i+1, i+1, w.end(i, false), w.end(i+1, true), x, x-half, x+half, w.pick("0.05", "2.0"), tree.ToRead)
	if i > 0 {
		return
	}
	w.line(`# Or, in place of v and h: what dials read, both shafts turned together. Two rims
# at two planes, or a rim and a face.
# [[coupling.reading]]
# kind  = "rim"
# on    = %q             # the shaft that the plunger touches
# x     = %g
# clock = { 12 = 0.0, 3 = 0.0, 6 = 0.0, 9 = 0.0 }   # plunger pushed in: +
# sag   = 0.0            # of the bracket at 6 on a stiff mandrel, zeroed at 12
# [[coupling.reading]]
# kind   = "face"
# on     = %q
# radius = %s
# clock  = { 12 = 0.0, 3 = 0.0, 6 = 0.0, 9 = 0.0 }
`, w.end(1, true), x+half/2, w.end(1, true), w.pick("100", "4"))
}

func (w *writer) tail() {
	w.line(`# ---- limits by speed, from your own standard: for couplings without coupling.limit ----
# [[band]]
# up_to_rpm = 3600
# offset = %s          # at one engagement plane
# angle = 0.5
# flex_angle = 0.5       # of a spacer coupling, at each flex plane

# ---- conditions beside "running", which always applies ----
# [[condition]]
# name   = "cold start"
# growth = 0.0           # share of growth that is there
# use    = 1.5           # above 1 only with the coupling maker's figures for that state

# Lock out and tag out before anyone touches a machine. Site rules and makers'
# manuals come first.`, w.pick("0.05", "2.0"))
}
