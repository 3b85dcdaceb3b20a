package trainfile

import (
	"fmt"
	"math"

	"leastmove/train"
)

// slack in mm is what rounding may do to a sum of numbers from a file.
const slack = 1e-9

// pack reads the pack under a foot and works out how far the foot may sink: by
// what may come out, and by what was taken off the foot or its base.
func (r *reader) pack(f footing, foot *train.Foot, shims train.Shims) {
	r.lower(f, foot, shims)
	foot.Cut = f.number("cut")
	foot.Lower += foot.Cut
}

// lower works out how much of the pack may come out.
func (r *reader) lower(f footing, foot *train.Foot, shims train.Shims) {
	key := r.thickness(f, foot, shims)
	if !f.has("lower") {
		foot.Lower = math.Inf(1)
		if key != "" {
			foot.Lower = foot.Pack - shims.Keep
		}
		if foot.Lower < 0 {
			r.warn(f.at(key), fmt.Sprintf("%s, less than the %s that must stay (shims.keep)", r.packed(f, key, foot),
				r.show(shims.Keep, Move)),
				fmt.Sprintf("the plan will add %s or more here", r.show(-foot.Lower, Move)))
		}
		return
	}
	foot.Lower = f.numberOr("lower", 0)
	switch left := foot.Pack - foot.Lower; {
	case left < -slack:
		pack := r.show(foot.Pack, Move)
		if key == "shim" {
			pack = r.value(f.of("shim"), "shim", Move)
		}
		r.fault(f.at("lower"), fmt.Sprintf("lower is %s, more than the pack of %s", r.value(f.of("lower"), "lower", Move),
			pack),
			"no more than the pack can come out")
	case left < shims.Keep-slack:
		r.warn(f.at("lower"), fmt.Sprintf("lower leaves %s of the pack, shims.keep asks for %s", r.show(left, Move),
			r.show(shims.Keep, Move)),
			"lower holds for this foot")
	}
}

// packed says what a pack is, by the key that gave it.
func (r *reader) packed(f footing, key string, foot *train.Foot) string {
	if key == "shim" {
		return "shim is " + r.value(f.of("shim"), "shim", Move)
	}
	return "the pieces come to " + r.show(foot.Pack, Move)
}

// thickness reads the pack from shim, from pieces or from both, and is the key
// that gave it; "" where neither did. What is stated for one foot of a pair
// stands for itself: what its pair says of the pack gives way.
func (r *reader) thickness(f footing, foot *train.Foot, shims train.Shims) string {
	s := f.pair
	if f.own != nil && (f.own.has("shim") || f.own.has("pieces")) {
		s = f.own
	}
	foot.Pack = s.number("shim")
	foot.Pieces = s.list("pieces")
	sum := 0.0
	for _, p := range foot.Pieces {
		sum += p
	}
	switch {
	case !s.has("pieces"):
		if !s.has("shim") {
			return ""
		}
	case !s.good("pieces"):
	case sum > packs.Max && !r.unknown:
		r.fault(s.at("pieces"), fmt.Sprintf("the pieces come to %s, a pack must be %s", r.show(sum, Move),
			(&Key{Unit: Move, Range: packs}).Allowed(r.units)), "")
		return ""
	case !s.has("shim"):
		foot.Pack = sum
		return "pieces"
	case math.Abs(sum-foot.Pack) > shims.Step/2+slack && !r.unknown:
		r.fault(s.at("pieces"), fmt.Sprintf("the pieces come to %s, but shim is %s", r.show(sum, Move),
			r.value(s, "shim", Move)),
			fmt.Sprintf("more than half a shim step (%s) apart: measure the pack again, or give pieces alone",
				r.show(shims.Step/2, Move)))
	}
	return "shim"
}
