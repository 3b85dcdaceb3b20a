package train

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// By hand: a base whose four feet stand 2.5 m apart goes up by 2.5 mm at its far feet: a pitch of -1 mrad. The
// machine on it is then off level by as much, its feet do not move on the base, and a nozzle 900 mm above a shim plane
// 350 mm over that of the base goes along by -1.25 mm, for its 1250 mm above the base's shim plane.
func TestABaseTiltsWhatItCarries(t *testing.T) {
	tr := onBases([]int{0, 1})
	skid := len(tr.Machines) - 1
	moves := tr.Stay()
	for f := 2; f < 4; f++ {
		moves[skid][f].Up = 2.5
	}
	s := tr.Check(moves)
	assert.InDelta(t, -1, s.Machines[0].Pitch, 1e-3)
	assert.InDelta(t, -1, s.Machines[skid].Pitch, 1e-3)
	assert.Zero(t, s.Machines[2].Pitch, "it stands on the ground")
	assert.Zero(t, s.Machines[0].Motion)
	assert.Equal(t, FootState{}, s.Machines[0].Feet[0])
	// The nozzle: x is 600 from the skid's first feet, at 0.6 mm up, y does not count.
	assert.InDelta(t, 1.25*1.25+0.6*0.6, s.Machines[0].Nozzles[0]*s.Machines[0].Nozzles[0], 0.01)
	// Between two machines of one base nothing changes, however it goes.
	found := tr.Check(tr.Stay())
	assert.Equal(t, found.Couplings[0], s.Couplings[0])
	assert.NotEqual(t, found.Couplings[1], s.Couplings[1])
}
