package view

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"leastmove/optimize"
	"leastmove/train"
)

// A limit that feet break cold and hot is told once, where it is broken by most; one of couplings is told by condition.
func TestBrokenLimitsAreToldOnce(t *testing.T) {
	at := func(foot, condition int, value float64) optimize.Constraint {
		return optimize.Constraint{Limit: optimize.Limit{Kind: train.LimitBolt, Machine: 1, Foot: foot, Nozzle: -1,
			Coupling:  -1,
			Condition: condition}, Value: value, Bound: 1}
	}
	coupling := func(condition int) optimize.Constraint {
		return optimize.Constraint{Limit: optimize.OfCoupling(train.LimitOffset, 0, condition), Value: 2, Bound: 1}
	}
	worst := at(2, 0, 1.9)
	assert.Equal(t, []BrokenAll{{Worst: worst, Feet: []int{0, 2}}, {Worst: coupling(0)}, {Worst: coupling(1)}},
		brokenOf([]optimize.Constraint{at(0, -1, 1.6), at(2, -1, 1.5), at(0, 0, 1.7), worst, coupling(0), coupling(1)}))
}
