package train

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

// By hand, in mm, with steps of 0.05: a gap of 0.11 is filled by 0.10.
func TestPackChange(t *testing.T) {
	tr := &Train{Shims: Shims{Step: 0.05}, Machines: make([]Machine, 1)}
	change := func(f Foot, up float64) PackChange {
		tr.Machines[0].Feet = []Foot{f}
		return tr.PackChange(0, 0, up)
	}
	cases := map[string]struct {
		foot Foot
		up   float64
		want PackChange
		by   float64
	}{
		"a move alone": {Foot{Pack: 6}, -0.20, PackChange{Now: 6, Move: -0.20, Then: 5.80}, -0.20},
		"a soft foot that comes down: 0.10 of what would come out stays": {
			Foot{Pack: 6, Soft: 0.11}, -0.30, PackChange{Now: 6, Fill: 0.10, Move: -0.30, Then: 5.80}, -0.20},
		"the same, the gap counted as filled": {
			Foot{Pack: 6.10, Soft: 0.11, Filled: 0.10}, -0.30, PackChange{Now: 6, Fill: 0.10, Move: -0.30, Then: 5.80}, -0.20},
		"0.35 off the base": {Foot{Pack: 4, Cut: 0.35}, -0.30, PackChange{Now: 4, Cut: 0.35, Move: -0.30, Then: 4.05}, 0.05},
		"all of it": {Foot{Pack: 4, Soft: 0.04, Cut: 0.35}, 0.10, PackChange{Now: 4, Fill: 0.05, Cut: 0.35,
			Move: 0.10, Then: 4.50}, 0.50},
	}
	for why, c := range cases {
		got := change(c.foot, c.up)
		for _, pair := range [][2]float64{{c.want.Now, got.Now}, {c.want.Fill, got.Fill}, {c.want.Cut, got.Cut},
			{c.want.Move, got.Move}, {c.want.Then, got.Then}, {c.by, got.By()}, {0, got.Off()}} {
			assert.False(t, math.IsNaN(pair[1]), why)
			assert.InDelta(t, pair[0], pair[1], 1e-12, why)
		}
	}
	unknown := change(Foot{Pack: math.NaN(), Soft: 0.05}, 0.10)
	assert.True(t, math.IsNaN(unknown.Now) && math.IsNaN(unknown.Then), "a pack that is not stated")
	assert.InDelta(t, 0.15, unknown.By(), 1e-12)
}
