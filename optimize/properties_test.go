package optimize

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/optimize/bnb"
	"leastmove/testdata/trains"
	"leastmove/train"
)

// cheap are families whose trains are planned in no time.
func cheap() []string {
	return []string{"plain", "held", "tight", "each", "gap", "nozzle", "effort", "two"}
}

// some calls a test with trains of every cheap family.
func some(t *testing.T, first uint64, count int, check func(t *testing.T, family string, seed uint64)) {
	for _, family := range cheap() {
		for seed := first; seed < first+uint64(count); seed++ {
			t.Run(fmt.Sprintf("%s-%d", family, seed), func(t *testing.T) { check(t, family, seed) })
		}
	}
}

// noWorse says that a train with more freedom has a plan where the other one
// had, that keeps the aim where the other one kept it, and moves no more.
func noWorse(t *testing.T, before, after *Plan) (compared bool) {
	t.Helper()
	if before.Status == Impossible {
		return false
	}
	require.Contains(t, []Status{Planned, Within}, after.Status)
	switch {
	case before.Status == Within:
		require.Equal(t, Within, after.Status, "nothing had to move")
		return false
	case !math.IsNaN(before.Lowest):
		// The aim was out of reach: now it is kept, or the couplings are no
		// further off than two searches within nearLowest and Spare leave.
		if !math.IsNaN(after.Lowest) {
			assert.LessOrEqual(t, after.Reached, before.Reached*(1+nearLowest)*(1+Spare))
		}
		return false
	}
	require.True(t, math.IsNaN(after.Lowest), "the aim was kept before")
	assert.LessOrEqual(t, after.Bound, before.Least+1e-9, "the plan from before is one still")
	assert.LessOrEqual(t, after.Least, before.Least*(1+gap)+1e-9)
	return true
}

func TestMoreFreedomNeverCostsMore(t *testing.T) {
	t.Parallel()
	compared, cheaper := map[string]int{}, map[string]int{}
	some(t, 211, trains.Draws(2, 3), func(t *testing.T, family string, seed uint64) {
		before := planned(t, trains.Drawn(t, family, seed), Options{Solves: work})
		for _, freedom := range []struct {
			name string
			give func(m *train.Machine)
		}{
			{"holes opened", func(m *train.Machine) {
				for f := range m.Feet {
					m.Feet[f].Hole += 1
				}
			}},
			{"any pack", func(m *train.Machine) {
				for f := range m.Feet {
					m.Feet[f].Raise = math.Inf(1)
					m.Feet[f].Lower += 1
				}
			}},
			{"no machine held", func(m *train.Machine) { m.Hold = false }},
			{"pipes let go", func(m *train.Machine) { m.Nozzles = nil }},
		} {
			t.Run(freedom.name, func(t *testing.T) {
				tr := trains.Drawn(t, family, seed)
				for i := range tr.Machines {
					freedom.give(&tr.Machines[i])
				}
				after := planned(t, tr, Options{Solves: work})
				if before.Cut != "" || after.Cut != "" {
					return
				}
				if noWorse(t, before, after) {
					compared[freedom.name]++
					if after.Least < before.Least-1e-9 {
						cheaper[freedom.name]++
					}
				}
			})
		}
	})
	t.Logf("compared %v, of these cheaper %v", compared, cheaper)
	for _, name := range []string{"holes opened", "any pack", "no machine held", "pipes let go"} {
		assert.GreaterOrEqual(t, compared[name], 10, name)
	}
}

// The closer the couplings must be, the more is moved.
func TestTotalNeverRisesWithTheUse(t *testing.T) {
	t.Parallel()
	compared := 0
	some(t, 301, trains.Draws(1, 2), func(t *testing.T, family string, seed uint64) {
		var last *Plan // of a use that is less
		for _, use := range []float64{0.4, 0.55, 0.7, 0.85, 1} {
			p := planned(t, trains.Drawn(t, family, seed), Options{Use: use, Solves: work})
			if p.Status == Impossible || !math.IsNaN(p.Lowest) {
				if last != nil {
					require.Fail(t, "a plan that keeps less is one that keeps more")
				}
				continue
			}
			if last != nil && last.Cut == "" && p.Cut == "" {
				compared++
				assert.LessOrEqual(t, p.Bound, last.Least+1e-9)
				assert.LessOrEqual(t, p.Least, last.Least*(1+gap)+1e-9)
			}
			last = p
		}
	})
	assert.GreaterOrEqual(t, compared, trains.Draws(15, 30))
}

// Trains whose limits leave little room, so that few integer points keep them:
// a search that finds none at the aim falls back to the lowest use, at any
// cost. The totals are the best that HiGHS found, with a polygon of 64 sides
// inside every disc, where it was stopped after a minute.
func TestTrainsThatLeaveLittleRoom(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		family  string
		seed    uint64
		outside float64 // mm
		proven  float64 // relative gap that must be left at most
	}{
		{"gap", 203, 10.48, 0.001},
		{"nozzle", 9003, 5.97, 0.005},
		{"gap", 9006, 39.48, 0.001},
		{"gap", 13, 42.36, 0.03},
		{"twelve", 15, 7.20, 0.01},
	} {
		p := planned(t, trains.Drawn(t, c.family, c.seed), Options{})
		require.Equal(t, Planned, p.Status, "%s %d", c.family, c.seed)
		assert.True(t, math.IsNaN(p.Lowest), "%s %d: the aim can be kept", c.family, c.seed)
		assert.LessOrEqual(t, p.Least, c.outside*1.01, "%s %d", c.family, c.seed)
		assert.LessOrEqual(t, p.Bound, c.outside+1e-9, "%s %d", c.family, c.seed)
		assert.LessOrEqual(t, p.Least-p.Bound, c.proven*p.Least, "%s %d", c.family, c.seed)
	}
}

