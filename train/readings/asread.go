package readings

import (
	"math"

	"leastmove/train"
)

// AsRead is what dials that sit like d read at angles in degrees, zeroed at 12: in
// mm, in the dial's own direction, sag in it; NaN where nothing was read, nothing at
// 12, or where several passes or turns differ.
func AsRead(dials []train.Dial, d *train.Dial, degrees []float64) []float64 {
	out := make([]float64, len(degrees))
	for i, a := range degrees {
		var all []float64
		for n := range dials {
			if SitAlike(&dials[n], d) {
				all = append(all, zeroed(readAt(&dials[n], a), one(readAt(&dials[n], 0)))...)
			}
		}
		out[i] = one(all)
	}
	return out
}

// AsReadAt is what instruments that sit like the OffsetDial d gave, in mm, + high
// and + left; NaN as in AsRead.
func AsReadAt(dials []train.Dial, d *train.Dial) (v, h float64) {
	var vs, hs []float64
	for n := range dials {
		if SitAlike(&dials[n], d) {
			vs, hs = append(vs, dials[n].V), append(hs, dials[n].H)
		}
	}
	return one(vs), one(hs)
}

// readAt are the readings of a dial at an angle in degrees.
func readAt(d *train.Dial, degrees float64) []float64 {
	var out []float64
	for i, a := range d.Angles {
		if math.Abs(turned(a)-degrees) < same {
			out = append(out, d.Values[i])
		}
	}
	return out
}

// zeroed is all with a zero taken off.
func zeroed(all []float64, zero float64) []float64 {
	for i := range all {
		all[i] -= zero
	}
	return all
}

// one is what all of some numbers are; NaN: they differ, or there are none.
func one(all []float64) float64 {
	const rounding = 1e-9 // mm, of the arithmetic
	for _, v := range all {
		if !(math.Abs(v-all[0]) <= rounding) {
			return math.NaN()
		}
	}
	if all == nil {
		return math.NaN()
	}
	return all[0]
}
