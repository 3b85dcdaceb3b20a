package verify

import (
	"math"
	"slices"

	"leastmove/train"
)

// Half-widths (95 %) that are reckoned with where neither the file nor the
// readings say: ours, no published ones were found. A crew reads an offset to
// about two marks of a dial, and sets a foot as well as it reads it.
const (
	usualOffset = 0.02 // mm
	usualAngle  = 0.05 // mrad
	usualPlace  = 0.02 // mm, up and sideways
	usualGap    = 0.1  // mm, between shaft ends
)

// errors are the standard errors of what is read now less what was planned, from
// the readings before and after: those that their fits show, else those of the
// file, else usual ones.
func (r *Result) errors(i int, half train.Misalignment) (train.Misalignment, float64) {
	c := &r.Train.Couplings[i]
	now := train.Misalignment{V: unknown(), H: unknown()}
	if c.Fit != nil {
		now = c.Fit.Half
	}
	both := func(before, now, stated, usual float64, what string) float64 {
		var sum float64
		for _, half := range [2]float64{before, now} {
			if math.IsNaN(half) {
				if half = stated; half == 0 {
					half = usual
					r.assume(what)
				}
			}
			sum += half * half
		}
		return math.Sqrt(sum) / train.Half95
	}
	tilt := func(before, now train.Tilt) train.Tilt {
		return train.Tilt{
			Offset: both(before.Offset, now.Offset, r.Train.Errors.Offset, usualOffset, "of reading an offset"),
			Angle:  both(before.Angle, now.Angle, r.Train.Errors.Angle, usualAngle, "of reading an angle"),
		}
	}
	return train.Misalignment{V: tilt(half.V, now.V), H: tilt(half.H, now.H)}, usualGap * math.Sqrt2 / train.Half95
}

// placing is the half-width of what is set at a foot.
func (r *Result) placing() float64 {
	if p := r.Train.Errors.Placing; p > 0 {
		return p
	}
	r.assume("of placing a foot")
	return usualPlace
}

func (r *Result) assume(what string) {
	if !slices.Contains(r.Assumed, what) {
		r.Assumed = append(r.Assumed, what)
	}
}

func unknown() train.Tilt { return train.Tilt{Offset: math.NaN(), Angle: math.NaN()} }
