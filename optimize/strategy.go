package optimize

import (
	"fmt"
	"math"

	"leastmove/train"
)

// A Strategy is what a plan makes least. All keep the same limits, and all but
// LeastTotal make the total least once their own measure is.
type Strategy string

const (
	LeastTotal     Strategy = "least-total"     // total movement; "" means the same
	Minimax        Strategy = "least-largest"   // largest |up|, |left| or |axial| at any foot, mm
	FewestMachines Strategy = "fewest-machines" // machines moved
	FewestFeet     Strategy = "fewest-feet"     // feet touched
	Closest        Strategy = "closest"         // worst use of a coupling limit, share
	RaiseOnly      Strategy = "raise-only"      // total movement, with no shims taken out
)

// Strategies lists them in the order in which they are compared.
func Strategies() []Strategy {
	return []Strategy{LeastTotal, Minimax, FewestMachines, FewestFeet, Closest, RaiseOnly}
}

// Plain says whether the strategy asks for the total alone.
func (s Strategy) Plain() bool { return s == "" || s == LeastTotal || s == RaiseOnly }

// Given is the train as the options have it: machines held and freed, and, to
// raise only, no shims that may come out. An error names a machine that is not
// in the train.
func Given(t *train.Train, o Options) (*train.Train, error) {
	var edits []Edit
	set := func(names []string, hold float64) error {
		for _, name := range names {
			i := named(t, name)
			if i < 0 {
				return fmt.Errorf("there is no machine %q in the train", name)
			}
			edits = append(edits, Edit{Machine: i, Foot: -1, Coupling: -1, Key: "hold", To: hold})
		}
		return nil
	}
	if err := set(o.Free, 0); err != nil {
		return nil, err
	}
	if err := set(o.Hold, 1); err != nil {
		return nil, err
	}
	if o.Strategy != RaiseOnly {
		return Apply(t, edits), nil
	}
	t = Apply(t, edits)
	for i := range t.Machines {
		for f := range t.Machines[i].Feet {
			foot := &t.Machines[i].Feet[f]
			// Where more must go in than is there, that stays so. Shims that fill a
			// gap under a soft foot may come out of it again, no more.
			foot.Lower = math.Min(foot.Lower, 0)
		}
	}
	return t, nil
}

// Named is the machine of a name; -1: there is none, or not one name.
func Named(t *train.Train, names ...string) int {
	if len(names) != 1 {
		return -1
	}
	return named(t, names[0])
}

// named is the machine of a name; -1: there is none.
func named(t *train.Train, name string) int {
	for i := range t.Machines {
		if t.Machines[i].Name == name {
			return i
		}
	}
	return -1
}
