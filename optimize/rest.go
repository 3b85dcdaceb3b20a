package optimize

import "leastmove/train"

// AtRest is every coupling after the moves, cold and at standstill, by true
// geometry: what a crew reads before anything has warmed.
func AtRest(t *train.Train, moves train.Moves) []train.Reading {
	state := Resting(t).Check(moves)
	return RestReadings(&state)
}

// Resting is the train with its first condition, which is told apart, and one
// cold and at standstill.
func Resting(t *train.Train) *train.Train {
	with := *t
	with.Conditions = []train.Condition{t.Conditions[0], {
		Name: "cold, at rest", Growth: make([]float64, len(t.Machines)), Use: 1,
	}}
	with.Between = nil
	return &with
}

// RestReadings are the couplings of a resting train.
func RestReadings(s *train.State) []train.Reading {
	readings := make([]train.Reading, len(s.Couplings))
	for i := range readings {
		readings[i] = s.Couplings[i][1]
	}
	return readings
}
