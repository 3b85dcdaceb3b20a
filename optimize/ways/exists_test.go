package ways

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/optimize"
	"leastmove/testdata/recheck"
	"leastmove/testdata/trains"
	"leastmove/train"
)

// stored is a train of testdata.
func stored(t *testing.T, name string) *train.Train {
	t.Helper()
	text, err := os.ReadFile(filepath.Join("testdata", name+".toml"))
	require.NoError(t, err)
	return trains.Read(t, name, string(text))
}

// asWritten is what pages print of an edit, and so what is written into a file: five decimals,
// rounded to where the plan still fits.
func asWritten(r optimize.Relaxation) optimize.Relaxation {
	edits := append([]optimize.Edit(nil), r.Edits...)
	for n := range edits {
		e := &edits[n]
		if e.To = math.Ceil(e.To*1e5-1e-6) / 1e5; e.Key == "bolt" {
			e.To = math.Floor(r.Edits[n].To*1e5+1e-6) / 1e5
		}
	}
	r.Edits = edits
	return r
}

// Every option that is listed is planned: written into the file, and by --relieve, which begins
// with the plan that was found with it. The trains are of a family that mostly has no plan, and
// one whose option stood at the edge of its limits.
func TestAnOptionThatIsListedIsPlanned(t *testing.T) {
	t.Parallel()
	seen := recheck.NewSpread()
	check := func(t *testing.T, tr *train.Train) {
		p, err := Make(t.Context(), tr, optimize.Options{Widen: true})
		require.NoError(t, err)
		for _, r := range p.Relaxations {
			seen.Count(string(r.Kind))
			relaxed := optimize.Apply(tr, r.Edits)
			corrected, _ := optimize.SoftFootCorrected(relaxed)
			state := corrected.Check(r.Moves)
			assert.Empty(t, optimize.Breaks(corrected, r.Moves, &state, 1), "%s: the plan that was found", r.Kind)
			for how, edited := range map[string]*train.Train{"relieve": relaxed, "written": optimize.Apply(tr,
				asWritten(r).Edits)} {
				opt := optimize.Options{Brief: true}
				if how == "relieve" {
					opt.Start = r.Moves
				}
				with := planned(t, edited, opt)
				assert.Equal(t, optimize.Planned, with.Status, "%s, %s: %v", r.Kind, how, r.Edits)
			}
		}
	}
	t.Run("trains", func(t *testing.T) {
		t.Run("edge", func(t *testing.T) { t.Parallel(); check(t, stored(t, "edge")) })
		for seed := range uint64(trains.Draws(1, 8)) {
			t.Run(fmt.Sprint(seed), func(t *testing.T) { t.Parallel(); check(t, trains.Drawn(t, "bound", 701+seed)) })
		}
	})
	seen.Log(t)
	assert.Positive(t, seen.Counts[string(optimize.Widen)])
}

// A plan that is known is the plan where a search finds none: with no work at all.
func TestAPlanThatIsKnownIsKept(t *testing.T) {
	t.Parallel()
	tr := stored(t, "edge-widened")
	known := planned(t, tr, optimize.Options{})
	require.Equal(t, optimize.Planned, known.Status)
	p := planned(t, tr, optimize.Options{Solves: 1, Start: known.Moves})
	assert.Equal(t, optimize.Planned, p.Status)
	assert.LessOrEqual(t, p.Total, known.Total+1e-9)
	away := tr.Stay()
	away[0][0].Up = 5 // far beyond what its limits allow
	p = planned(t, tr, optimize.Options{Start: away})
	assert.Equal(t, known.Moves, p.Moves, "moves that keep no limit are no plan")
}