// Searches whose proof once was not borne out by the certificate, so that no
// bound was left: boxes of a single point.
func TestBoundsAreProven(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		family string
		seed   uint64
		free   bool // nothing held
	}{{"three", 102, false}, {"gear", 110, false}, {"gap", 302, false}, {"held", 202, true}} {
		t.Run(fmt.Sprintf("%s-%d", c.family, c.seed), func(t *testing.T) {
			tr := trains.Drawn(t, c.family, c.seed)
			for i := range tr.Machines {
				tr.Machines[i].Hold = tr.Machines[i].Hold && !c.free
			}
			p := planned(t, tr, Options{Solves: work})
			require.Equal(t, Planned, p.Status)
			assert.Falsef(t, math.IsNaN(p.Bound), "least %g, no bound", p.Least)
		})
	}
}

// A bound is only printed with a proof of it: one that is claimed to be higher, or of
// other limits, or without a proof, is not.
func TestBoundsWithoutAProofAreNotPrinted(t *testing.T) {
	tr := trains.Read(t, "pump", pumpBeside)
	m := &Solver{Plan: newPlan(tr, Options{}), Options: Options{Gap: exact, Solves: 20000}}
	m.Linearize()
	r := m.LeastTotal(t.Context(), tr.Aim.Use)
	require.NotNil(t, r.Steps)
	require.Greater(t, r.Bound, 0.1)
	assert.Equal(t, r.Bound, m.Proven(t.Context(), r))
	r = m.firm(t.Context(), r)
	for name, spoil := range map[string]func(*bnb.Result){
		"claimed to be higher": func(r *bnb.Result) { r.Claim.Cost *= 1.5 },
		"of wider limits":      func(r *bnb.Result) { r.Claim.Use = 1 },
		"without a proof":      func(r *bnb.Result) { r.Proof = nil },
	} {
		bad := r
		spoil(&bad)
		assert.True(t, math.IsNaN(m.Proven(t.Context(), bad)), name)
	}
}

// What a plan says of other uses must hold: the plans made for them are no
// better than its bounds, and its prices are no better than their bounds.
func TestPricesAreTotalsOfPlans(t *testing.T) {
	t.Parallel()
	compared := 0
	some(t, 401, 2, func(t *testing.T, family string, seed uint64) {
		p := fully(t, trains.Drawn(t, family, seed), Options{Solves: work})
		if p.Status != Planned || !math.IsNaN(p.Lowest) {
			return
		}
		require.Len(t, p.Front, 4, "at 100, 90, 80 and 50 %; 70 % is the plan's own")
		for _, price := range p.Front {
			there := planned(t, trains.Drawn(t, family, seed), Options{Use: price.Use, Solves: work})
			if there.Status == Impossible || !math.IsNaN(there.Lowest) {
				assert.Truef(t, math.IsNaN(price.Total), "a price of %g for a use of %g that can't be kept", price.Total, price.Use)
				continue
			}
			compared++
			// The linear forms of the two are true geometry at different moves.
			assert.LessOrEqual(t, price.Bound, there.Least*(1+secondOrder))
			if !math.IsNaN(price.Total) {
				assert.GreaterOrEqual(t, price.Total, there.Bound*(1-secondOrder))
				assert.LessOrEqual(t, price.Bound, price.Total+1e-9)
			}
		}
	})
	assert.GreaterOrEqual(t, compared, 20)
}

// A limit that another one keeps anyway says nothing new.
func TestARedundantLimitChangesNothing(t *testing.T) {
	t.Parallel()
	compared := 0
	some(t, 501, trains.Draws(1, 3), func(t *testing.T, family string, seed uint64) {
		before := planned(t, trains.Drawn(t, family, seed), Options{Gap: exact, Solves: work})
		tr := trains.Drawn(t, family, seed)
		for i := range tr.Machines {
			m := &tr.Machines[i]
			for n := range m.Nozzles {
				twice := m.Nozzles[n]
				twice.Limit *= 2
				m.Nozzles = append(m.Nozzles, twice)
			}
			// A foot can't go further than across its hole, nor a machine
			// tilt by more than its feet can travel over the span.
			for f := range m.Feet {
				across := 2 * (m.Feet[f].Hole - m.Feet[f].Bolt)
				m.Feet[f].TravelLeft = math.Min(m.Feet[f].TravelLeft, across)
				m.Feet[f].TravelRight = math.Min(m.Feet[f].TravelRight, across)
			}
			m.Level.Pitch = math.Min(m.Level.Pitch, 1000)
		}
		after := planned(t, tr, Options{Gap: exact, Solves: work})
		require.Equal(t, before.Status, after.Status)
		if before.Status == Planned && math.IsNaN(before.Lowest) && before.Cut == "" && after.Cut == "" {
			compared++
			assert.InDelta(t, before.Least, after.Least, 1e-9)
		}
	})
	assert.GreaterOrEqual(t, compared, trains.Draws(4, 12))
}
