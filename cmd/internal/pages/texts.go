package pages

import (
	"fmt"

	"leastmove/cmd/internal/view"
)

// Texts are the sentences that documents for programs have too.
type Texts struct{}

// Option is an option: what to do to the machines or to the limits.
func (Texts) Option(p *view.Plan, r view.Relaxation) string { return formatterFor(p).advice(r) }

// Misfit is a number of a plan that can't be set.
func (Texts) Misfit(p *view.Plan, m view.Misfit) string { return formatterFor(p).misfit(m) }

// Suspect is what may have gone otherwise than planned.
func (Texts) Suspect(r *view.Verified, s *view.Suspect) string {
	v := verifiedOf(r)
	return fmt.Sprintf("%s: %s", v.place(&s.Fault), v.happened(&s.Fault))
}

// Assumed are the errors that nothing states.
func (Texts) Assumed(r *view.Verified) []string { return verifiedOf(r).assumed() }

// Differences are those between plan and train file.
func (Texts) Differences(r *view.Verified) []string { return verifiedOf(r).differences() }

// UsedUp is what the plan used of limits, and the train file does not say, and bolts that may sit elsewhere.
func (Texts) UsedUp(r *view.Verified) []string {
	v := verifiedOf(r)
	if bolts := v.boltsInDoubt(); bolts != "" {
		return append(v.usedUp(), bolts)
	}
	return v.usedUp()
}
