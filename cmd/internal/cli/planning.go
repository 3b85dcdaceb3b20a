package cli

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"leastmove/cmd/internal/pages"
	"leastmove/cmd/internal/view"
	"leastmove/train"
)

// A planning is how a plan is asked for, by every command that makes one.
type planning struct {
	view.Options
	gap      float64 // per cent
	relieve  int     // number of an option, from 1; 0: none
	strategy string
	assure   float64     // chance asked for; 0: none
	pools    *view.Pools // that are kept between questions; nil: none are
}

func (p *planning) flags(c *cobra.Command) {
	f := c.Flags()
	f.StringVar(&p.strategy, "strategy", string(view.LeastTotal),
		"`what` to make least first: "+strings.Join(strategies(), ", "))
	offered(c, "strategy", strategies())
	moving(c, &p.Options)
	f.Float64Var(&p.Use, "use", 0, "`share` of every coupling limit that the plan may use, 0 to 1 "+
		"(0.7 leaves a margin of 30 %; default: the train file's aim)")
	f.Float64Var(&p.assure, "assure", 0,
		"least movement with this `chance` of ending within all limits, 0 to 1, "+
			"the file's [errors] given; in place of the aim")
	f.Float64Var(&p.gap, "gap", 0.1,
		"how much lower in `per cent` the least total can be at most, by the "+
			"proven bound, for a plan to count as the least")
	f.IntVar(&p.Solves, "work", 0, "most `bounds` worked out in one search (default: 40000, fewer for more "+
		"than twelve machines); the same file gives the same plan on every computer with the same kind of processor")
	f.DurationVar(&p.Limit, "time-limit", 0,
		"most `time` to search, like 5s or 2m; the plan may then differ from run to run, and says so (default: none)")
	f.IntVar(&p.relieve, "relieve", 0,
		"where no plan exists, plan with the option of this `number` in the list of options")
	f.BoolVar(&p.Widen, "widen", false, "where no plan exists, look at wider coupling limits as an option too")
}

// look is the word on flags that ask for what can't be. A command has some of them.
func (p *planning) look(flags *pflag.FlagSet) error {
	switch {
	case flags.Changed("use") && !(p.Use > 0 && p.Use <= 1):
		return fmt.Errorf("--use is %g: a share of the coupling limits is above 0 and at most 1", p.Use)
	case flags.Changed("gap") && !(p.gap > 0 && p.gap <= 100):
		return fmt.Errorf("--gap is %g: a gap in per cent is above 0 and at most 100", p.gap)
	case flags.Changed("work") && p.Solves < 1:
		return fmt.Errorf("--work is %d: it is at least 1", p.Solves)
	case flags.Changed("time-limit") && p.Limit <= 0:
		return fmt.Errorf("--time-limit is %s: it is above 0, like 5s or 2m", p.Limit)
	case flags.Changed("relieve") && p.relieve < 1:
		return fmt.Errorf("--relieve is %d: it is the number of an option, from 1", p.relieve)
	case flags.Changed("strategy") && !slices.Contains(strategies(), p.strategy):
		return noneOf("strategy", p.strategy, strategies(), strings.Join(strategies(), ", "))
	}
	p.Gap, p.Strategy = p.gap/100, view.Strategy(p.strategy)
	switch {
	case !flags.Changed("assure"):
		return nil
	case !(p.assure > 0 && p.assure < 1):
		return fmt.Errorf("--assure is %g: a chance is above 0 and below 1, like 0.95", p.assure)
	case flags.Changed("use"):
		return errors.New("--assure and --use: the chance says what margin every limit keeps; give one of them")
	case p.Strategy != view.LeastTotal:
		return fmt.Errorf("--assure and --strategy %s: an assured plan makes the total least", p.Strategy)
	}
	return nil
}

// fits is the word on what is asked for of a train that can't be had of it.
func (p *planning) fits(t *train.Train) error {
	if err := inTrain(t, &p.Options); err != nil {
		return err
	}
	if p.assure > 0 && t.Errors == (train.Errors{}) {
		return refused("--assure: the train file does not say how good the readings are: add [errors] with offset, " +
			"angle, placing and growth, the half-widths that hold 95 %% of the time")
	}
	if open := t.Unstated(); p.assure > 0 && len(open) > 0 {
		return refused("--assure: no chance can be given: %s", pages.Open(t, open))
	}
	return nil
}

// solve plans a train.
func (p *planning) solve(ctx context.Context, t *train.Train) (*view.Plan, error) {
	opt := p.Options
	p.assure = view.AsFile(t, &opt, p.assure)
	a, err := view.Ask(ctx, p.pools, t, opt, p.assure, t.Aim.Chance)
	if err != nil {
		return nil, err
	}
	return a.Plan, nil
}

// strategies are the words for --strategy.
func strategies() []string {
	var names []string
	for _, s := range view.Strategies() {
		names = append(names, string(s))
	}
	return names
}