// agreement asks for a plan by every aim and strategy: whether there is one at all does not
// hang on what it makes least, nor on the share of the limits that was aimed at.
func agreement(t *testing.T, tr *train.Train, seen *recheck.Spread) {
	t.Helper()
	const solves = 300 // the edge is searched for little, so that many are
	var has, none []string
	var asked []optimize.Options
	for _, use := range []float64{0.3, 0.7, 0.99, 1} {
		asked = append(asked, optimize.Options{Use: use, Solves: solves})
	}
	for _, s := range optimize.Strategies() {
		if !s.Plain() { // to raise only is to take no shims out: another train
			asked = append(asked, optimize.Options{Strategy: s, Solves: solves})
		}
	}
	for _, opt := range asked {
		p := planned(t, tr, opt)
		what := fmt.Sprintf("%s at %g", p.Strategy, opt.Use)
		switch p.Status {
		case optimize.Planned, optimize.Within:
			has = append(has, what)
		case optimize.Impossible:
			none = append(none, what)
		default:
			seen.Count("undecided")
			if len(has) > 0 {
				t.Logf("undecided: %s; a plan: %v", what, has)
				seen.Count("undecided where there is a plan")
			}
		}
	}
	assert.False(t, len(has) > 0 && len(none) > 0, "a plan: %v; none, proven: %v", has, none)
	switch {
	case len(has) > 0:
		seen.Count("a plan")
	case len(none) > 0:
		seen.Count("none")
	}
}

// atEdge is a train with the limits of its couplings so close, or so wide, that its closest plan uses a share of them.
func atEdge(tr *train.Train, closest *optimize.Plan, share float64) *train.Train {
	edge := optimize.Apply(tr, nil)
	for i := range edge.Couplings {
		l := &edge.Couplings[i].Limit
		for _, limit := range []*float64{&l.Offset, &l.Angle, &l.Gap} {
			*limit *= closest.Reached / share
		}
	}
	return edge
}

// Random trains as they are, and with the limits of all couplings such that the closest plan stands at their edge, just
// within and just beyond.
func TestAimsAndStrategiesAgreeWhetherThereIsAPlan(t *testing.T) {
	t.Parallel()
	seen := recheck.NewSpread()
	drawn := func(family string, count int, shares ...float64) {
		for seed := range uint64(count) {
			t.Run(fmt.Sprintf("%s-%d", family, seed), func(t *testing.T) {
				tr := trains.Drawn(t, family, 901+seed)
				agreement(t, tr, seen)
				closest := planned(t, tr, optimize.Options{Strategy: optimize.Closest})
				if closest.Status != optimize.Planned {
					return
				}
				for _, share := range shares {
					agreement(t, atEdge(tr, closest, share), seen)
				}
			})
		}
	}
	agreement(t, stored(t, "edge"), seen)
	agreement(t, stored(t, "edge-widened"), seen)
	drawn("two", trains.Draws(1, 40), 0.99999, 1.0003, 1.01)
	drawn("held", trains.Draws(0, 8), 0.99999)
	drawn("tight", trains.Draws(0, 8), 0.99999)
	seen.Log(t)
	assert.Positive(t, seen.Counts["a plan"])
	assert.Positive(t, seen.Counts["none"])
	// So little work does not find every plan at the edge: of 176 trains with a plan two questions stay open.
	assert.LessOrEqual(t, seen.Counts["undecided where there is a plan"], seen.Counts["a plan"]/80)
}

// Where it is undecided whether there is a plan, the moves that are nearest to one come with it: they keep every limit
// but those of couplings.
func TestWhereItIsUndecidedTheNearestMovesAreGiven(t *testing.T) {
	t.Parallel()
	tr := trains.Drawn(t, "tight", 900)
	closest := planned(t, tr, optimize.Options{Strategy: optimize.Closest})
	edge := atEdge(tr, closest, 1.01)
	m, err := optimize.Begin(t.Context(), edge, optimize.Options{Use: 1, Solves: 100})
	require.NoError(t, err)
	require.Equal(t, optimize.Undecided, m.Plan.Status, "the train is no longer at the edge")
	require.NotNil(t, m.Plan.Nearest)
	near := m.Plan.Nearest
	assert.Greater(t, near.Reached, 1.0)
	assert.Less(t, near.Reached, 1.02, "the closest plan misses by 1 %")
	state := m.Plan.Train.Check(near.Moves)
	assert.Empty(t, optimize.Breaks(m.Plan.Train, near.Moves, &state, near.Reached))
	for _, b := range near.Broken {
		assert.GreaterOrEqual(t, b.Coupling, 0)
	}
}
