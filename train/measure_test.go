package train

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What a misalignment uses of each limit, by hand: 0.3 high and 0.4 left is 0.5 off.
// A spacer with flex planes at 700 and 900, its offset of 0.1 at 800 and sloping up by 1
// mrad, is 0.2 off at 900 and nothing at 700: over 0.2 m that is 1 mrad at the first plane
// and none at the second.
func TestUsesByHand(t *testing.T) {
	off := Misalignment{V: Tilt{Offset: 0.3}, H: Tilt{Offset: 0.4}}
	rising := Misalignment{V: Tilt{Offset: 0.1, Angle: 1}}
	spacer := func(c *Coupling) { c.Spacer, c.Flex, c.X = true, [2]float64{700, 900}, 800 }
	for _, c := range []struct {
		name      string
		change    func(*Coupling)
		condition int
		is        Misalignment
		want      []float64 // shares of the limits, in order
	}{
		{"together", func(*Coupling) {}, 0, off, []float64{1, 0}},
		{"half of the limits in that condition", func(*Coupling) {}, 1, off, []float64{2, 0}},
		{"each plane by itself", func(c *Coupling) { c.Limit.EachPlane = true }, 0, off, []float64{0.8, 0}},
		{"0.3 high is wanted", func(c *Coupling) { c.Wanted.V.Offset = 0.3 }, 0, off, []float64{0.8, 0}},
		{"0.3 high is wanted, running alone", func(c *Coupling) { c.Wanted.V.Offset = 0.3 }, 1, off, []float64{2, 0}},
		{"flex planes", spacer, 0, rising, []float64{0.5, 0}},
		{"flex planes, the other way", spacer, 0, Misalignment{V: Tilt{Offset: 0.1, Angle: -1}}, []float64{0, 0.5}},
	} {
		t.Run(c.name, func(t *testing.T) {
			tr := &Train{
				Conditions: []Condition{{Name: "running", Use: 1}, {Name: "cold", Use: 0.5}},
				Couplings: []Coupling{{X: 800, Limit: Limit{Offset: 0.5, Angle: 2, Gap: math.Inf(1)}, FoundGap: math.NaN(),
					WantedGap: math.NaN()}},
			}
			c.change(&tr.Couplings[0])
			uses := tr.Uses(0, c.condition, c.is, math.NaN())
			require.Len(t, uses, len(c.want))
			for i, u := range uses {
				assert.InDelta(t, c.want[i], u.Share, 1e-12, u.Kind)
			}
		})
	}
}
