package train

import "math"

// An Unstated is what a train file leaves open and no chance can be given without.
type Unstated struct {
	Kind    UnstatedKind
	Machine int
	Shaft   int // of a journal shift and of growth: the shaft that a coupling sits on
	// Coupling is that of a distance between shaft ends, which has no machine.
	Coupling int
}

// An UnstatedKind says what is left open.
type UnstatedKind int

// What may be left open. To state that there is none is to state it.
const (
	UnstatedGrowth UnstatedKind = iota // from cold to running, upwards
	// from cold to running, along the train, where a distance between shaft ends is limited
	UnstatedAlong
	UnstatedRun // journal shift from rest to running
	// distance between shaft ends, as found or as wanted, where it is limited
	UnstatedGap
)

// ChanceKnown says whether the chance of ending within limits can be worked out.
func (t *Train) ChanceKnown() bool { return t.Errors != Errors{} && len(t.Unstated()) == 0 }

// Unstated is what the file does not say of the shafts that couplings sit on, machine after machine, and of limited
// distances between them. A machine whose shafts have the same growth is named once.
func (t *Train) Unstated() []Unstated {
	var out []Unstated
	for i := range t.Machines {
		grown, along := false, false
		for s := range t.Machines[i].Shafts {
			coupled, gap := t.carries(End{i, s})
			if !coupled {
				continue
			}
			g := t.GrowthOf(End{i, s})
			if g.Unknown && !grown {
				out, grown = append(out, Unstated{Kind: UnstatedGrowth, Machine: i, Shaft: s}), true
			}
			if gap && !g.Unknown && !g.Worked && g.AxialUnknown && !along {
				out, along = append(out, Unstated{Kind: UnstatedAlong, Machine: i, Shaft: s}), true
			}
		}
		for s := range t.Machines[i].Shafts {
			if coupled, _ := t.carries(End{i, s}); coupled && t.Machines[i].Shafts[s].RunUnknown {
				out = append(out, Unstated{Kind: UnstatedRun, Machine: i, Shaft: s})
			}
		}
	}
	for i := range t.Couplings {
		if c := &t.Couplings[i]; !math.IsInf(c.Limit.Gap, 1) && !c.GapLimited() {
			out = append(out, Unstated{Kind: UnstatedGap, Coupling: i})
		}
	}
	return out
}

// carries says whether a coupling with limits sits on the shaft, and whether one limits the distance between
// shaft ends.
func (t *Train) carries(e End) (coupled, gap bool) {
	for i := range t.Couplings {
		c := &t.Couplings[i]
		if c.From == e || c.To == e {
			coupled = coupled || c.limited()
			gap = gap || c.GapLimited()
		}
	}
	return coupled, gap
}

func (c *Coupling) limited() bool {
	return !math.IsInf(c.Limit.Offset, 1) || !math.IsInf(c.Limit.Angle, 1) || c.GapLimited()
}
