package readings

import (
	"strconv"

	"leastmove/train"
)

// Target is what a dial will show at angles in degrees for a misalignment,
// zeroed at the first of them: in mm, in the dial's own direction, sag and
// second order in it. x in mm is the coupling's plane. An OffsetDial has no
// angles: its own are V and H.
func Target(d *train.Dial, x float64, m train.Misalignment, degrees []float64) []float64 {
	s := stateOf(m)
	out := make([]float64, len(degrees))
	for i, a := range degrees {
		v := round(d, x, a, s) + sagged(d, a)
		for k, c := range row(d, x, a) {
			v += c * s[k]
		}
		out[i] = direction(d) * v
	}
	for i := len(out) - 1; i >= 0; i-- {
		out[i] -= out[0]
	}
	return out
}

// TargetAt is how high and how far left in mm the To shaft will stand at the
// station in mm of an OffsetDial.
func TargetAt(d *train.Dial, x float64, m train.Misalignment) (v, h float64) {
	h, v = stateOf(m).at(d.X - x)
	return v, h
}

// A mount is how a dial sits: all but when it was read.
type mount struct {
	kind                         train.DialKind
	onFrom, away, reversed, pair bool
	x, radius, sag               string
}

// mountOf compares numbers as they are printed: NaN is like itself there.
func mountOf(d *train.Dial) mount {
	exact := func(v float64) string { return strconv.FormatFloat(v, 'g', -1, 64) }
	return mount{d.Kind, d.OnFrom, d.Away, d.Reversed, d.Pair, exact(d.X), exact(d.Radius), exact(d.Sag)}
}

// SitAlike says whether two dials differ in no more than when they were read.
func SitAlike(a, b *train.Dial) bool { return mountOf(a) == mountOf(b) }

// Different are the dials without those that differ only in when they were
// read: what a crew puts on once.
func Different(dials []train.Dial) []int {
	seen := map[mount]bool{}
	var out []int
	for i := range dials {
		if m := mountOf(&dials[i]); !seen[m] {
			seen[m] = true
			out = append(out, i)
		}
	}
	return out
}
