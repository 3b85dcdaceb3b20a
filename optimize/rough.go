package optimize

import (
	"context"

	"leastmove/optimize/bnb"
	"leastmove/optimize/mip"
)

// A rough plan comes before the search where that may be cut short by a clock, or where the
// train is so large that the search for the least total may end without any plan: one with
// a low worst use, which a few cone programs find. The search starts from it.

const (
	// fewConditions is how many conditions the bounds on work are made for. Each makes a cone
	// program dearer, so of more there are fewer programs.
	fewConditions = 8
	// roughSolves is how many cone programs go into a rough plan, and mostForAim how many more
	// of them into one that keeps the aim, where the train is large.
	roughSolves, mostForAim = 60, 800
)

// large says whether the train has so many conditions that bounds on work count them.
func (m *Solver) large() bool { return len(m.Plan.Train.Conditions) > fewConditions }

// rough is where a search for a plan within the aim starts; nil: nothing was found, or
// the search needs no start.
func (m *Solver) rough(ctx context.Context) []mip.Steps {
	if _, timed := ctx.Deadline(); !timed && !m.large() {
		return nil
	}
	var start []mip.Steps
	for _, solves := range [...]int{roughSolves, mostForAim} {
		r := m.Find(ctx, LowestUse(),
			bnb.Options{Solves: solves, Enough: m.Plan.Aim, Start: start, Tell: m.Options.Tell})
		if r.Steps != nil {
			start = []mip.Steps{r.Steps}
		}
		if r.Value <= m.Plan.Aim || r.Bound > m.Plan.Aim || !m.large() {
			break
		}
	}
	return start
}
