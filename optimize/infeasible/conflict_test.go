package infeasible

import (
	"context"
	"fmt"
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/optimize"
	"leastmove/optimize/bnb"
	"leastmove/optimize/certify"
	"leastmove/optimize/mip"
	"leastmove/testdata/recheck"
	"leastmove/testdata/trains"
	"leastmove/train"
)

// goalAtAll is the least movement at all of the coupling limits.
var goalAtAll = mip.Goal{Use: 1}

// sets is the variable that sets a foot's pack or its side move, whichever a
// limit is about; -1: the limit is about no single one.
func sets(k *optimize.Model, l optimize.Limit) int {
	for v, g := range k.Groups {
		about := g.Act == optimize.ShimChange && (l.Kind == train.LimitLower || l.Kind == train.LimitRaise) ||
			g.Act == optimize.SideMove && l.Kind == train.LimitTravel
		if about && g.Machine == l.Machine && slices.Contains(g.Feet, l.Foot) {
			return v
		}
	}
	return -1
}

// only is the train's problem with none but some limits, each by as much wider
// as is given to it.
func only(k *optimize.Model, kept []optimize.Limit, wider ...float64) *mip.Problem {
	by := func(l optimize.Limit) float64 {
		if i := slices.Index(kept, l); i >= 0 && i < len(wider) {
			return wider[i]
		}
		return 0
	}
	p := &mip.Problem{Vars: slices.Clone(k.Problem.Vars)}
	for v := range p.Vars {
		p.Vars[v].Lo, p.Vars[v].Hi = -optimize.Reach, optimize.Reach
	}
	for _, l := range kept {
		v := sets(k, l)
		if v < 0 {
			continue
		}
		was := k.Problem.Vars[v]
		if l.Kind != train.LimitRaise {
			p.Vars[v].Lo = was.Lo - by(l)
		}
		if l.Kind != train.LimitLower {
			p.Vars[v].Hi = was.Hi + by(l)
		}
	}
	for i, l := range k.Labels {
		if slices.Contains(kept, l) {
			limit := k.Problem.Limits[i]
			limit.Radius += by(l)
			p.Limits = append(p.Limits, limit)
		}
	}
	return p
}

// proven says whether it is proven that no point keeps a problem's limits, by a
// certificate that holds.
func proven(p *mip.Problem) bool {
	r := bnb.Relax(context.Background(), p, goalAtAll)
	return r.Impossible() && r.Proof != nil && certify.Check(p, r.Claim, r.Proof) == nil
}

// jointly looks for a point without whole steps that keeps a problem's limits,
// and goes through them one by one. The search ends near the limits, not on
// them, the farther off the farther out the point is: so it is given them closer
// by a share, and the point that it finds keeps them as they are. A share of
// zero is for limits that just hold; then the search is left its part.
func jointly(p *mip.Problem, closer float64) error {
	near := fine(p)
	for i := range near.Limits {
		near.Limits[i].Radius *= 1 - closer
	}
	r := bnb.Relax(context.Background(), near, goalAtAll)
	if r.X == nil {
		return fmt.Errorf("no point was found; the bound is %v", r.Bound)
	}
	far := 0.0 // mm
	for _, x := range r.X {
		far = math.Max(far, math.Abs(x))
	}
	within := 1e-8 * math.Max(10, far) // mm or mrad
	for v, x := range r.X {
		if over := math.Max(p.Vars[v].Lo-x, x-p.Vars[v].Hi); !(over <= within) {
			return fmt.Errorf("variable %d is %v beyond its range", v, over)
		}
	}
	if closer == 0 {
		within *= 10
	}
	for i := range p.Limits {
		square := 0.0
		for _, row := range p.Limits[i].Rows {
			value := row.Constant
			for _, term := range row.Terms {
				value += term.Coefficient * r.X[term.Var]
			}
			square += value * value
		}
		if over := math.Sqrt(square) - p.Limits[i].Radius; !(over <= within) {
			return fmt.Errorf("limit %d, of %v, is exceeded by %v; the point is %v mm out", i, p.Limits[i].Radius, over, far)
		}
	}
	return nil
}

// fine is the problem with steps so fine that ranges end where they say.
func fine(p *mip.Problem) *mip.Problem {
	out := *p
	out.Vars, out.Limits = slices.Clone(p.Vars), slices.Clone(p.Limits)
	for v := range out.Vars {
		out.Vars[v].Step = 1e-9
	}
	return &out
}

// members are the limits of a conflict, those that go together as one.
func members(k *optimize.Model, found []optimize.Member) (groups [][]optimize.Limit, short []float64) {
	at := map[optimize.Limit]int{}
	for _, c := range found {
		key := grouped(k, c.Limit)
		if g, ok := at[key]; ok {
			groups[g] = append(groups[g], c.Limit)
			continue
		}
		at[key] = len(groups)
		groups, short = append(groups, []optimize.Limit{c.Limit}), append(short, c.Short)
	}
	return groups, short
}

// A conflict alone is proven to be impossible; without any one of its limits, or
// with that one wider by what it is short of, the others can hold.
func TestConflicts(t *testing.T) {
	t.Parallel()
	count := trains.Draws(20, 120)
	all := shortfalls(t, storedRelaxations)
	require.GreaterOrEqual(t, len(all), count)
	seen := recheck.NewSpread()
	t.Run("trains", func(t *testing.T) {
		for n := range count {
			s := all[n*len(all)/count]
			t.Run(s.name(), func(t *testing.T) {
				t.Parallel()
				m := optimize.NewSolver(s.train(t), optimize.Options{})
				m.Linearize(context.Background())
				conflicts(t, m, seen)
			})
		}
	})
	seen.Log(t)
	for _, kind := range []train.LimitKind{train.LimitLower, train.LimitRaise, train.LimitBolt, train.LimitOffset,
		train.LimitAngle, train.LimitFlex} {
		assert.Positivef(t, seen.Counts[string(kind)], "no conflict has such a limit: %s", kind)
	}
}

