package view

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"leastmove/optimize/diagnose"
)

// How far a foot is off its plan is said of the suspect alone that the machines' motions are worked out for: with
// readings in doubt first, the second suspect's foot would seem to be where it was sent.
func TestWentOffIsOfTheFirstSuspect(t *testing.T) {
	readings := diagnose.Suspect{Fault: Fault{Cause: Misread, Machine: -1, Coupling: 0}}
	foot := diagnose.Suspect{Fault: Fault{Cause: Elsewhere, Machine: 0, Feet: []int{0, 1}, Coupling: -1, Plane: Vertical}}
	r := &Verified{Verdict: &diagnose.Verdict{
		Machines: []diagnose.Motion{{Stations: []diagnose.Station{{Feet: []int{0, 1}, PlannedUp: 0.2, Up: 0.3}}}},
		Suspects: []diagnose.Suspect{foot, readings},
	}}
	off, known := r.WentOff(&foot.Fault)
	assert.True(t, known)
	assert.InDelta(t, 0.1, off, 1e-12)
	r.Verdict.Suspects = []diagnose.Suspect{readings, foot}
	_, known = r.WentOff(&foot.Fault)
	assert.False(t, known)
}
