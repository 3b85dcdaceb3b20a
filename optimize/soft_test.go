package optimize

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/train"
)

// Feet that differ by more than 2 mils are shimmed before anything else:
// McMillan, Rotating Machinery (2004), p. 113; Bloch gives .002 in too.
func TestSoftFootComesFirst(t *testing.T) {
	text := `title = "soft foot (invented)"
units = "inch"
[[machine]]
name = "motor"
height = 12
[[machine.foot]]
name = "far"
x = 0
spread = 20
pieces = [100, 25]
raise = 60
left = { soft = SOFT }
[[machine.foot]]
name = "near"
x = 24
spread = 20
shim = 125
[[machine]]
name = "pump"
at = 40
height = 12
hold = true
[[coupling]]
name = "coupling"
from = "motor"
to = "pump"
x = 36
[coupling.limit]
offset = 2
angle = 0.5
[coupling.found]
v = { offset = -20, angle = 0 }
h = { offset = 0, angle = 0 }
`
	soft := func(mils string) *Plan {
		return planned(t, readTrain(t, "soft", strings.Replace(text, "SOFT", mils, 1)), Options{})
	}
	assert.False(t, soft("2").Provisional(), "2 mils are not more than 2 mils")
	p := soft("3")
	assert.True(t, p.Provisional())
	require.Len(t, p.Soft, 1)
	assert.Equal(t, [2]int{0, 0}, [2]int{p.Soft[0].Machine, p.Soft[0].Foot})
	assert.InDelta(t, 3*train.Mil, p.Soft[0].Gap, 1e-12)
	assert.InDelta(t, 3*train.Mil, p.Soft[0].Fill, 1e-12)

	// The gap is filled first, and the machine stands as it stood: the plan is
	// that without a soft foot, and the pack holds both.
	without := soft("0")
	assert.Equal(t, without.Moves, p.Moves)
	pack := func(p *Plan, foot int) float64 {
		for _, k := range p.Packs {
			if k.Foot == foot {
				var sum float64
				for _, piece := range k.Then {
					sum += piece
				}
				return sum / train.Mil
			}
		}
		return 125 // as it was
	}
	assert.InDelta(t, pack(without, 0)+3, pack(p, 0), 1e-9)
	assert.InDelta(t, pack(without, 1), pack(p, 1), 1e-9)
	assert.InDelta(t, 60*train.Mil-3*train.Mil, p.Train.Machines[0].Feet[0].Raise, 1e-12, "what fills the gap is not there to raise with")
}
