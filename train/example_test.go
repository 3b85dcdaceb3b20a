package train_test

import (
	"fmt"
	"math"

	"leastmove/train"
)

// A motor and a pump stand on two pairs of feet each; the pump's shaft was found
// 0.3 mm high and sloping up by 0.4 mrad. All figures are invented.
func motorAndPump() *train.Train {
	feet := func() []train.Foot {
		var feet []train.Foot
		for _, x := range []float64{0, 500} {
			for _, y := range []float64{200, -200} {
				feet = append(feet, train.Foot{
					Name: fmt.Sprint(x, " ", y), X: x, Y: y, Pack: 3, Lower: 3, Raise: math.Inf(1),
					Bolt: math.NaN(), Hole: math.NaN(), TravelLeft: math.Inf(1), TravelRight: math.Inf(1),
				})
			}
		}
		return feet
	}
	level := train.Level{Pitch: math.Inf(1), Roll: math.Inf(1)}
	return &train.Train{
		Shims: train.Shims{Step: 0.05},
		Aim:   train.Aim{Use: 0.7},
		Machines: []train.Machine{
			{Name: "motor", Height: 300, RPM: math.NaN(), Effort: 1, Level: level, Shafts: make([]train.Shaft, 1),
				Feet: feet(), Hold: true},
			{Name: "pump", At: 800, Height: 300, RPM: math.NaN(), Effort: 1, Level: level, Shafts: make([]train.Shaft, 1),
				Feet: feet()},
		},
		Couplings: []train.Coupling{{
			Name: "coupling", From: train.End{Machine: 0}, To: train.End{Machine: 1}, X: 700, RPM: math.NaN(),
			Limit:    train.Limit{Offset: 0.08, Angle: 0.5, Gap: math.Inf(1)},
			Found:    train.Misalignment{V: train.Tilt{Offset: 0.3, Angle: 0.4}},
			FoundGap: math.NaN(), WantedGap: math.NaN(),
		}},
		Conditions: []train.Condition{{Name: "running", Growth: []float64{1, 1}, Run: 1, Use: 1}},
	}
}

// What moves do is worked out by true geometry: here 0.3 mm comes out under all
// four feet of the pump.
func ExampleTrain_Check() {
	t := motorAndPump()
	moves := t.Stay()
	for f := range moves[1] {
		moves[1][f].Up = -0.3
	}
	found, planned := t.Check(t.Stay()), t.Check(moves)
	for _, s := range []train.State{found, planned} {
		v := s.Couplings[0][0].V
		fmt.Printf("offset %.2f mm, angle %.2f mrad, worst use %.2f\n", math.Abs(v.Offset), v.Angle, s.Worst())
	}
	// Output:
	// offset 0.30 mm, angle 0.40 mrad, worst use 3.75
	// offset 0.00 mm, angle 0.40 mrad, worst use 0.80
}
