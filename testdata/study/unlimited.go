package main

import (
	"math"

	"leastmove/train"
)

// unlimited takes away what a machine's feet, level and pipes limit.
func unlimited(m *train.Machine) {
	inf := math.Inf(1)
	m.Level.Pitch, m.Level.Roll, m.Nozzles = inf, inf, nil
	feet := make([]train.Foot, len(m.Feet))
	for f, foot := range m.Feet {
		foot.Lower, foot.Raise, foot.TravelLeft, foot.TravelRight = inf, inf, inf, inf
		foot.Bolt, foot.Hole = math.NaN(), math.NaN()
		feet[f] = foot
	}
	m.Feet = feet
}
