package chart

import "leastmove/optimize"

// Figures are the names of those that are drawn from a plan alone.
func Figures() []string { return []string{"moves", "elevation", "plan", "couplings", "holes"} }

// Of is the figure of a name; nil: there is nothing to draw.
func Of(name string, p *optimize.Plan) []Drawing {
	switch name {
	case "moves":
		if !planned(p) {
			return nil
		}
		return Moves(p)
	case "elevation":
		return Elevation(p)
	case "plan":
		return Plan(p)
	case "couplings":
		return Couplings(p)
	case "holes":
		return Holes(p)
	}
	return nil
}
