package optimize_test

import (
	"context"
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/optimize"
	"leastmove/optimize/bnb"
	"leastmove/testdata/recheck"
	"leastmove/testdata/trains"
	"leastmove/train"
)

func TestMoreFreedomNeverCostsMore(t *testing.T) {
	t.Parallel()
	compared, cheaper := map[string]int{}, map[string]int{}
	trains.Some(t, 211, trains.Draws(1, 2), func(t *testing.T, family string, seed uint64) {
		before := planned(t, trains.Drawn(t, family, seed), optimize.Options{Solves: work()})
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
				after := planned(t, tr, optimize.Options{Solves: work()})
				if before.Cut != "" || after.Cut != "" {
					return
				}
				if recheck.NoWorse(t, before, after) {
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
		assert.GreaterOrEqual(t, compared[name], trains.Draws(2, 10), name)
	}
}

// The closer the couplings must be, the more is moved.
func TestTotalNeverRisesWithTheUse(t *testing.T) {
	t.Parallel()
	compared := 0
	trains.Some(t, 301, trains.Draws(1, 2), func(t *testing.T, family string, seed uint64) {
		var last *optimize.Plan // of a use that is less
		for _, use := range []float64{0.4, 0.55, 0.7, 0.85, 1}[trains.Draws(2, 0):] {
			p := planned(t, trains.Drawn(t, family, seed), optimize.Options{Use: use, Solves: work()})
			if p.Status == optimize.Impossible || !math.IsNaN(p.Lowest) {
				if last != nil {
					require.Fail(t, "a plan that keeps less is one that keeps more")
				}
				continue
			}
			if last != nil && last.Cut == "" && p.Cut == "" {
				compared++
				assert.LessOrEqual(t, p.Bound, last.Least+1e-9)
				assert.LessOrEqual(t, p.Least, last.Least*(1+recheck.WithinGap)+1e-9)
			}
			last = p
		}
	})
	assert.GreaterOrEqual(t, compared, trains.Draws(2, 30))
}

// Trains whose limits leave little room, so that few integer points keep them:
// a search that finds none at the aim falls back to the lowest use, at any
// cost. The totals are the best that HiGHS found, with a polygon of 64 sides
// inside every disc, where it was stopped after a minute.
func TestTrainsThatLeaveLittleRoom(t *testing.T) {
	t.Parallel()
	cases := []struct {
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
	}
	for _, c := range cases[:trains.Draws(1, len(cases))] {
		p := planned(t, trains.Drawn(t, c.family, c.seed), optimize.Options{})
		require.Equal(t, optimize.Planned, p.Status, "%s %d", c.family, c.seed)
		assert.True(t, math.IsNaN(p.Lowest), "%s %d: the aim can be kept", c.family, c.seed)
		assert.LessOrEqual(t, p.Least, c.outside*1.01, "%s %d", c.family, c.seed)
		assert.LessOrEqual(t, p.Bound, c.outside+1e-9, "%s %d", c.family, c.seed)
		assert.LessOrEqual(t, p.Least-p.FirstOrderBound, c.proven*p.Least, "%s %d", c.family, c.seed)
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
			p := planned(t, tr, optimize.Options{Solves: work()})
			require.Equal(t, optimize.Planned, p.Status)
			assert.Falsef(t, math.IsNaN(p.Bound), "least %g, no bound", p.Least)
		})
	}
}

// A bound is only printed with a proof of it: one that is claimed to be higher, or of
// other limits, or without a proof, is not.
func TestBoundsWithoutAProofAreNotPrinted(t *testing.T) {
	tr := trains.Read(t, "pump", trains.PumpBeside)
	m := optimize.NewSolver(tr, optimize.Options{Gap: recheck.Exact, Solves: 20000})
	m.Linearize(context.Background())
	r := m.LeastTotal(t.Context(), tr.Aim.Use)
	require.NotNil(t, r.Steps)
	require.Greater(t, r.Bound, 0.1)
	assert.Equal(t, r.Bound, m.Proven(t.Context(), r))
	r = m.Firm(t.Context(), r)
	for name, corrupt := range map[string]func(*bnb.Result){
		"claimed to be higher": func(r *bnb.Result) { r.Claim.Cost *= 1.5 },
		"of wider limits":      func(r *bnb.Result) { r.Claim.Use = 1 },
		"without a proof":      func(r *bnb.Result) { r.Proof = nil },
	} {
		bad := r
		corrupt(&bad)
		assert.True(t, math.IsNaN(m.Proven(t.Context(), bad)), name)
	}
}

// A limit that another one keeps anyway says nothing new.
func TestARedundantLimitChangesNothing(t *testing.T) {
	t.Parallel()
	compared := 0
	trains.Some(t, 501, trains.Draws(1, 3), func(t *testing.T, family string, seed uint64) {
		before := planned(t, trains.Drawn(t, family, seed), optimize.Options{Gap: recheck.Exact, Solves: work()})
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
		after := planned(t, tr, optimize.Options{Gap: recheck.Exact, Solves: work()})
		require.Equal(t, before.Status, after.Status)
		if before.Status == optimize.Planned && math.IsNaN(before.Lowest) && before.Cut == "" && after.Cut == "" {
			compared++
			assert.InDelta(t, before.Least, after.Least, 1e-9)
		}
	})
	assert.GreaterOrEqual(t, compared, trains.Draws(2, 12))
}
