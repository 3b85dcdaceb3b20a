package readings

import (
	"math"

	"leastmove/train"
)

// The unknowns that all dials of a coupling share, in the order of a row.
const (
	vOffset = iota // mm, at the coupling's plane
	vAngle         // mrad
	hOffset
	hAngle
	shared
)

// A state is the four shared unknowns.
type state [shared]float64

func stateOf(m train.Misalignment) state {
	return state{m.V.Offset, m.V.Angle, m.H.Offset, m.H.Angle}
}

func (s state) misalignment() train.Misalignment {
	return train.Misalignment{
		V: train.Tilt{Offset: s[vOffset], Angle: s[vAngle]},
		H: train.Tilt{Offset: s[hOffset], Angle: s[hAngle]},
	}
}

// at is the offset in mm, left and up, at a station d mm past the coupling's
// plane.
func (s state) at(d float64) (left, up float64) {
	return s[hOffset] + s[hAngle]*d/1000, s[vOffset] + s[vAngle]*d/1000
}

// toward is the direction of the plunger at an angle in degrees.
func toward(degrees float64) (left, up float64) {
	sin, cos := math.Sincos(degrees * math.Pi / 180)
	return -sin, cos
}

// row is how the reading at an angle follows the shared unknowns: the linear
// part of the equations in the package comment. x is the coupling's plane.
func row(d *train.Dial, x, degrees float64) state {
	left, up := toward(degrees)
	sign := 1.0
	if d.Kind == train.FaceDial {
		if d.Away {
			sign = -1
		}
		arm := sign * d.Radius / 1000
		return state{vAngle: arm * up, hAngle: arm * left}
	}
	if d.OnFrom {
		sign = -1
	}
	arm := (d.X - x) / 1000
	return state{sign * up, sign * up * arm, sign * left, sign * left * arm}
}

// round is q of the package comment in mm: what true geometry adds to the linear
// part of a rim's reading. Without a radius only what turns once a round is
// known, of third order; a whole circle does not need the rest.
func round(d *train.Dial, x, degrees float64, s state) float64 {
	if d.Kind != train.RimDial {
		return 0
	}
	left, up := toward(degrees)
	oLeft, oUp := s.at(d.X - x)
	sLeft, sUp := s[hAngle]/1000, s[vAngle]/1000
	offset, slope := oLeft*left+oUp*up, sLeft*left+sUp*up // o·u and s·u
	both := oLeft*sLeft + oUp*sUp                         // o·s
	n := math.Sqrt(1 + sLeft*sLeft + sUp*sUp)
	// The plunger meets the cylinder at the larger root of a t² + 2 b t + c = 0.
	a, square := 1-slope*slope/(n*n), oLeft*oLeft+oUp*oUp
	b, linear := -offset+both*slope/(n*n), offset
	if d.OnFrom {
		b, linear = offset-both*slope/(n*(n+1)), -offset
	} else {
		square -= both * both / (n * n)
	}
	if math.IsNaN(d.Radius) {
		return -b/a - linear
	}
	inside := b*b - a*(square-d.Radius*d.Radius)
	if inside < 0 {
		return 0 // no circle there: the fit itself will be far off
	}
	return (-b+math.Sqrt(inside))/a - d.Radius - linear
}

// sagged is what the bracket's sag adds at an angle, in mm, + pushed in.
func sagged(d *train.Dial, degrees float64) float64 {
	if math.IsNaN(d.Sag) {
		return 0
	}
	_, up := toward(degrees)
	return direction(d) * d.Sag * (1 - up) / 2
}

// direction is -1 for a dial that reads less as its plunger is pushed in.
func direction(d *train.Dial) float64 {
	if d.Reversed {
		return -1
	}
	return 1
}

// corrected is reading i of the dial in mm, + pushed in, without sag.
func corrected(d *train.Dial, i int) float64 {
	return direction(d)*d.Values[i] - sagged(d, d.Angles[i])
}

// standard is the standard error of one reading in mm.
func standard(d *train.Dial) float64 {
	if d.Error > 0 {
		return d.Error / train.Half95
	}
	return usualError
}
