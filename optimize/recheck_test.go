package optimize_test

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/optimize"
	"leastmove/testdata/recheck"
	"leastmove/testdata/trains"
	"leastmove/train"
)

func TestSoftFoot(t *testing.T) {
	feet := []train.Foot{{X: 0, Y: 400}, {X: 0, Y: -400}, {X: 1000, Y: 400}, {X: 1000, Y: -400}}
	moves := []train.FootMove{{Up: 0.1}, {}, {}, {}}
	// The other three are at zero, and so is the plane through them.
	soft, ok := recheck.SoftFootOf(feet, moves, 0)
	require.True(t, ok)
	assert.InDelta(t, 0.1, soft, 1e-12)
	// The plane through 0.1, 0 and 0 at three corners of a rectangle is at
	// 0 + 0 - 0.1 at the fourth.
	soft, ok = recheck.SoftFootOf(feet, moves, 3)
	require.True(t, ok)
	assert.InDelta(t, 0.1, soft, 1e-12)
}

// A recorder notes that a check failed instead of failing a test.
type recorder struct{ failed bool }

func (r *recorder) Errorf(string, ...any) { r.failed = true }
func (r *recorder) Helper()               {}
func (r *recorder) FailNow()              { panic(r) }

func fails(check func(t recheck.Tester)) bool {
	r := &recorder{}
	func() {
		defer func() {
			if v := recover(); v != nil && v != any(r) {
				panic(v)
			}
		}()
		check(r)
	}()
	return r.failed
}

// Every plan in these tests passes recheck; these do not, each for one thing.
func TestRecheckSeesABrokenPlan(t *testing.T) {
	t.Parallel()
	planned := map[string]*optimize.Plan{} // by family
	for family, seed := range map[string]uint64{"plain": 103, "three": 101, "gear": 102, "nozzle": 103} {
		p, err := optimize.Make(t.Context(), trains.Drawn(t, family, seed), optimize.Options{Solves: 500})
		require.NoError(t, err)
		require.Equal(t, optimize.Planned, p.Status)
		planned[family] = p
	}
	for _, c := range []struct {
		reason  string
		family  string
		corrupt func(*optimize.Plan)
	}{
		{"nothing is wrong", "plain", nil},
		{"a total that does not add up", "plain", func(p *optimize.Plan) { p.Total += 0.01 }},
		{"a bound above the least total", "plain", func(p *optimize.Plan) { p.Bound = p.Least + 0.01 }},
		{"no whole shim steps", "plain", func(p *optimize.Plan) { p.Moves[0][0].Up += 0.012 }},
		{"left and right packs differ", "plain", func(p *optimize.Plan) { p.Moves[0][0].Up += p.Train.Shims.Step }},
		{"couplings closer than they are", "plain", func(p *optimize.Plan) { p.Reached -= 0.001 }},
		{"beyond the aim", "plain", func(p *optimize.Plan) { p.Aim = 0.99 * p.Reached }},
		{"more out of a pack than is in it", "plain", func(p *optimize.Plan) { p.Train.Machines[0].Feet[0].Lower = -1 }},
		{"the bolt meets its hole", "plain", func(p *optimize.Plan) {
			for i := range p.Train.Machines {
				p.Train.Machines[i].Feet[0].Hole = p.Train.Machines[i].Feet[0].Bolt
			}
		}},
		{"a machine that is held", "plain", func(p *optimize.Plan) { p.Train.Machines[0].Hold = true }},
		{"further aside than it may go", "plain", func(p *optimize.Plan) {
			for i := range p.Train.Machines {
				p.Train.Machines[i].Feet[0].TravelLeft, p.Train.Machines[i].Feet[0].TravelRight = 0, 0
			}
		}},
		{"soft feet", "three", func(p *optimize.Plan) { trains.Flat(p.Train, 0) }},
		{"not level", "gear", func(p *optimize.Plan) {
			for i := range p.Train.Machines {
				p.Train.Machines[i].Level.Pitch = 1e-3
			}
		}},
		{"pipes strained", "nozzle", func(p *optimize.Plan) {
			for i := range p.Train.Machines {
				for n := range p.Train.Machines[i].Nozzles {
					p.Train.Machines[i].Nozzles[n].Limit = 1e-3
				}
			}
		}},
	} {
		t.Run(c.reason, func(t *testing.T) {
			p := *planned[c.family]
			p.Train, p.Moves = optimize.Apply(p.Train, nil), slices.Clone(p.Moves)
			for i := range p.Moves {
				p.Moves[i] = slices.Clone(p.Moves[i])
			}
			if c.corrupt != nil {
				c.corrupt(&p)
			}
			assert.Equal(t, c.corrupt != nil, fails(func(t recheck.Tester) { recheck.Recheck(t, &p) }))
		})
	}
}
