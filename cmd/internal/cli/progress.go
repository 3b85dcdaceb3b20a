package cli

import (
	"fmt"
	"math"
	"time"

	"github.com/schollz/progressbar/v3"

	"leastmove/cmd/internal/view"
	"leastmove/train"
)

// patience is how long a search goes on before its progress is shown.
const patience = time.Second

// progress shows how a search goes on the standard error, where that is a
// terminal; done takes it away. Where it is none, tell is nil.
func (s streams) progress(units train.Units) (tell func(view.Progress), done func()) {
	if !isTerminal(s.err) {
		return nil, func() {}
	}
	bar := progressbar.NewOptions(-1,
		progressbar.OptionSetWriter(s.err),
		progressbar.OptionClearOnFinish(),
		progressbar.OptionThrottle(100*time.Millisecond),
		progressbar.OptionSpinnerType(9),
		progressbar.OptionSetElapsedTime(true),
	)
	start, shown := time.Now(), false
	tell = func(p view.Progress) {
		if time.Since(start) < patience {
			return
		}
		shown = true
		bar.Describe(going(p, units))
		bar.Add(1) // a terminal that is gone must not end the search
	}
	return tell, func() {
		if shown {
			bar.Finish()
		}
	}
}

// going says how far the search is: the best so far, what is proven, the gap.
func going(p view.Progress, units train.Units) string {
	if math.IsInf(p.Value, 1) || !(p.Value > 0) {
		return fmt.Sprintf("looking for a plan, %d bounds worked out", p.Solves)
	}
	gap := 100 * math.Max(0, 1-p.Bound/p.Value)
	if p.LeastUse {
		return fmt.Sprintf("best plan uses %.1f %% of the limits, none less than %.1f %%", 100*p.Value, 100*p.Bound)
	}
	unit := "mm"
	if units == train.Inches {
		unit = "mil"
	}
	return fmt.Sprintf("best plan %.2f %s, none below %.2f, gap %.2f %%",
		p.Value/units.Move(), unit, p.Bound/units.Move(), gap)
}
