package readings

import (
	"math"
	"slices"

	"leastmove/train"
)

// same in degrees is how near two positions are one.
const same = 1e-6

// turned is an angle in degrees from 0 up to, but not, 360.
func turned(degrees float64) float64 {
	a := math.Mod(degrees, 360)
	if a < 0 {
		a += 360
	}
	if a > 360-same {
		a = 0
	}
	return a
}

// places are the dial's different positions in degrees, ascending.
func places(d *train.Dial) []float64 {
	var out []float64
	for _, a := range sorted(d.Angles) {
		if len(out) == 0 || a-out[len(out)-1] > same {
			out = append(out, a)
		}
	}
	return out
}

func positions(d *train.Dial) int { return len(places(d)) }

// arc is the smallest arc in degrees that holds all positions.
func arc(d *train.Dial) float64 {
	at := places(d)
	widest := at[0] + 360 - at[len(at)-1]
	for i := 1; i < len(at); i++ {
		widest = math.Max(widest, at[i]-at[i-1])
	}
	return 360 - widest
}

// sorted are angles in degrees within one turn, ascending.
func sorted(degrees []float64) []float64 {
	out := make([]float64, len(degrees))
	for i, a := range degrees {
		out[i] = turned(a)
	}
	slices.Sort(out)
	return out
}
