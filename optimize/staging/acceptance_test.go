package staging

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/optimize"
	"leastmove/testdata/trains"
	"leastmove/train"
)

// gated is a train of two machines whose coupling stands off by so much, with these
// limits, and a plan that moves nothing.
func gated(t *testing.T, limit string, v, h [2]float64, more string) *optimize.Plan {
	tr := trains.Read(t, "gated", fmt.Sprintf(`title = "gated"
units = "inch"
[[machine]]
name = "a"
height = 20
rpm = 3000
[[machine.foot]]
name = "f"
x = 0
spread = 30
[[machine.foot]]
name = "g"
x = 40
spread = 30
[[machine]]
name = "b"
at = 60
height = 20
[[machine.foot]]
name = "f"
x = 0
spread = 30
[[machine.foot]]
name = "g"
x = 40
spread = 30
[[coupling]]
name = "c"
from = "a"
to = "b"
x = 50
%s
[coupling.found]
v = { offset = %g, angle = %g }
h = { offset = %g, angle = %g }
%s
`, limit, v[0], v[1], h[0], h[1], more))
	return optimize.Try(tr, tr.Stay())
}

// By hand. Limit 2.5 mil, planned 1.2 high and 1.26 left, 1.74 off: hypot(1.2 + x, 1.26
// + x) = 2.5 for x = (sqrt(2 · 2.5² - 0.06²) - 2.46) / 2 = 0.5375 mil, 0.2688 of 2 mil,
// and so 0.0269 mrad. In each plane for itself it is 2.5 - 1.26 = 1.24 mil. A limit on
// the angle: 0.5 less hypot leaves (sqrt(2 · 0.5² - 0.1²) - 0.7) / 2 = 0.0 for 0.3 and
// 0.4. A cold start with 0.7 of 2.5 mil leaves less than nothing. Flex planes 10 inches
// apart, the coupling's plane in the middle, limit 0.5 mrad: an offset of 2 mil is 0.2
// mrad at either, an angle of 0.1 half of itself: 0.25 for a whole share; planned
// straight, 0.5 / sqrt 2 = 0.354 is more than that.
func TestAcceptanceTolerancesByHand(t *testing.T) {
	const mil = train.Mil
	for _, c := range []struct {
		name   string
		plan   *optimize.Plan
		offset float64 // mil
	}{
		{"the circle", gated(t, "limit = { offset = 2.5, angle = 5 }", [2]float64{1.2, 0}, [2]float64{1.26, 0}, ""), 0.5375},
		{"each plane", gated(t, "limit = { offset = 2.5, angle = 5, each_plane = true }", [2]float64{1.2, 0},
			[2]float64{1.26, 0}, ""), 1.24},
		{"the angle", gated(t, "limit = { offset = 25, angle = 0.5 }", [2]float64{0, 0.3}, [2]float64{0, 0.4}, ""), 0},
		{"a condition's share", gated(t, "limit = { offset = 2.5, angle = 5 }", [2]float64{1.2, 0}, [2]float64{1.26, 0},
			"[[condition]]\nname = \"cold\"\nuse = 0.69"), 0},
		{"flex planes", gated(t, "flex = [45, 55]\nlimit = { angle = 0.5 }", [2]float64{}, [2]float64{}, ""), 2},
		{"flex planes, 0.3 mrad at both used by an offset",
			gated(t, "flex = [45, 55]\nlimit = { angle = 0.5, each_plane = true }", [2]float64{3, 0}, [2]float64{}, ""), 1.6},
		{"much room", gated(t, "limit = { offset = 25, angle = 5 }", [2]float64{}, [2]float64{}, ""), 2},
	} {
		t.Run(c.name, func(t *testing.T) {
			g := AcceptanceTolerances(c.plan)[0]
			assert.InDelta(t, c.offset*mil, g.Offset, 5e-4*mil)
			assert.InDelta(t, c.offset/2*MostTurned, g.Angle, 3e-5)
			assert.True(t, math.IsNaN(g.Gap))
		})
	}
	g := AcceptanceTolerances(gated(t, "limit = { offset = 25, angle = 5, gap = 0.002 }", [2]float64{}, [2]float64{},
		"gap = 5.0006\n[coupling.wanted]\ngap = 5"))[0]
	assert.InDelta(t, 1.4*mil, g.Gap, 1e-5, "2 mil less the 0.6 that it is off")
}

// Plans of random trains, with one coupling off by its acceptance tolerance in every combination of
// signs: by true geometry all of its limits hold; a tenth further off some do not,
// unless the tolerance was as wide as tolerances are.
func TestAcceptanceKeepsTheLimits(t *testing.T) {
	narrow, gaps := 0, 0
	for _, family := range []string{"spacer", "gear", "inch", "gap", "plain", "bound"} {
		for seed := uint64(7001); seed < 7003; seed++ {
			if seed == 7001 && !trains.Everything() {
				continue
			}
			p := planned(t, trains.Drawn(t, family, seed), optimize.Options{Solves: 300})
			if p.Status != optimize.Planned {
				continue
			}
			t.Run(fmt.Sprintf("%s %d", family, seed), func(t *testing.T) {
				for i, g := range AcceptanceTolerances(p) {
					require.GreaterOrEqual(t, g.Share, 0.0)
					require.LessOrEqual(t, g.Offset, optimize.SoftFoot(p.Train.Units))
					require.LessOrEqual(t, g.Angle, MostTurned)
					assert.LessOrEqual(t, off(p, i, g, 1), 1.0, "%s", p.Train.Couplings[i].Name)
					if g.Share < 1 {
						narrow++
						assert.Greater(t, off(p, i, g, 1.1), 1.0, "%s", p.Train.Couplings[i].Name)
					}
					if p.Train.Couplings[i].GapLimited() {
						gaps++
						require.False(t, math.IsNaN(g.Gap))
					}
				}
			})
		}
	}
	assert.Greater(t, narrow, trains.Draws(5, 10))
	assert.Greater(t, gaps, 0)
}

// off is the most that a coupling uses of its limits where it reads off by times
// its acceptance tolerance once the moves are made, cold and at standstill, in any combination of
// signs, by true geometry.
func off(p *optimize.Plan, i int, g AcceptanceTolerance, times float64) float64 {
	var worst float64
	rest := optimize.AtRest(p.Train, p.Moves)[i]
	for signs := range 32 {
		sign := func(bit int) float64 { return times * float64(1-2*(signs>>bit&1)) }
		want := rest
		want.V.Offset += sign(0) * g.Offset
		want.V.Angle += sign(1) * g.Angle
		want.H.Offset += sign(2) * g.Offset
		want.H.Angle += sign(3) * g.Angle
		if times == 1 {
			want.Gap += sign(4) * g.Gap
		}
		tr := *p.Train
		tr.Couplings = append([]train.Coupling(nil), tr.Couplings...)
		c := &tr.Couplings[i]
		for range 3 { // what it would have been found at, to read so after the moves
			is := optimize.AtRest(&tr, p.Moves)[i]
			c.Found.V.Offset += want.V.Offset - is.V.Offset
			c.Found.V.Angle += want.V.Angle - is.V.Angle
			c.Found.H.Offset += want.H.Offset - is.H.Offset
			c.Found.H.Angle += want.H.Angle - is.H.Angle
			c.FoundGap += want.Gap - is.Gap
		}
		state := tr.Check(p.Moves)
		for k := range state.Couplings[i] {
			worst = math.Max(worst, state.Couplings[i][k].Worst())
		}
	}
	return worst
}
