package staging

import (
	"math"
	"slices"

	"leastmove/optimize"
	"leastmove/train"
	"leastmove/train/readings"
)

// calm is the share of a dial's travel up to which the order of two machines is
// the file's: a fifth stays for how the dial was set. Common practice, no source.
const calm = 0.8

// order are the machines that are worked on, one after another.
func (s *stager) order() []int {
	t := s.plan.Train
	at := s.between()
	before := make([][]int, len(t.Machines)) // machines that come before each
	for c := range t.Couplings {
		a, b := t.Couplings[c].From.Machine, t.Couplings[c].To.Machine
		if s.works[a] == nil || s.works[b] == nil {
			continue
		}
		if s.secondFirst(c, at) {
			a, b = b, a
		}
		before[b] = append(before[b], a)
	}
	for b := t.Row(); b < len(t.Machines); b++ {
		for _, i := range t.Machines[b].Carries {
			if s.works[b] != nil {
				before[i] = append(before[i], b)
			}
		}
	}
	var out []int
	for range t.Machines {
		for _, i := range t.Order() {
			due := func(first int) bool { return !slices.Contains(out, first) }
			if s.works[i] != nil && !slices.Contains(out, i) && !slices.ContainsFunc(before[i], due) {
				out = append(out, i)
				break
			}
		}
	}
	return out
}

// secondFirst says whether the second machine of coupling c comes before the first: where the
// first one takes a dial further than is calm, and the second one less far.
func (s *stager) secondFirst(c int, at func(c int, first, second bool) *train.Reading) bool {
	ends := math.Max(s.use(c, at(c, false, false)), s.use(c, at(c, true, true)))
	first, second := s.use(c, at(c, true, false)), s.use(c, at(c, false, true))
	return first > math.Max(calm, ends) && math.Max(second, ends) < first
}

// between gives what couplings read with the moves of their first, their second, or both
// machines made. Machines are moved in turn, the even ones and the odd ones: a
// coupling is between one of each. Bases are moved before.
func (s *stager) between() func(c int, first, second bool) *train.Reading {
	t := s.plan.Train
	var all [2][2][]train.Reading // machines 0, 2, 4… are moved; 1, 3, 5… are
	for even := range all {
		for odd := range all[even] {
			moves := t.Stay()
			for i := range moves {
				if ([2]int{even, odd}[i%2] == 1 || t.Machines[i].IsBase()) && s.works[i] != nil {
					copy(moves[i], s.plan.Moves[i])
				}
			}
			state := s.rests.Check(moves)
			all[even][odd] = optimize.RestReadings(&state)
		}
	}
	number := func(is bool) int {
		if is {
			return 1
		}
		return 0
	}
	return func(c int, first, second bool) *train.Reading {
		if t.Couplings[c].From.Machine%2 == 1 {
			first, second = second, first
		}
		return &all[number(first)][number(second)][c]
	}
}

// swings are how far the dials of coupling c go over a turn.
func (s *stager) swings(c int, r *train.Reading) []Swing {
	k := &s.plan.Train.Couplings[c]
	all := slices.Concat(k.Dials, k.Targets)
	var out []Swing
	for _, n := range readings.Different(all) {
		if d := &all[n]; d.Kind != train.OffsetDial {
			v := readings.Target(d, k.X, r.Misalignment, turn())
			w := Swing{Coupling: c, Dial: n, Swing: slices.Max(v) - slices.Min(v), Travel: s.travel}
			if d.Range > 0 {
				w.Travel = d.Range
			}
			out = append(out, w)
		}
	}
	if out == nil {
		out = []Swing{{Coupling: c, Dial: -1, Swing: 2 * math.Hypot(r.V.Offset, r.H.Offset), Travel: s.travel}}
	}
	return out
}

// turn are places round a shaft, in degrees.
func turn() []float64 {
	const step = 5
	var out []float64
	for a := 0.0; a < 360; a += step {
		out = append(out, a)
	}
	return out
}
