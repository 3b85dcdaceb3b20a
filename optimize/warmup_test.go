package optimize_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/optimize"
	"leastmove/testdata/trains"
	"leastmove/train"
)

// warmed is the train of a family and a seed with warm-up limited to a share.
func warmed(t *testing.T, family string, seed uint64, share float64) *train.Train {
	t.Helper()
	tr := trains.Drawn(t, family, seed)
	tr.Aim.Transient, tr.Between = share, tr.WarmUp()
	return tr
}

// Warm-up is limited in plan, proof and check (recheck.Recheck goes through its states); more of a limit never makes a
// plan cheaper.
func TestWarmUpIsLimited(t *testing.T) {
	passed, families := 0, []string{"two", "plain"}
	if trains.Everything() {
		families = append(families, "each", "gap", "spacer")
	}
	for seed := range uint64(trains.Draws(2, 3)) {
		for _, family := range families {
			free := planned(t, trains.Drawn(t, family, 400+seed), optimize.Options{Solves: short})
			most := 0.0
			if free.Status == optimize.Planned {
				for _, w := range free.Train.Transients(free.Moves) {
					most = math.Max(most, w.Worst())
				}
			}
			for _, share := range []float64{0.9 * most, 1.1 * most} {
				if most == 0 {
					break
				}
				p := planned(t, warmed(t, family, 400+seed, share), optimize.Options{Solves: short})
				if p.Status != optimize.Planned || free.Status != optimize.Planned || !math.IsNaN(p.Lowest) ||
					!math.IsNaN(free.Lowest) {
					continue
				}
				assert.GreaterOrEqual(t, p.Least, free.Bound-1e-6, "%s %d", family, seed)
				if most > share {
					passed++
					assert.Greater(t, p.Planned.Warm[0].Worst(), 0.0)
				}
			}
		}
	}
	assert.Positive(t, passed, "the plans without it must use more than that, or nothing is tried")
}

// By hand: two machines in line that each grow by 0.3 mm: in line cold and hot, 0.3 apart with one of them cold, of a
// limit of 0.2 mm. No move mends both, so that what may be used there must be 1.5 or more; the conflict is with itself.
func TestNoPlanForWarmUp(t *testing.T) {
	tr := trains.Read(t, "alone", trains.Alone)
	c := &tr.Couplings[0]
	c.Limit.Offset, c.Limit.Angle = 0.2, 5
	c.Found = train.Misalignment{V: train.Tilt{Offset: 0.25}}
	for i := range tr.Machines {
		tr.Machines[i].Growth = train.Growth{V: train.Line{Start: 0.3}}
	}
	for _, x := range []struct {
		share  float64
		status optimize.Status
	}{{1.6, optimize.Planned}, {1.4, optimize.Impossible}} {
		tr.Aim.Transient, tr.Between = x.share, tr.WarmUp()
		p := fully(t, tr, optimize.Options{Use: 1, Widen: true})
		require.Equal(t, x.status, p.Status, "%v", x.share)
		if x.status == optimize.Impossible {
			require.NotEmpty(t, p.Conflict)
			for _, m := range p.Conflict {
				assert.Equal(t, train.LimitWarm, m.Kind)
			}
			assert.NotEmpty(t, p.Relaxations, "wider limits at the coupling are an option")
		}
	}
}
