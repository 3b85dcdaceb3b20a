package view

import (
	"math"
	"slices"

	"leastmove/optimize"
)

// Spare is the share above the least total that a plan may spend on moving fewer machines and on closer
// couplings.
const Spare = optimize.Spare

// An Aim is what keeping a share of the coupling limits costs.
type Aim struct {
	optimize.FrontPoint
	This bool // it is the plan itself
}

// keptOf is the share of the limits that what is proven of a plan speaks of: its aim, or what could be kept where
// the aim could not.
func keptOf(p *optimize.Plan) float64 {
	if !math.IsNaN(p.Kept) {
		return p.Kept
	}
	return math.Max(p.Aim, p.Reached/(1+Fair))
}

// aimsOf are other aims and the plan among them, from all of the limits down.
func aimsOf(p *optimize.Plan) []Aim {
	if len(p.Front) == 0 {
		return nil
	}
	var all []Aim
	for _, f := range p.Front {
		all = append(all, Aim{f, false})
	}
	all = append(all, Aim{optimize.FrontPoint{Use: keptOf(p), Total: p.Total, Bound: p.Bound}, true})
	slices.SortStableFunc(all, func(a, b Aim) int {
		switch {
		case a.Use > b.Use:
			return -1
		case a.Use < b.Use:
			return 1
		}
		return 0
	})
	return all
}

// easierOf is the smallest share of the limits, wider than what a plan keeps, that takes far less movement:
// coming close to an aim that can't be kept may be dear. nil: there is none.
func easierOf(p *optimize.Plan) *optimize.FrontPoint {
	const far = 0.75 // share of the plan's total that counts as far less
	var out *optimize.FrontPoint
	for i := range p.Front { // widest first
		if f := &p.Front[i]; f.Use > p.Reached && f.Total <= far*p.Total {
			out = f
		}
	}
	return out
}
