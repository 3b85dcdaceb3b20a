package pages

import (
	"bytes"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/cmd/internal/doc"
	"leastmove/cmd/internal/view"
	"leastmove/optimize/diagnose"
	"leastmove/train"
)

// accused is a train of a turbine, a gear and a compressor whose compressor was to
// come up by 0.30 at its first station, and to go right by 0.20; it is now 0.10 lower
// and 0.05 further right there than planned.
func accused(t *testing.T) *verified {
	p := plannedMM(t)
	moves := p.Train.Stay()
	for _, f := range []int{0, 1} {
		moves[2][f] = train.FootMove{Up: 0.3, Left: -0.2}
	}
	v := &diagnose.Verdict{Off: true, Square: 50, Most: 26.1, Freedom: 8, Machines: make([]diagnose.Motion, 3)}
	v.Machines[2].Stations = []diagnose.Station{
		{Feet: []int{2, 3}, Up: 9},
		{Feet: []int{0, 1}, PlannedUp: 0.3, Up: 0.2, PlannedLeft: -0.2, Left: -0.25},
	}
	return &verified{formatter: formatterFor(view.Of(p)), r: &view.Verified{Train: p.Train, Moves: moves, Verdict: v}}
}

// What a fault is called, and what the crew is sent to look at: the words of every
// cause, of a station, a machine, a reading and the train.
func TestSuspectsInWords(t *testing.T) {
	station := []int{0, 1}
	for _, c := range []struct {
		fault                  diagnose.Fault
		place, happened, cause string
	}{
		{diagnose.Fault{Cause: diagnose.NotMade, Machine: 2, Feet: station, Coupling: -1, Plane: diagnose.Vertical},
			"compressor at drive end left and right", "it was to raise 0.30 mm and did not go", "shims not changed"},
		{diagnose.Fault{Cause: diagnose.NotMade, Machine: 2, Feet: station, Coupling: -1, Plane: diagnose.Sideways},
			"compressor at drive end left and right", "it was to go right 0.20 mm and did not go", "bolt-bound"},
		{diagnose.Fault{Cause: diagnose.NotMade, Machine: 2, Coupling: -1, Plane: diagnose.Sideways},
			"compressor as a whole", "its moves sideways were not made", "made at another machine"},
		{diagnose.Fault{Cause: diagnose.NotMade, Machine: 2, Coupling: -1, Plane: diagnose.Along}, "compressor as a whole",
			"its moves along the train were not made", "made at another machine"},
		{diagnose.Fault{Cause: diagnose.OneFoot, Machine: 2, Feet: []int{0}, Coupling: -1, Plane: diagnose.Vertical},
			"compressor at drive end left", "it was to raise 0.30 mm, and this foot alone", "a soft foot"},
		{diagnose.Fault{Cause: diagnose.WrongWay, Machine: 2, Feet: station, Coupling: -1, Plane: diagnose.Vertical},
			"compressor at drive end left and right", "it was to raise 0.30 mm and went the other way",
			"put in where they were to come out"},
		{diagnose.Fault{Cause: diagnose.WrongWay, Machine: 2, Feet: station, Coupling: -1, Plane: diagnose.Sideways},
			"compressor at drive end left and right", "it was to go right 0.20 mm and went the other way",
			"left and right were swapped"},
		{diagnose.Fault{Cause: diagnose.WrongWay, Machine: 2, Coupling: -1, Plane: diagnose.Vertical},
			"compressor as a whole", "its moves up and down went the other way", "put in where they were to come out"},
		{diagnose.Fault{Cause: diagnose.MovedTwice, Machine: 2, Feet: station, Coupling: -1, Plane: diagnose.Vertical},
			"compressor at drive end left and right", "it was to raise 0.30 mm and went about twice that", "done again"},
		{diagnose.Fault{Cause: diagnose.MovedTwice, Machine: 2, Feet: station, Coupling: -1, Plane: diagnose.Every},
			"compressor at drive end left and right", "right 0.20 mm, and went about twice that in both", "done again"},
		{diagnose.Fault{Cause: diagnose.MovedTwice, Machine: 2, Coupling: -1, Plane: diagnose.Sideways},
			"compressor as a whole", "its moves sideways seem made twice", "done again"},
		{diagnose.Fault{Cause: diagnose.Elsewhere, Machine: 2, Feet: station, Coupling: -1, Plane: diagnose.Vertical},
			"compressor at drive end left and right", "it went up and down by something else than planned, 0.100 mm lower",
			"a bent shim"},
		{diagnose.Fault{Cause: diagnose.Elsewhere, Machine: 2, Feet: station, Coupling: -1, Plane: diagnose.Sideways},
			"compressor at drive end left and right", "it went sideways by something else than planned, 0.050 mm " +
				"further right", "held by a dowel"},
		{diagnose.Fault{Cause: diagnose.Strained, Machine: 2, Coupling: -1}, "compressor as a whole",
			"it went somewhere else than planned as a whole", "pipe strain"},
		{diagnose.Fault{Cause: diagnose.Strained, Machine: 1, Coupling: -1}, "gear as a whole", "it was to stay, and moved",
			"pipe strain"},
		{diagnose.Fault{Cause: diagnose.SagTwice, Machine: -1, Coupling: 0}, "the readings of high speed",
			"off by the sag of the bracket", "a sag entered twice"},
		{diagnose.Fault{Cause: diagnose.Mirrored, Machine: -1, Coupling: 0, Before: true},
			"the readings of high speed before the moves", "left and right swapped", "3 and 9 were read"},
		{diagnose.Fault{Cause: diagnose.Misread, Machine: -1, Coupling: 1}, "the readings of low speed",
			"they fit with nothing else", "a loose bracket"},
		{diagnose.Fault{Cause: diagnose.NoneMade, Machine: -1, Coupling: -1}, "the train as a whole", "no move made at all",
			"still those of before the moves"},
		{diagnose.Fault{Cause: diagnose.SidesTurned, Machine: -1, Coupling: -1}, "the side moves of the whole train",
			"every side move made to the wrong side", "from the other end of the train"},
	} {
		t.Run(c.place+", "+c.happened, func(t *testing.T) {
			v := accused(t)
			v.r.Verdict.Suspects = []diagnose.Suspect{{Fault: c.fault}}
			assert.Equal(t, c.place, v.place(&c.fault))
			assert.Contains(t, v.happened(&c.fault), c.happened)
			assert.Contains(t, v.causes(&c.fault), c.cause)
		})
	}
}

// Nothing named: everything is read again. Something named and more left over: that
// is said.
func TestSuspectsThatDoNotExplain(t *testing.T) {
	v := accused(t)
	words := func() string {
		var out bytes.Buffer
		require.NoError(t, (&doc.Doc{Blocks: v.said(v.suspects)}).Text(&out, 80))
		return flat(out.String())
	}
	assert.Contains(t, words(), "Read every coupling again")
	v.r.Verdict.Suspects = []diagnose.Suspect{{Fault: diagnose.Fault{Cause: diagnose.Strained, Machine: 1, Coupling: -1},
		Share: 1}}
	assert.Contains(t, words(), "Even so more is left unexplained than errors make")
	v.r.Verdict.Enough = true
	assert.NotContains(t, words(), "unexplained")
	assert.NotContains(t, words(), "Read every coupling again")
}
