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

// order are the machines whose next stage is due, one after another.
func (s *stager) order() []int {
	t := s.plan.Train
	at := s.between()
	var after [][2][2]int // pairs: a stage (machine, number) and one that it comes before
	for c := range t.Couplings {
		a, b := t.Couplings[c].From.Machine, t.Couplings[c].To.Machine
		na, nb := len(s.works[a]), len(s.works[b])
		if na == 0 || nb == 0 {
			continue
		}
		next := [2]int{}
		for n, second := range s.merge(c, na, nb, at) {
			machine := [2]int{a, b}[second]
			// Each stage comes before the other machine's next one.
			other := 1 - second
			if n+1 < na+nb && next[other] < [2]int{na, nb}[other] {
				after = append(after, [2][2]int{{machine, next[second]}, {[2]int{a, b}[other], next[other]}})
			}
			next[second]++
		}
	}
	return s.sorted(after)
}

// sorted is an order in which every pair is kept: go on with a machine where
// that can be, else take the first that can be taken.
func (s *stager) sorted(pairs [][2][2]int) []int {
	waits := map[[2]int]int{}
	frees := map[[2]int][][2]int{}
	for _, p := range pairs {
		waits[p[1]]++
		frees[p[0]] = append(frees[p[0]], p[1])
	}
	total := 0
	for _, w := range s.works {
		total += len(w)
	}
	count := make([]int, len(s.works))
	due := func(i int) bool { return count[i] < len(s.works[i]) && waits[[2]int{i, count[i]}] == 0 }
	var out []int
	for len(out) < total {
		i := -1
		if n := len(out); n > 0 && due(out[n-1]) {
			i = out[n-1]
		}
		for m := 0; i < 0; m++ {
			if m == len(s.works) {
				panic("optimize: stages that wait for one another")
			}
			if due(m) {
				i = m
			}
		}
		for _, f := range frees[[2]int{i, count[i]}] {
			waits[f]--
		}
		count[i]++
		out = append(out, i)
	}
	return out
}

// merge says how the stages of a coupling's two machines go into each other: 0
// is the first machine's next one, 1 the second's.
func (s *stager) merge(c, na, nb int, at func(c, a, b int) *train.Reading) []int {
	worst := func(m []int) float64 {
		most, a, b := 0.0, 0, 0
		for _, second := range m {
			if second == 0 {
				a++
			} else {
				b++
			}
			most = math.Max(most, s.use(c, at(c, a, b)))
		}
		return most
	}
	first := slices.Concat(make([]int, na), slices.Repeat([]int{1}, nb))
	enough := math.Max(calm, math.Max(s.use(c, at(c, 0, 0)), s.use(c, at(c, na, nb))))
	if worst(first) <= enough {
		return first
	}
	last := slices.Concat(slices.Repeat([]int{1}, nb), make([]int, na))
	best := first
	if worst(last) < worst(first) {
		best = last
	}
	if worst(best) <= 1 {
		return best
	}
	for _, m := range merges(na, nb) {
		if worst(m) < worst(best) {
			best = m
		}
	}
	return best
}

// merges are all ways that na things and nb others go into each other.
func merges(na, nb int) [][]int {
	if na == 0 && nb == 0 {
		return [][]int{nil}
	}
	var out [][]int
	for second, n := range [2]int{na, nb} {
		if n == 0 {
			continue
		}
		rest := merges(na-(1-second), nb-second)
		for _, r := range rest {
			out = append(out, append([]int{second}, r...))
		}
	}
	return out
}

// between is what a coupling shows once its first machine has so many of its
// stages behind it and its second so many. Every other machine of the row may have
// the same number, so nine states serve all couplings.
func (s *stager) between() func(c, a, b int) *train.Reading {
	t := s.plan.Train
	var all [3][3][]train.Reading // [stages of machines 0, 2, 4…][of 1, 3, 5…]
	for even := range all {
		for odd := range all[even] {
			moves := t.Stay()
			for i := range moves {
				for n, w := range s.works[i] {
					if n >= [2]int{even, odd}[i%2] {
						break
					}
					for f, m := range s.part(i, w) {
						moves[i][f].Up += m.Up
						moves[i][f].Left += m.Left
						moves[i][f].Axial += m.Axial
					}
				}
			}
			state := s.rests.Check(moves)
			all[even][odd] = optimize.RestReadings(&state)
		}
	}
	return func(c, a, b int) *train.Reading {
		if t.Couplings[c].From.Machine%2 == 1 {
			a, b = b, a
		}
		return &all[a][b][c]
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
