package optimize_test

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/optimize"
	"leastmove/optimize/bnb"
	"leastmove/optimize/mip"
	"leastmove/testdata/families"
	"leastmove/testdata/recheck"
	"leastmove/testdata/trains"
	"leastmove/train"
)

// A reference is what the outside solvers said of one train: see
// testdata/reference/README.md.
type reference struct {
	Family       string
	Seed         uint64
	SHA256       string
	Slides       bool           // feet slide hot; false: the answers are from before they did
	Use          float64        // share of the coupling limits
	Found        float64        // worst use as found
	Relaxed      recheck.Answer // least movement without steps: cones
	Minmax       recheck.Answer // lowest worst use without steps: cones
	Inner, Outer recheck.Answer // least movement in whole steps: polygons within the discs, and around them
	CloseInner   recheck.Answer `json:"close inner"` // the same for a use less by second, and more by it
	WideOuter    recheck.Answer `json:"wide outer"`
	FullInner    recheck.Answer `json:"full inner"` // the same at a use of 1, where the aim could not be kept
	FullOuter    recheck.Answer `json:"full outer"`
	LowestInner  recheck.Answer `json:"lowest inner"` // lowest worst use in whole steps, likewise
	LowestOuter  recheck.Answer `json:"lowest outer"`
}

func (r *reference) name() string { return fmt.Sprintf("%s-%d", r.Family, r.Seed) }

func references(t *testing.T, file string) []reference {
	t.Helper()
	text, err := os.ReadFile(file)
	require.NoError(t, err)
	var read struct{ Trains []reference }
	require.NoError(t, json.Unmarshal(text, &read))
	return read.Trains
}

// compare holds the plan of a train against what the outside solvers said.
func (r *reference) compare(t *testing.T, tr *train.Train, p *optimize.Plan, seen *recheck.Spread) {
	t.Helper()
	unit := tr.Units.Move()
	step := grain(tr)
	switch {
	case r.Found <= 1-recheck.ConesAgree && !warmUpBroken(tr):
		require.Equal(t, optimize.Within, p.Status)
		return
	case r.Inner.Value != nil:
		require.Equal(t, optimize.Planned, p.Status)
		require.True(t, math.IsNaN(p.Lowest), "the aim was given up, and an outside solver keeps it")
		inner := *r.Inner.Value * unit
		seen.Add("least over the inner polygons' plan", p.Least/inner-1)
		if p.Least <= inner+step/2 {
			seen.Count("at or below the inner polygons' plan")
		}
		if v := r.CloseInner.Value; v != nil {
			over := p.Least/(*v*unit) - 1
			most := recheck.WithinGap
			if p.Cut != "" {
				seen.Add("least of a search cut short, over the close inner polygons' plan", over)
				most = cutShort()
			} else {
				seen.Add("least over the close inner polygons' plan", over)
			}
			seen.Add("bound over the close inner polygons' plan", p.Bound/(*v*unit)-1)
			assert.LessOrEqual(t, over, most)
			assert.LessOrEqual(t, p.Bound, *v*unit+1e-6)
		}
	case r.Outer.Infeasible() && r.FullInner.Value != nil:
		require.Equal(t, optimize.Planned, p.Status)
		require.False(t, math.IsNaN(p.Lowest), "the aim was kept, and is proven out of reach")
	case r.Outer.Infeasible() && r.FullOuter.Infeasible() && p.FirstOrder:
		seen.Count(firstOrder)
		if v := r.LowestInner.Value; v != nil && !math.IsNaN(p.Lowest) {
			assert.LessOrEqual(t, p.Lowest, *v*(1+recheck.SecondOrder))
		}
		return
	case r.Outer.Infeasible() && r.FullOuter.Infeasible():
		require.Equal(t, optimize.Impossible, p.Status)
		return
	}
	if p.Status != optimize.Planned {
		seen.Count(between) // both answers can be right
		return
	}
	if math.IsNaN(p.Lowest) {
		require.False(t, r.Outer.Infeasible(), "the aim was kept, and is proven out of reach")
		if b := r.Outer.Bound; b != nil {
			seen.Add("least under the outer polygons' bound", 1-p.Least/(*b*unit))
		}
		if b := r.WideOuter.Bound; b != nil {
			seen.Add("least under the wide outer polygons' bound", 1-p.Least/(*b*unit))
			assert.GreaterOrEqual(t, p.Least, *b*unit-1e-6)
		} else if r.Inner.Value == nil {
			seen.Count(unbounded)
		}
		return
	}
	if v := r.FullInner.Value; v != nil && p.Kept == 1 { // found at all of the limits alone: least of that
		seen.Count("at all of the limits")
		assert.LessOrEqual(t, p.Least, *v*unit*(1+recheck.WithinGap)+grain(tr)/2)
		return
	}
	if v := r.LowestInner.Value; v != nil {
		seen.Add("lowest use over the inner polygons' plan", p.Reached / *v - 1)
		most := (1 + optimize.NearLowest) * (1 + optimize.Spare) * (1 + recheck.SecondOrder)
		if p.Cut != "" && !trains.Everything() {
			most *= 1 + cutShort()
		}
		assert.LessOrEqual(t, p.Reached, *v*most)
		assert.LessOrEqual(t, p.Lowest, *v*(1+recheck.SecondOrder))
	}
	if v := r.LowestOuter.Bound; v != nil {
		seen.Add("lowest use under the outer polygons' bound", 1 - p.Reached / *v)
		assert.GreaterOrEqual(t, p.Reached, *v*(1-recheck.SecondOrder))
	}
}

