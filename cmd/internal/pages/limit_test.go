package pages

import (
	"bytes"
	"encoding/json"
	"math"
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/cmd/internal/view"
	"leastmove/optimize"
	"leastmove/train"
	"leastmove/train/trainfile"
)

// The lines of mm.toml that state the limits of a conflict, by hand; what it does not state is at its table. Level
// has its own line, and not that of the machine's table, nor of the machine's key that is called roll as well.
func TestLinesOfLimits(t *testing.T) {
	src, err := os.ReadFile("testdata/mm.toml")
	require.NoError(t, err)
	p := impossible(t)
	places := trainfile.Locate(p.Train, src)
	at := func(p view.Place) int {
		switch {
		case p.Coupling >= 0:
			return places.Coupling(p.Coupling, p.Key)
		case p.Nozzle >= 0:
			return places.Nozzle(p.Machine, p.Nozzle, p.Key)
		case p.Foot >= 0:
			return places.Foot(p.Machine, p.Foot, p.Key)
		case p.Machine >= 0:
			return places.Machine(p.Machine, p.Key)
		}
		return places.Train(p.Key)
	}
	want := []int{61, 66, 68, 75, 57, 16, 41, 7, 114, 115, 99, 100}
	require.Len(t, p.Conflict, len(want))
	for i, m := range p.Conflict {
		assert.Equal(t, want[i], at(view.PlaceOf(p.Train, m.Limit)), m.Kind)
	}
	roll, hold := none(train.LimitRoll), none(train.LimitHold)
	roll.Machine, hold.Machine = 0, 1
	assert.Equal(t, view.Place{Machine: 0, Foot: -1, Coupling: -1, Nozzle: -1, Key: "level.roll"},
		view.PlaceOf(p.Train, roll))
	assert.Equal(t, 47, at(view.PlaceOf(p.Train, hold)))
	assert.Equal(t, view.Place{Machine: 0, Foot: -1, Coupling: -1, Nozzle: -1, Key: "flat"},
		view.PlaceOf(p.Train, footLimit(train.LimitFlat, 0, 0)))

	var d struct{ Clash []struct{ Line int } }
	var b bytes.Buffer
	require.NoError(t, planJSON(&b, view.Of(p), Page{Input: view.Input{Line: at}}))
	require.NoError(t, json.Unmarshal(b.Bytes(), &d))
	assert.Equal(t, 16, d.Clash[5].Line)
}

// A limit of both sides says those that are stated, of which the file has one or both; a demand is told by its size.
func TestLimitsAsStated(t *testing.T) {
	tr := read(t, "mm.toml")
	s := formatterOf(tr)
	foot := &tr.Machines[2].Feet[2]
	travel := footLimit(train.LimitTravel, 2, 2)
	assert.Equal(t, "travel left at most 0.200 mm, right at most 2.000 mm", s.stated(travel))
	foot.TravelLeft = math.Inf(1)
	assert.Equal(t, "travel right at most 2.000 mm", s.stated(travel))
	foot.Lower = -0.15
	assert.Equal(t, "at least 0.15 mm of shims must go in", s.stated(footLimit(train.LimitLower, 2, 2)))
	assert.Equal(t, "compressor must go up at far end left: at least 0.15 mm of shims must go in",
		s.atOdds(footLimit(train.LimitLower, 2, 2), []int{2}))
	foot.Lower = 0.15
	assert.Equal(t, "at most 0.15 mm of shims may come out", s.stated(footLimit(train.LimitLower, 2, 2)))

	p := view.Of(plannedMM(t))
	end := optimize.Constraint{Limit: footLimit(train.LimitLower, 2, 2), Value: -0.2, Bound: -0.2}
	assert.Equal(t, "compressor far end left: raised by no more than the shim pack needs (0.20 mm)",
		formatterFor(p).end(p, end))
}
