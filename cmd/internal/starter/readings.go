package starter

import (
	"slices"

	"leastmove/train/trainfile/tree"
)

// kind is how a coupling is read.
func (w *writer) kind(i int) Readings {
	switch len(w.Readings) {
	case 0:
		return NoReadings
	case 1:
		return w.Readings[0]
	default:
		return w.Readings[i]
	}
}

// drawings say what the blanks of the couplings are for, and where instruments sit: each kind
// once, dials of two kinds in one.
func (w *writer) drawings() []string {
	var out []string
	both := slices.Contains(w.Readings, Reverse) && slices.Contains(w.Readings, RimFace)
	if both {
		out = append(out, drawing(dials))
	}
	for _, kind := range []Readings{Reverse, RimFace, Offsets} {
		if slices.Contains(w.Readings, kind) && (kind == Offsets || !both) {
			out = append(out, drawing(kind))
		}
	}
	if len(w.Readings) == 0 {
		out = append(out, drawing(NoReadings))
	}
	return out
}

// dials are those of reverse dials and of a rim and a face.
const dials Readings = "dials"

func drawing(kind Readings) string {
	switch kind {
	case dials:
		return `# Shafts turned together, dials zeroed at 12, + as the plunger is pushed in. sag: read at 6 on a stiff bar.
#     .---------.           .---------.           .------> |            12
#     v         |           |         v           |        |          9 -+- 3  looking from the first
#  ==[##]     [##]==     ==[##]     [##]==     ==[##]    [##]==          6     machine to the last
#  rim, on = from           rim, on = to         face, on = to         radius: shaft centre to plunger`
	case Reverse:
		return `# Shafts turned together, dials zeroed at 12, + as the plunger is pushed in. sag: read at 6 on a stiff bar.
#      .---------.           .---------.                 12
#      v         |           |         v               9 -+- 3   looking from the first
#  ===[##]     [##]===   ===[##]     [##]===              6      machine to the last
#  on = from     to      from      on = to`
	case RimFace:
		return `# Shafts turned together, dials zeroed at 12, + as the plunger is pushed in. sag: read at 6 on a stiff bar.
#      .---------.           .------> |                  12
#      |         v           |        |                9 -+- 3   looking from the first
#  ===[##]     [##]===   ===[##]    [##]===               6      machine to the last
#  from   rim, on = to   from  face, on = to               radius: shaft centre to plunger`
	case Offsets:
		return `# Offsets of the "to" shaft from the "from" shaft, extended, at two planes x, cold: v + high, h + left.
#                 x     x
#                 |     |   _____===[##]=== to
#  ===[##]= - - - + - - + - - - - - - - - -
#  from`
	default:
		return `# found, cold: how the "to" shaft sits relative to the "from" shaft, extended. v: + high, + slopes
# up; h: + left, + points left, as x grows. From dials: leastmove new --readings, help readings.`
	}
}

// reading leaves blanks for what is read at a coupling whose plane is at x.
func (w *writer) reading(i int, x float64) {
	from, to := w.end(i, false), w.end(i+1, true)
	near := w.length(50, 2)
	const clock = "clock = { 12 = 0, 3 = , 6 = , 9 = }"
	rim := func(on string, x float64) {
		w.line("%s{ kind = \"rim\", on = %q, x = %g, %s, sag = },", tree.ToRead, on, x, clock)
	}
	kind := w.kind(i)
	if kind != NoReadings {
		w.line("reading = [")
		defer w.line("]")
	}
	switch kind {
	case Reverse:
		rim(from, x-near)
		rim(to, x+near)
	case RimFace:
		rim(to, x+near)
		w.line("%s{ kind = \"face\", on = %q, radius = %s, %s, sag = },", tree.ToRead, to, w.pick("100", "4"), clock)
	case Offsets:
		for _, plane := range []float64{x - near, x + near} {
			w.line("%s{ kind = \"offset\", x = %g, v = , h = },", tree.ToRead, plane)
		}
	default:
		w.line("%sfound = { v = { offset = , angle = }, h = { offset = , angle = } }", tree.ToRead)
	}
}