// relax holds the optimum without whole steps against CVXOPT's.
func (r *reference) relax(t *testing.T, tr *train.Train, seen *recheck.Spread) {
	t.Helper()
	problem := &optimize.Build(tr, nil).Problem
	if r.Slides {
		problem = stepless(tr)
	}
	for _, c := range []struct {
		what string
		goal mip.Goal
		said recheck.Answer
		unit float64
		near float64
	}{
		{"least movement", mip.Goal{Use: r.Use}, r.Relaxed, tr.Units.Move(), recheck.ConesAgree},
		// a bound needs a MostUse
		{"lowest use", mip.Goal{LeastUse: true, MostUse: r.Found + 1, Cap: math.Inf(1)}, r.Minmax, 1, recheck.BoundsAgree},
	} {
		got := bnb.Relax(context.Background(), problem, c.goal)
		switch c.said.Status {
		case "infeasible":
			assert.Truef(t, got.Impossible(), "%s: CVXOPT has a proof that there is none", c.what)
		case "optimal":
			require.Falsef(t, got.Impossible(), "%s: CVXOPT has one", c.what)
			value := *c.said.Value * c.unit
			size := math.Max(1, math.Abs(value))
			if loose := loosest(tr); loose > 0 {
				bracket(t, tr, c.goal, got.Bound, value, loose, math.Max(c.near, 100*c.said.Tolerance)*size)
				continue
			}
			seen.Add("relaxed "+c.what+" off CVXOPT's", math.Abs(got.Bound-value)/size)
			assert.InDeltaf(t, value, got.Bound, math.Max(c.near, 100*c.said.Tolerance)*size, c.what)
			if !c.goal.LeastUse {
				require.NotNil(t, got.X)
				assert.InDelta(t, value, cost(problem, got.X), math.Max(recheck.ConesAgree, 100*c.said.Tolerance)*size)
			}
		}
	}
}

// stepless is the problem of a train almost without steps: ranges end at whole steps, which the ends of holes hot are
// not.
func stepless(tr *train.Train) *mip.Problem {
	problem := &optimize.Build(tr, nil).Problem
	for v := range problem.Vars {
		problem.Vars[v].Step, problem.Vars[v].Only = 1e-7, nil
	}
	return problem
}

// warmUpBroken says whether the train as found passes what it may use in warm-up.
func warmUpBroken(tr *train.Train) bool {
	state := tr.Check(tr.Stay())
	return slices.ContainsFunc(state.Warm, func(w train.Transient) bool { return w.Worst() > tr.Aim.Transient })
}

// loosest is the largest share by which the discs that stand for limits added up let through more than the sum: 0 where
// no limits are.
func loosest(tr *train.Train) float64 {
	var most float64
	for i := range tr.Couplings {
		most = math.Max(most, tr.Couplings[i].Loose())
	}
	return most
}

// bracket holds an optimum of discs that stand for limits added up against that of the sums: it is no more, and where
// all of the use is less by what discs let through, no less.
func bracket(t *testing.T, tr *train.Train, goal mip.Goal, got, value, loose, near float64) {
	t.Helper()
	assert.LessOrEqual(t, got, value+near)
	if goal.LeastUse {
		assert.GreaterOrEqual(t, got*(1+loose), value-near)
		return
	}
	goal.Use /= 1 + loose
	closer := *tr
	closer.Aim.Transient /= 1 + loose
	if less := bnb.Relax(context.Background(), stepless(&closer), goal); !less.Impossible() {
		assert.GreaterOrEqual(t, less.Bound, value-near)
	}
}

func cost(p *mip.Problem, x []float64) float64 {
	var sum float64
	for j, v := range p.Vars {
		sum += v.Weight * math.Abs(x[j])
	}
	return sum
}

