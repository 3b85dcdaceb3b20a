package cli

import (
	"context"
	"io"

	"github.com/spf13/cobra"

	"leastmove/cmd/internal/chart"
	"leastmove/cmd/internal/pages"
	"leastmove/cmd/internal/view"
)

// newVerify is `leastmove verify`.
func newVerify(s streams) *cobra.Command {
	ask := &request{form: form{offers: []string{formatText, formatHTML, formatJSON}}}
	c := s.onTrain(&cobra.Command{
		Use:   "verify PLAN.json AFTER.toml",
		Short: "after the moves: say what became of the plan",
		Long: `Set what was read after the moves beside the plan: before, planned and after at
every coupling, against its limits and against the errors to expect; which foot
or machine most likely did not go where the plan sent it, and likely causes; and
what is left to do where limits are not met.
PLAN.json is what plan --format json wrote before the moves. AFTER.toml is the
train file with the new readings, and with packs, bolt_at, lower, raise, travel
and level.found as they are now: new --from --plan works them out; measure them.`,
		Example: `  leastmove plan train.toml --format json -o plan.json
  leastmove new --from train.toml --plan plan.json -o after.toml
                           then make the moves, read and measure, fill in
  leastmove verify plan.json after.toml
  leastmove verify plan.json after.toml --format html -o after.html`,
	}, ask, ask.look, verified)
	c.Args, c.ValidArgsFunction = planAndFile, completePlanAndFile
	ask.form.flags(c)
	c.Flags().Float64Var(&ask.Use, "use", 0,
		"`share` of every coupling limit that the plan from here may use, 0 to 1 (default: the train file's aim)")
	return c
}

// verified sets what was read after the moves beside the plan.
func verified(ctx context.Context, j *job) (answer, error) {
	j.Brief = true
	given, faults := j.given.Given(j.src.train)
	if faults != nil {
		return answer{}, j.faulty(j.plan, faults)
	}
	r, odds, err := view.Verify(ctx, given, j.src.train, j.Options)
	switch {
	case err != nil:
		return answer{}, err
	case odds != nil:
		return answer{}, j.faulty(j.plan, j.given.AtOdds(j.src.train, odds))
	}
	a := answer{write: written(j, r, writers[*view.Verified]{
		formatText: pages.VerifyText, formatJSON: verifyJSON,
		formatHTML: func(w io.Writer, r *view.Verified, layout pages.Page) error {
			page, err := pages.VerifyDoc(r, layout, shown(j.plan), fileOf(j.src), chart.FiguresAfter(r.Figures()))
			if err != nil {
				return err
			}
			return page.HTML(w)
		},
	})}
	switch {
	case !r.Met():
		a.ending = &ending{code: exitImpossible}
	case r.ReadAgain() != nil:
		a.ending = &ending{code: exitUndecided}
	}
	return a, nil
}
