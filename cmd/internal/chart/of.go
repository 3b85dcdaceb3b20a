package chart

import "leastmove/cmd/internal/view"

// Figures are the names of those that are drawn from a plan alone.
func Figures() []string { return []string{"moves", "elevation", "plan", "couplings", "holes", "signs"} }

// Of is the figure of a name; nil: there is nothing to draw.
func Of(name string, f *view.Figures) []Drawing {
	switch name {
	case "moves":
		if !f.Planned {
			return nil
		}
		return Moves(f)
	case "elevation":
		return Elevation(f)
	case "plan":
		return Plan(f)
	case "couplings":
		return Couplings(f)
	case "holes":
		return Holes(f)
	case "signs":
		return Signs(f)
	}
	return nil
}