// check draws the train, plans it, and holds the plan and the optimum without
// steps against the outside solvers' answers.
func (r *reference) check(t *testing.T, seen *recheck.Spread) *optimize.Plan {
	t.Helper()
	text := families.TOML(r.Family, r.Seed)
	sum := sha256.Sum256([]byte(text))
	require.Equal(t, r.SHA256, hex.EncodeToString(sum[:]), "the train is no longer the one that was solved: make the "+
		"references anew")
	tr := trains.Read(t, r.Family, text)
	if !r.Slides {
		trains.Cold(tr)
	}
	require.InDelta(t, r.Use, tr.Aim.Use, 1e-12)
	r.relax(t, tr, seen)
	p := planned(t, tr, optimize.Options{Solves: r.work()})
	seen.Count(p.Status.String())
	if p.Cut != "" {
		seen.Count("cut short")
	}
	if !math.IsNaN(p.Lowest) {
		seen.Count("aim out of reach")
	}
	if p.Status == optimize.Planned && curved(p) > recheck.SecondOrder {
		seen.Count(tooCurved)
		return p
	}
	r.compare(t, tr, p, seen)
	return p
}

// By default a search has about a seventh of the work that it has with all settings, that of a stored train half of
// that where it is enough. Status, bounds and what no plan can be better than are held the same; only a search cut
// short may be further off.
const (
	short    = 600 // cone programs
	shortest = 400
	shortOff = 0.05
)

// work is how many cone programs a search may solve.
func work() int { return trains.Draws(short, recheck.Work) }

// work is how many the search of this train may solve.
func (r *reference) work() int {
	enough := !slices.Contains([]string{"inch-116", "long-503", "nozzle-505", "tight-110"}, r.name())
	switch {
	case enough && !trains.Everything():
		return shortest
	case r.Family == "together": // of many discs: each program takes several times as long
		return min(work(), 600)
	}
	return work()
}

// cutShort is by what share a search that ended early may be off.
func cutShort() float64 {
	if trains.Everything() {
		return recheck.CutShort
	}
	return shortOff
}

// What trains are counted as.
const (
	tooCurved  = "set aside: true geometry adds more than the brackets allow for"
	between    = "no plan, which lies between the inner and the outer polygons: nothing is asserted"
	firstOrder = "undecided: no plan to first order, as the outside solvers have it, and true geometry may have one"
	unbounded  = "a plan that no outside solver has a plan or a bound for: nothing is asserted"
)

// curved is the largest difference between the share of a limit that a plan
// uses by true geometry and the share by the linear forms.
func curved(p *optimize.Plan) float64 {
	var most float64
	q := p.Train.Motions(p.Moves)
	for i, conditions := range p.Planned.Couplings {
		for k := range conditions {
			m, gap := p.Train.Linear(i, k, q)
			for n, u := range p.Train.Uses(i, k, m, gap) {
				most = math.Max(most, math.Abs(u.Share-conditions[k].Uses[n].Share))
			}
		}
	}
	return most
}

// hardest are the trains of hardest.txt, which says how they were chosen.
func hardest(t *testing.T) map[string]bool {
	t.Helper()
	text, err := os.ReadFile("../testdata/reference/hardest.txt")
	require.NoError(t, err)
	names := map[string]bool{}
	for line := range strings.Lines(string(text)) {
		if line = strings.TrimSpace(line); line != "" && line[0] != '#' {
			names[line] = true
		}
	}
	return names
}

// Plans, bounds and optima against the stored answers of CVXOPT and HiGHS: the 100
// hardest trains, or all.
func TestStoredReferences(t *testing.T) {
	t.Parallel()
	all := references(t, "../testdata/reference/trains.json")
	require.GreaterOrEqual(t, len(all), 500)
	chosen := all
	if !trains.Everything() {
		names := hardest(t)
		chosen = slices.DeleteFunc(slices.Clone(all), func(r reference) bool { return !names[r.name()] })
		require.Len(t, chosen, 100)
		require.Len(t, names, 100, "every name is that of a stored train")
	}
	seen := recheck.NewSpread()
	t.Run("trains", func(t *testing.T) {
		for _, r := range chosen {
			t.Run(r.name(), func(t *testing.T) {
				t.Parallel()
				r.check(t, seen)
			})
		}
	})
	seen.Log(t)
	assert.LessOrEqual(t, seen.Counts[tooCurved], 20, "trains that the brackets do not speak of")
	// Of all 500 none was between the polygons, and of one plan (held-513) no solver had
	// said anything.
	assert.Zero(t, seen.Counts[between])
	assert.LessOrEqual(t, seen.Counts[unbounded], 1)
}
