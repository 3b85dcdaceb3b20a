package optimize

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"slices"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/optimize/bnb"
	"leastmove/optimize/mip"
	"leastmove/testdata/families"
	"leastmove/testdata/trains"
	"leastmove/train"
)

// An answer is what an outside solver said of a train, in the file's unit of
// movement, or as a share of the limits.
type answer struct {
	Status    string   // optimal, feasible, infeasible, unknown
	Value     *float64 // of the best point; nil: none
	Bound     *float64 // no point has a lower value; nil: not said
	Tolerance float64  // that the solver was content with; 0: 1e-9
}

func (a answer) infeasible() bool { return a.Status == "infeasible" }

// A reference is what the outside solvers said of one train: see
// testdata/reference/README.md.
type reference struct {
	Family       string
	Seed         uint64
	SHA256       string
	Use          float64 // share of the coupling limits
	Found        float64 // worst use as found
	Relaxed      answer  // least movement without steps: cones
	Minmax       answer  // lowest worst use without steps: cones
	Inner, Outer answer  // least movement in whole steps: polygons within the discs, and around them
	CloseInner   answer  `json:"close inner"` // the same for a use less by second, and more by it
	WideOuter    answer  `json:"wide outer"`
	FullInner    answer  `json:"full inner"` // the same at a use of 1, where the aim could not be kept
	FullOuter    answer  `json:"full outer"`
	LowestInner  answer  `json:"lowest inner"` // lowest worst use in whole steps, likewise
	LowestOuter  answer  `json:"lowest outer"`
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

const (
	// secondOrder is by how much, as a share, a use may differ between the
	// linear forms, which the outside solvers were given, and true geometry,
	// which plans are made for, for their brackets to speak of plans. A total may
	// differ by more, by whole steps, where a limit just lets a move pass: so
	// totals are bracketed by what the solvers find for a use that is less by
	// this and more by it. Where the plan itself shows a larger difference they
	// are not held against it.
	secondOrder = 0.01
	// conesAgree is how near two solvers that each stop at 1e-9 come: a
	// multiplier turns what is left at a limit into some hundred times as much
	// movement.
	conesAgree = 1e-7
	// boundsAgree is the same for a lowest use: what is proven of it pays for what
	// is left over in every row with the largest use there may be.
	boundsAgree = 1e-6
	// gap is what a search that was not cut short may leave to the least total.
	gap = 0.001
	// cutShort is what one that was may: it says so, and how far it may be off.
	cutShort = 0.005
	// work bounds the search in these tests, so that they end soon.
	work = 4000
)

// compare holds the plan of a train against what the outside solvers said.
func (r *reference) compare(t *testing.T, tr *train.Train, p *Plan, seen *spread) {
	t.Helper()
	unit := tr.Units.Move()
	lattice := grain(tr)
	switch {
	case r.Found <= 1-conesAgree:
		require.Equal(t, Within, p.Status)
		return
	case r.Inner.Value != nil:
		require.Equal(t, Planned, p.Status)
		require.True(t, math.IsNaN(p.Lowest), "the aim was given up, and an outside solver keeps it")
		inner := *r.Inner.Value * unit
		seen.add("least over the inner polygons' plan", p.Least/inner-1)
		if p.Least <= inner+lattice/2 {
			seen.count("at or below the inner polygons' plan")
		}
		if v := r.CloseInner.Value; v != nil {
			over := p.Least/(*v*unit) - 1
			most := gap
			if p.Cut != "" {
				seen.add("least of a search cut short, over the close inner polygons' plan", over)
				most = cutShort
			} else {
				seen.add("least over the close inner polygons' plan", over)
			}
			seen.add("bound over the close inner polygons' plan", p.Bound/(*v*unit)-1)
			assert.LessOrEqual(t, over, most)
			assert.LessOrEqual(t, p.Bound, *v*unit+1e-6)
		}
	case r.Outer.infeasible() && r.FullInner.Value != nil:
		require.Equal(t, Planned, p.Status)
		require.False(t, math.IsNaN(p.Lowest), "the aim was kept, and is proven out of reach")
	case r.Outer.infeasible() && r.FullOuter.infeasible():
		require.Equal(t, Impossible, p.Status)
		return
	}
	if p.Status != Planned {
		seen.count(between) // both answers can be right
		return
	}
	if math.IsNaN(p.Lowest) {
		require.False(t, r.Outer.infeasible(), "the aim was kept, and is proven out of reach")
		if b := r.Outer.Bound; b != nil {
			seen.add("least under the outer polygons' bound", 1-p.Least/(*b*unit))
		}
		if b := r.WideOuter.Bound; b != nil {
			seen.add("least under the wide outer polygons' bound", 1-p.Least/(*b*unit))
			assert.GreaterOrEqual(t, p.Least, *b*unit-1e-6)
		} else if r.Inner.Value == nil {
			seen.count(unbounded)
		}
		return
	}
	if v := r.LowestInner.Value; v != nil {
		seen.add("lowest use over the inner polygons' plan", p.Reached / *v - 1)
		assert.LessOrEqual(t, p.Reached, *v*(1+nearLowest)*(1+Spare)*(1+secondOrder))
		assert.LessOrEqual(t, p.Lowest, *v*(1+secondOrder))
	}
	if v := r.LowestOuter.Bound; v != nil {
		seen.add("lowest use under the outer polygons' bound", 1 - p.Reached / *v)
		assert.GreaterOrEqual(t, p.Reached, *v*(1-secondOrder))
	}
}

// relax holds the optimum without whole steps against CVXOPT's.
func (r *reference) relax(t *testing.T, tr *train.Train, seen *spread) {
	t.Helper()
	problem := &Build(tr, nil).Problem
	for _, c := range []struct {
		what string
		goal mip.Goal
		said answer
		unit float64
		near float64
	}{
		{"least movement", mip.Goal{Use: r.Use}, r.Relaxed, tr.Units.Move(), conesAgree},
		{"lowest use", mip.Goal{LeastUse: true, MostUse: r.Found + 1, Cap: math.Inf(1)}, r.Minmax, 1, boundsAgree}, // a bound needs a MostUse
	} {
		got := bnb.Relax(problem, c.goal)
		switch c.said.Status {
		case "infeasible":
			assert.Truef(t, got.Impossible(), "%s: CVXOPT has a proof that there is none", c.what)
		case "optimal":
			require.Falsef(t, got.Impossible(), "%s: CVXOPT has one", c.what)
			value := *c.said.Value * c.unit
			size := math.Max(1, math.Abs(value))
			seen.add("relaxed "+c.what+" off CVXOPT's", math.Abs(got.Bound-value)/size)
			assert.InDeltaf(t, value, got.Bound, math.Max(c.near, 100*c.said.Tolerance)*size, c.what)
			if !c.goal.LeastUse {
				require.NotNil(t, got.X)
				assert.InDelta(t, value, cost(problem, got.X), math.Max(conesAgree, 100*c.said.Tolerance)*size)
			}
		}
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
func (r *reference) check(t *testing.T, seen *spread) *Plan {
	t.Helper()
	text := families.TOML(r.Family, r.Seed)
	sum := sha256.Sum256([]byte(text))
	require.Equal(t, r.SHA256, hex.EncodeToString(sum[:]), "the train is no longer the one that was solved: make the references anew")
	tr := trains.Read(t, r.Family, text)
	require.InDelta(t, r.Use, tr.Aim.Use, 1e-12)
	r.relax(t, tr, seen)
	p := planned(t, tr, Options{Solves: work})
	seen.count(p.Status.String())
	if p.Cut != "" {
		seen.count("cut short")
	}
	if !math.IsNaN(p.Lowest) {
		seen.count("aim out of reach")
	}
	if p.Status == Planned && curved(p) > secondOrder {
		seen.count(tooCurved)
		return p
	}
	r.compare(t, tr, p, seen)
	return p
}

// What trains are counted as.
const (
	tooCurved = "set aside: true geometry adds more than the brackets allow for"
	between   = "no plan, which lies between the inner and the outer polygons: nothing is asserted"
	unbounded = "a plan that no outside solver has a plan or a bound for: nothing is asserted"
)

// curved is the largest difference between the share of a limit that a plan
// takes up by true geometry and the share by the linear forms.
func curved(p *Plan) float64 {
	var most float64
	q := motions(p.Train, p.Moves)
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

// A spread is the largest of each thing seen.
type spread struct {
	sync.Mutex
	most   map[string]float64
	counts map[string]int
}

func newSpread() *spread { return &spread{most: map[string]float64{}, counts: map[string]int{}} }

func (s *spread) add(what string, v float64) {
	s.Lock()
	defer s.Unlock()
	if old, ok := s.most[what]; !ok || v > old {
		s.most[what] = v
	}
	s.counts[what]++
}

func (s *spread) count(what string) {
	s.Lock()
	defer s.Unlock()
	s.counts[what]++
}

func (s *spread) log(t *testing.T) {
	t.Logf("counts: %v", s.counts)
	for what, v := range s.most {
		t.Logf("largest %s: %.3g", what, v)
	}
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
	seen := newSpread()
	t.Run("trains", func(t *testing.T) {
		for _, r := range chosen {
			t.Run(r.name(), func(t *testing.T) {
				t.Parallel()
				r.check(t, seen)
			})
		}
	})
	seen.log(t)
	assert.LessOrEqual(t, seen.counts[tooCurved], 20, "trains that the brackets do not speak of")
	// Of all 500 none was between the polygons, and of one plan (held-513) no solver had
	// said anything.
	assert.Zero(t, seen.counts[between])
	assert.LessOrEqual(t, seen.counts[unbounded], 1)
}
