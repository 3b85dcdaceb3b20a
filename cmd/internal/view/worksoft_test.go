package view

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"leastmove/optimize"
	"leastmove/train"
)

// A soft foot is 0.05 mm at any machine. Where packs leave 0.03, a foot may have 0.02 of its own before the moves, so
// that it ends at 0.05; where they leave 0.045, a step of the dial, and it ends at 0.055, below the stop of 0.045 and
// two steps.
func TestSoftFootThatThePacksLeave(t *testing.T) {
	for _, c := range []struct {
		left, first, stop float64
		other             bool
	}{
		{0, 0.05, 0.05, false},
		{0.004, 0.05, 0.05, false}, // less than a dial shows
		{0.03, 0.02, 0.05, false},
		{-0.03, 0.02, 0.05, false},
		{0.045, 0.01, 0.065, true},
	} {
		p := &optimize.Plan{}
		p.Train = &train.Train{Machines: []train.Machine{{Feet: make([]train.Foot, 2)}}}
		p.Planned.Machines = []train.MachineState{{Feet: []train.FootState{{Soft: c.left}, {}}}}
		w := workMachine(p, 0)
		assert.InDelta(t, c.first, w.First, 1e-12, "%g", c.left)
		assert.InDelta(t, c.stop, w.Stop, 1e-12, "%g", c.left)
		assert.Equal(t, c.other, w.Other, "%g", c.left)
		assert.LessOrEqual(t, w.First+w.Most, w.Stop+1e-12, "who passed before the moves passes after them")
	}
}
