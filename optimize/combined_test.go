package optimize_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/optimize"
	"leastmove/testdata/trains"
	"leastmove/train"
)

// The shares of a coupling's limits are added up in plan, proof and check; more of a limit never makes a plan cheaper.
func TestSharesLimitedTogether(t *testing.T) {
	t.Parallel()
	added, compared, families := 0, 0, []string{"two"}
	if trains.Draws(0, 1) > 0 {
		families = append(families, "each", "gap")
	}
	for seed := range uint64(trains.Draws(1, 4)) {
		for _, family := range families {
			alone := trains.Drawn(t, family, 300+seed)
			together := trains.Drawn(t, family, 300+seed)
			for i := range together.Couplings {
				together.Couplings[i].Limit.Combined = true
			}
			a := planned(t, alone, optimize.Options{Use: 0.7, Solves: short})
			b := planned(t, together, optimize.Options{Use: 0.7, Solves: short})
			if b.Status != optimize.Planned || a.Status != optimize.Planned || b.Reached > 0.7+1e-6 {
				continue
			}
			compared++
			assert.GreaterOrEqual(t, b.Least, a.Bound-1e-6, "%s %d", family, seed)
			for i := range b.Planned.Couplings {
				for k := range b.Planned.Couplings[i] {
					r := &b.Planned.Couplings[i][k]
					assert.LessOrEqual(t, r.Added(), 0.7*(1+optimize.CheckTolerance))
					assert.Equal(t, r.Added(), r.Sum)
				}
			}
			for i := range a.Planned.Couplings {
				for k := range a.Planned.Couplings[i] {
					if a.Planned.Couplings[i][k].Added() > 0.7 {
						added++
					}
				}
			}
		}
	}
	assert.GreaterOrEqual(t, compared, trains.Draws(1, 9), "both have a plan at that share")
	assert.Positive(t, added, "the plans of limits alone must use more than that, or nothing is tried")
}

// By hand: a machine 0.3 low and sloping by what its coupling allows; each limit alone holds with shares of 0.6 and
// 0.6, together they break.
func TestTheCheckAddsSharesUp(t *testing.T) {
	tr := trains.Read(t, "alone", trains.Alone)
	c := &tr.Couplings[0]
	c.Limit.Offset, c.Limit.Angle = 0.5, 0.5
	c.Found = train.Misalignment{V: train.Tilt{Offset: 0.3}, H: train.Tilt{Angle: 0.3}}
	state := tr.Check(tr.Stay())
	assert.Empty(t, optimize.Breaks(tr, tr.Stay(), &state, 1))
	c.Limit.Combined = true
	state = tr.Check(tr.Stay())
	broken := optimize.Breaks(tr, tr.Stay(), &state, 1)
	require.Len(t, broken, 1)
	assert.Contains(t, broken[0], "limits added up, running: 1.2 beyond 1")
}