func conflicts(t *testing.T, m *optimize.Solver, seen *recheck.Spread) {
	t.Helper()
	found := conflict(t.Context(), m)
	require.NotEmpty(t, found)
	k := m.Model
	if small := m.ModelAt(nil); relaxationInfeasible(context.Background(), &newConflictFilter(context.Background(),
		small).stepless().problem) {
		k = small // as the conflict was looked for
		seen.Count("by small moves")
	}
	var whole []optimize.Limit
	for _, c := range found {
		whole = append(whole, c.Limit)
		seen.Count(string(c.Kind))
		require.NotEqual(t, train.LimitSteps, c.Kind, "without whole steps there is no plan either")
		stated(t, m, c.Limit)
	}
	assert.True(t, proven(only(k, whole)), "the conflict alone is impossible")
	groups, short := members(k, found)
	seen.Add("members", float64(len(groups)))
	for g, group := range groups {
		rest := slices.DeleteFunc(slices.Clone(whole), func(l optimize.Limit) bool { return slices.Contains(group, l) })
		require.Len(t, rest, len(whole)-len(group))
		left := only(k, rest)
		err := jointly(left, 1e-3)
		if err != nil { // just as far as feet may go at all
			err = jointly(left, 1e-4)
		}
		assert.NoErrorf(t, err, "without %v the others can hold", group[0])
		if math.IsNaN(short[g]) {
			seen.Count("no amount by which one must give")
			continue
		}
		given := func(share float64) *mip.Problem {
			wider := make([]float64, len(whole))
			for i, l := range whole {
				if slices.Contains(group, l) {
					wider[i] = short[g] * share
				}
			}
			return only(k, whole, wider...)
		}
		seen.Add("given by "+string(group[0].Kind), short[g])
		if short[g] > 10 {
			seen.Count("given by more than 10 mm or mrad")
		}
		assert.NoErrorf(t, jointly(given(1.05), 0), "%v wider by %v, the others can hold", group[0], short[g])
		assert.Truef(t, proven(fine(given(0.95))), "%v wider by less than %v, they cannot", group[0], short[g])
	}
}

// stated says that the train file has the limit.
func stated(t *testing.T, m *optimize.Solver, l optimize.Limit) {
	t.Helper()
	if l.Machine < 0 {
		require.GreaterOrEqual(t, l.Coupling, 0)
		return
	}
	if l.Foot < 0 {
		return
	}
	foot := m.Plan.Train.Machines[l.Machine].Feet[l.Foot]
	var limit float64
	switch l.Kind {
	case train.LimitLower:
		limit = foot.Lower
	case train.LimitRaise:
		limit = foot.Raise
	case train.LimitTravel:
		limit = math.Min(foot.TravelLeft, foot.TravelRight)
	case train.LimitBolt:
		limit = foot.Hole
	}
	require.Falsef(t, math.IsNaN(limit) || math.IsInf(limit, 0), "%s of %s is not in the train file", l.Kind, foot.Name)
}

// What growth alone parts no move brings together, however far it goes: feet without
// limits may tilt the whole train, which takes nothing off it. By hand: at the
// coupling the second machine grows by 1.20 mm more than the first, the limits are
// 0.25 mm running and twice that cold, so 0.45 mm are missing.
func TestGrowthBetweenConditions(t *testing.T) {
	const foot = "[[machine.foot]]\nname = %q\nx = %d\nspread = 400\n"
	machine := func(name string, at int, growth float64) string {
		return fmt.Sprintf("[[machine]]\nname = %q\nat = %d\nheight = 500\n[[machine.growth]]\nv = %v\n", name, at, growth) +
			fmt.Sprintf(foot, "a", 0) + fmt.Sprintf(foot, "b", 600)
	}
	text := "title = \"growth (invented)\"\nunits = \"mm\"\n[aim]\nuse = 1\n" +
		machine("one", 0, 0.1) + machine("two", 1000, 1.3) + machine("three", 2000, 0.2) +
		"[[coupling]]\nname = \"p\"\nfrom = \"one\"\nto = \"two\"\nx = 800\nlimit = { offset = 0.25, angle = 2 }\n" +
		"found = { v = { offset = 0.4, angle = 0.3 }, h = { offset = 0, angle = 0 } }\n" +
		"[[coupling]]\nname = \"q\"\nfrom = \"two\"\nto = \"three\"\nx = 1800\nlimit = { offset = 2, angle = 2 }\n" +
		"found = { v = { offset = 0, angle = 0 }, h = { offset = 0.1, angle = 0 } }\n" +
		"[[condition]]\nname = \"cold start\"\ngrowth = 0\nuse = 2\n"
	p := explained(t, trains.Read(t, "growth", text), optimize.Options{})
	require.Equal(t, optimize.Impossible, p.Status)
	require.Len(t, p.Conflict, 2)
	for c, member := range p.Conflict {
		assert.Equal(t, optimize.OfCoupling(train.LimitOffset, 0, c), member.Limit)
		assert.InDelta(t, 0.45, member.Short, 1e-5)
	}
}
