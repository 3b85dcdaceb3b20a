package view

import (
	"math"

	"leastmove/optimize"
)

// Spare is the share above the least total that a plan may spend on moving fewer machines and on closer
// couplings.
const Spare = optimize.Spare

// keptOf is the share of the limits that what is proven of a plan speaks of: its aim, or what could be kept where
// the aim could not.
func keptOf(p *optimize.Plan) float64 {
	if !math.IsNaN(p.Kept) {
		return p.Kept
	}
	return math.Max(p.Aim, p.Reached/(1+Fair))
}
