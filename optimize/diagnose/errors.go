package diagnose

import (
	"math"

	"leastmove/train"
)

// Half-widths (95 %) that are reckoned with where neither the file nor the
// readings say: ours, no published ones were found. A crew reads an offset to
// about two marks of a dial, and sets a foot as well as it reads it.
const (
	UsualOffset = 0.02 // mm
	UsualAngle  = 0.05 // mrad
	UsualPlace  = 0.02 // mm, up and sideways
	UsualGap    = 0.1  // mm, between shaft ends
)

// An Assumed is an error that nothing states, so that the usual one is taken.
type Assumed int

// The errors that may have to be assumed.
const (
	AssumedOffset  Assumed = iota // of reading an offset
	AssumedAngle                  // of reading an angle
	AssumedPlacing                // of placing a foot
)

// Errors are the standard errors of what is read now less what was planned, from the 95 %
// half-widths of the readings before and after (mm and mrad, NaN where they do not show): those,
// else the ones that the file states, else the usual ones; and which usual ones were taken.
// gap in mm is that of the distance between shaft ends.
func Errors(stated train.Errors, before, after train.Misalignment) (e train.Misalignment, gap float64,
	usual []Assumed) {
	both := func(before, after, stated, most float64, what Assumed) float64 {
		var sum float64
		for _, half := range [2]float64{before, after} {
			if math.IsNaN(half) {
				if half = stated; half == 0 {
					half = most
					usual = append(usual, what)
				}
			}
			sum += half * half
		}
		return math.Sqrt(sum) / train.Half95
	}
	tilt := func(before, after train.Tilt) train.Tilt {
		return train.Tilt{
			Offset: both(before.Offset, after.Offset, stated.Offset, UsualOffset, AssumedOffset),
			Angle:  both(before.Angle, after.Angle, stated.Angle, UsualAngle, AssumedAngle),
		}
	}
	e = train.Misalignment{V: tilt(before.V, after.V), H: tilt(before.H, after.H)}
	return e, UsualGap * math.Sqrt2 / train.Half95, usual
}
