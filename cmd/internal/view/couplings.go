package view

import "leastmove/train"

// WorstUse is the use that takes the largest share of its limit.
func WorstUse(r *Reading) Use {
	var most Use
	for i, u := range r.Uses {
		if i == 0 || u.Share > most.Share {
			most = u
		}
	}
	return most
}

// AddedUp names what governs a coupling whose limits are limited together.
const AddedUp = "limits added up"

// Governs names the limit that governs a coupling.
func Governs(r *Reading) string {
	if r.Sum > 0 {
		return AddedUp
	}
	return WorstUse(r).Kind.String()
}

// Counted are the uses that count where limits are added up: of a spacer's two flexing elements the larger one.
func Counted(r *Reading) []int {
	var counted []int
	flex := -1
	for n, u := range r.Uses {
		switch {
		case u.Kind != train.Flex1 && u.Kind != train.Flex2:
			counted = append(counted, n)
		case flex < 0 || u.Share > r.Uses[flex].Share:
			flex = n
		}
	}
	if flex >= 0 {
		counted = append(counted, flex)
	}
	return counted
}

// A TogetherShare is a coupling that uses more than 100 % of its limits, added up, in a condition, where each of them
// holds alone.
type TogetherShare struct {
	Coupling, Condition int
	Reading             Reading
}

// togetherOf are those of couplings within each of their limits, in the condition with the most.
func togetherOf(states [][]Reading) []TogetherShare {
	var out []TogetherShare
	for i := range states {
		most := -1
		for k := range states[i] {
			r := &states[i][k]
			if r.Sum == 0 && r.Worst() <= 1+Fair && r.Added() > 1+Fair &&
				(most < 0 || r.Added() > states[i][most].Added()) {
				most = k
			}
		}
		if most >= 0 {
			out = append(out, TogetherShare{i, most, states[i][most]})
		}
	}
	return out
}

// Amount is what a use takes of its limit, in mm or mrad, never below 0.
func Amount(u Use) float64 { return u.Share * u.Limit }

// Driving is the condition in which a coupling uses the largest share of its limits.
func Driving(conditions []Reading) int {
	most := 0
	for k := range conditions {
		if conditions[k].Worst() > conditions[most].Worst() {
			most = k
		}
	}
	return most
}

// Distinct are limits, of two that name the same one (both flex planes of a coupling) the one nearer to it.
func Distinct(limits []Constraint) []Constraint {
	var kept []Constraint
	at := make(map[Limit]int)
	for _, e := range limits {
		switch i, there := at[e.Limit]; {
		case !there:
			at[e.Limit] = len(kept)
			kept = append(kept, e)
		case e.Value/e.Bound > kept[i].Value/kept[i].Bound:
			kept[i] = e
		}
	}
	return kept
}
