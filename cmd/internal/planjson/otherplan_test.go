package planjson

import (
	"fmt"
	"reflect"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/cmd/internal/view"
	"leastmove/optimize"
	"leastmove/optimize/ways"
)

// The descriptions name every value that there is; every number has a unit that the schema
// knows.
func TestOtherPlanTags(t *testing.T) {
	about := func(form any, field string) string {
		f, is := reflect.TypeOf(form).FieldByName(field)
		require.True(t, is, field)
		return f.Tag.Get("about")
	}
	for text, values := range map[string][]any{
		about(OtherPlan{}, "Names"): {ways.AskLeast, ways.AskFewest, ways.AskMargin, ways.AskChance,
			ways.AskInReach, ways.AskClosest, ways.AskWithout},
		about(OtherPlan{}, "Status"):    {optimize.Planned, optimize.Impossible, optimize.Undecided},
		about(PlanVerdict{}, "Verdict"): {view.CarryOut, view.Marginal, view.NotAdvised, view.NotJudged},
		about(PlanVerdict{}, "Reason"): {view.ChanceKept, view.NoErrors, view.NoGrowth, view.NoRun, view.NoGap,
			view.LimitsBroken},
		about(VerdictStep{}, "Step"): {view.TakePlan, view.MeasureWell, view.StateErrors, view.StateGrowth},
	} {
		for _, v := range values {
			assert.Contains(t, text, fmt.Sprint(v))
		}
	}
	for _, form := range []any{OtherPlan{}, PlanVerdict{}, VerdictStep{}} {
		for _, f := range fieldsOf(reflect.TypeOf(form)) {
			require.NotEmpty(t, f.about, f.key)
			if f.kind == reflect.TypeFor[Number]() {
				assert.Contains(t, unitWords(), f.unit, f.key)
			} else {
				assert.Empty(t, f.unit, f.key)
			}
		}
	}
}
