package pages

import (
	"bytes"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/cmd/internal/view"
)

// That the aim can't be kept is said where it is proven and nowhere else.
func TestOtherPlansSayOfTheAimWhatIsProven(t *testing.T) {
	p := view.Of(plannedInch(t))
	p.Others = &view.OtherPlans{Rows: []view.OtherPlan{{Found: true, Share: 0.91}},
		Missed: &view.MissedAim{Aim: 0.9, Above: 0.05}}
	for unreachable, said := range map[bool]string{
		true: "The aim of 90 % can't be kept. The plan has", false: "No plan that keeps the aim of 90 % was found. " +
			"The plan has",
	} {
		p.Unreachable = unreachable
		s := &planText{formatter: formatterFor(p), plan: p}
		s.others()
		var b bytes.Buffer
		require.NoError(t, s.Doc.Text(&b, 80))
		assert.Contains(t, flat(b.String()), said)
	}
}
