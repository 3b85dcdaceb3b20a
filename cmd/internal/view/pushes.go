package view

import (
	"slices"

	"leastmove/train"
)

// MachinePushes are the moves of one machine, station by station.
type MachinePushes struct {
	Up   []Push // shims
	Left []Push
}

// A Push is what is done at one station of a machine, up or sideways.
type Push struct {
	X    float64    // mm, train station
	Feet []FootPush // two where the feet at the station are moved differently, else one
}

// A FootPush is what is done at one foot, or at two alike.
type FootPush struct {
	Foot   int
	By     float64          // mm, + up or + left
	Change train.PackChange // of the pack under it
	Named  bool             // another foot at the station has its pack changed otherwise
	OnLeft bool             // it is on the left side of the train
}

// pushes are the moves of every machine.
func pushes(t *train.Train, moves train.Moves) []MachinePushes {
	out := make([]MachinePushes, len(t.Machines))
	for i := range t.Machines {
		m := station{t, i, &t.Machines[i], moves[i]}
		out[i] = MachinePushes{Up: m.pushes(true), Left: m.pushes(false)}
	}
	return out
}

// A station looks at the feet of one machine that share a place along the train.
type station struct {
	train   *train.Train
	at      int // of the machine
	machine *train.Machine
	moves   []train.FootMove
}

func (s station) pushes(up bool) []Push {
	var out []Push
	for f, move := range s.moves {
		foot := &s.machine.Feet[f]
		x, mate := s.machine.At+foot.X, s.mate(f, up)
		at := slices.IndexFunc(out, func(p Push) bool { return p.X == x })
		switch {
		case at < 0:
			at = len(out)
			out = append(out, Push{X: x})
		case mate >= 0 && mate < f:
			continue
		}
		push := FootPush{Foot: f, By: move.Left, Change: s.change(f), OnLeft: foot.Y > 0}
		if up {
			push.By, push.Named = move.Up, mate < 0 && s.shared(f)
		}
		out[at].Feet = append(out[at].Feet, push)
	}
	return out
}

func (s station) change(f int) train.PackChange {
	return s.train.PackChange(s.at, &s.machine.Feet[f], s.moves[f].Up)
}

// mate is the other foot at the same station that moves alike; -1: none.
func (s station) mate(f int, up bool) int {
	for g := range s.machine.Feet {
		alike := s.moves[g].Left == s.moves[f].Left
		if up {
			alike = sameChange(s.change(g), s.change(f))
		}
		if g != f && s.machine.Feet[g].X == s.machine.Feet[f].X && alike {
			return g
		}
	}
	return -1
}

// sameChange says whether the same is done to two packs, whatever they are now.
func sameChange(a, b train.PackChange) bool {
	return a.Fill == b.Fill && a.Cut == b.Cut && a.Move == b.Move
}

// shared says whether another foot stands at the same station.
func (s station) shared(f int) bool {
	for g := range s.machine.Feet {
		if g != f && s.machine.Feet[g].X == s.machine.Feet[f].X {
			return true
		}
	}
	return false
}
