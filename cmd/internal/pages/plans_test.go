package pages

import (
	"bytes"
	"math"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"leastmove/cmd/internal/view"
	"leastmove/optimize"
	"leastmove/train"
	"leastmove/train/trainfile"
)

// read reads a train of the tests.
func read(t *testing.T, name string) *train.Train {
	t.Helper()
	src, err := os.ReadFile("testdata/" + name)
	require.NoError(t, err)
	tr, faults := trainfile.Read(name, src, trainfile.Options{})
	require.NotNil(t, tr, "%v", faults)
	return tr
}

func emptyPlan(tr *train.Train, status optimize.Status) *optimize.Plan {
	nan := math.NaN()
	return &optimize.Plan{Result: optimize.Result{
		Train: tr, Status: status, Aim: 0.7, Found: tr.Check(tr.Stay()),
		Total: nan, Plain: nan, Least: nan, Bound: nan, Largest: nan, Reached: nan, Lowest: nan, Kept: nan,
	}}
}

// every sets all feet of one machine alike.
func every(feet []train.FootMove, move train.FootMove) {
	for f := range feet {
		feet[f] = move
	}
}

func none(kind train.LimitKind) optimize.Limit {
	return optimize.Limit{Kind: kind, Machine: -1, Foot: -1, Nozzle: -1, Coupling: -1, Condition: -1}
}

func footLimit(kind train.LimitKind, m, f int) optimize.Limit {
	l := none(kind)
	l.Machine, l.Foot = m, f
	return l
}

func couplingLimit(kind train.LimitKind, i, k int) optimize.Limit {
	l := none(kind)
	l.Coupling, l.Condition = i, k
	return l
}

// plannedMM raises the turbine by 0.30 mm and shifts it by 0.40 mm against x,
// and raises the compressor by 0.45 mm and moves it by 0.20 mm to the left.
// By hand: 4 feet × (0.30 + 0.40) = 2.80, times the effort of 1.5 = 4.20;
// 4 × (0.45 + 0.20) = 2.60; 6.80 weighted, 5.40 plain.
func plannedMM(t *testing.T) *optimize.Plan {
	p := emptyPlan(read(t, "mm.toml"), optimize.Planned)
	p.Moves = p.Train.Stay()
	every(p.Moves[0], train.FootMove{Up: 0.30, Axial: -0.40})
	every(p.Moves[2], train.FootMove{Up: 0.45, Left: 0.20})
	p.Planned = p.Train.Check(p.Moves)
	p.Reached = p.Planned.Worst()
	p.Total, p.Plain, p.Least, p.Bound, p.Largest, p.Moved = 6.80, 5.40, 6.78, 6.7796, 0.45, 2
	p.Kept = p.Aim
	p.Active = []optimize.Constraint{
		{Limit: couplingLimit(train.LimitFlex, 0, 0), Value: 0.34, Bound: 0.5},
		{Limit: couplingLimit(train.LimitFlex, 0, 0), Value: 0.349, Bound: 0.5},
		{Limit: couplingLimit(train.LimitGap, 0, 0), Value: 0.349, Bound: 0.5},
		{Limit: footLimit(train.LimitRaise, 2, 0), Value: 0.45, Bound: 0.5},
		{Limit: footLimit(train.LimitTravel, 2, 2), Value: 0.2, Bound: 0.2},
	}
	nozzle, level := none(train.LimitNozzle), none(train.LimitPitch)
	nozzle.Machine, nozzle.Nozzle, level.Machine = 0, 0, 0
	p.Active = append(p.Active, optimize.Constraint{Limit: nozzle, Value: 0.78, Bound: 0.8},
		optimize.Constraint{Limit: level, Value: 0.49, Bound: 0.5})
	p.Unstated = []string{"booster, every foot: no bolt or hole", "low speed: distance between shaft ends"}
	p.Solves = 12
	return p
}

// plannedInch lowers the gear by 12 mil at its left and 11 at its right feet
// and moves it to the right, by 31 mil at the first station, where its bolts
// let it go 31.25, and by 30.5 at the other.
// By hand: 2 × 12 + 2 × 11 + 2 × 31 + 2 × 30.5 = 169.
func plannedInch(t *testing.T) *optimize.Plan {
	const mil = train.Mil
	p := emptyPlan(read(t, "inch.toml"), optimize.Planned)
	p.Moves = p.Train.Stay()
	for f := range p.Moves[1] {
		m := train.FootMove{Up: -12 * mil, Left: -31 * mil}
		if f%2 == 1 {
			m.Up = -11 * mil
		}
		if f >= 2 {
			m.Left = -30.5 * mil
		}
		p.Moves[1][f] = m
	}
	p.Planned = p.Train.Check(p.Moves)
	p.Reached = p.Planned.Worst()
	p.Total, p.Plain, p.Least, p.Bound, p.Largest, p.Moved = 169*mil, 169*mil, 169*mil, 168.999*mil, 31*mil, 1
	p.Kept = p.Aim
	p.Active = []optimize.Constraint{
		{Limit: footLimit(train.LimitLower, 1, 0), Value: 12 * mil, Bound: 12.5 * mil},
		{Limit: footLimit(train.LimitBolt, 1, 0), Value: 31 * mil, Bound: 31.25 * mil},
	}
	p.Cut = "the search reached its bound on work"
	return p
}

func within(t *testing.T) *optimize.Plan {
	tr := read(t, "inch.toml")
	for i := range tr.Couplings {
		tr.Couplings[i].Found = train.Misalignment{V: train.Tilt{Offset: 1.5 * train.Mil}}
	}
	p := emptyPlan(tr, optimize.Within)
	p.Moves = tr.Stay()
	p.Planned = p.Found
	p.Reached = p.Planned.Worst()
	p.Total, p.Plain, p.Least, p.Bound, p.Largest = 0, 0, 0, 0, 0
	return p
}

func impossible(t *testing.T) *optimize.Plan {
	p := emptyPlan(read(t, "mm.toml"), optimize.Impossible)
	p.Lowest = math.Inf(1)
	level, nozzle := none(train.LimitPitch), none(train.LimitNozzle)
	level.Machine, nozzle.Machine, nozzle.Nozzle = 0, 0, 0
	for _, l := range []optimize.Limit{
		footLimit(train.LimitLower, 2, 0), footLimit(train.LimitRaise, 2, 0), footLimit(train.LimitBolt, 2, 0),
		footLimit(train.LimitTravel, 2, 2), footLimit(train.LimitFlat, 2, 2), level, nozzle, none(train.LimitSteps),
		couplingLimit(train.LimitOffset, 1, 0), couplingLimit(train.LimitAngle, 1, 1),
		couplingLimit(train.LimitFlex, 0, 1), couplingLimit(train.LimitGap, 0, 0),
	} {
		p.Conflict = append(p.Conflict, optimize.Member{Limit: l, Short: math.NaN()})
	}
	p.Unstated = []string{"low speed: distance between shaft ends"}
	return p
}

// advised is impossible with the conflict of one pack, one bolt hole and one
// coupling, and four options.
func advised(t *testing.T) *optimize.Plan {
	p := impossible(t)
	low := func(l optimize.Limit, short float64) optimize.Member { return optimize.Member{Limit: l, Short: short} }
	p.Conflict = []optimize.Member{
		low(footLimit(train.LimitLower, 2, 0), 0.3101), low(footLimit(train.LimitLower, 2, 1), 0.3101),
		low(footLimit(train.LimitBolt, 2, 0), 0.25), low(footLimit(train.LimitBolt, 2, 1), 0.25),
		low(couplingLimit(train.LimitOffset, 1, 1), 0.04), low(couplingLimit(train.LimitGap, 0, 0), math.NaN()),
	}
	foot := func(key string, m, f int, from, to float64) optimize.Edit {
		return optimize.Edit{Machine: m, Foot: f, Coupling: -1, Key: key, From: from, To: to}
	}
	both := func(key string, m, f int, from, to float64) []optimize.Edit {
		return []optimize.Edit{foot(key, m, f, from, to), foot(key, m, f+1, from, to)}
	}
	wide := func(key string, from, to float64) optimize.Edit {
		return optimize.Edit{Machine: -1, Foot: -1, Coupling: 1, Key: key, From: from, To: to}
	}
	p.Relaxations = []optimize.Relaxation{
		{Kind: optimize.OpenHoles, Edits: both("hole", 2, 0, 25, 26.5), Cost: 3, Least: 2.71, Total: 4.96, Bound: 4.9579},
		{Kind: optimize.Mix, Edits: append(both("cut", 2, 0, 0, 0.35), foot("bolt", 2, 1, 24, 22.5),
			foot("roll", 2, -1, 0, 1)),
			Cost: 12.5, Least: math.NaN(), Total: 5.10, Bound: math.NaN()},
		{Kind: optimize.Release, Edits: []optimize.Edit{foot("hold", 1, -1, 1, 0)}, Cost: 20, Least: 20,
			Total: 3.30, Bound: 3.2},
		{Kind: optimize.Widen, Edits: []optimize.Edit{wide("limit.offset", 0.08, 0.12), wide("limit.angle", 0.5, 0.75)},
			Cost: 0.5, Least: 0.481, Total: 6, Bound: 5.9},
	}
	return p
}

// relieved is plannedMM as the train of advised with its second option: 0.35
// comes off the drive end of the compressor, so that much more goes in there.
func relieved(t *testing.T) (*optimize.Plan, *view.Relieved) {
	r := advised(t).Relaxations[1]
	p := plannedMM(t)
	for f := range 2 {
		p.Train.Machines[2].Feet[f].Cut = 0.35
		p.Train.Machines[2].Feet[f].Lower += 0.35
	}
	return p, &view.Relieved{Number: 2, Relaxation: r}
}

// softened is plannedInch with soft feet, packs of pieces, and what limits
// cost: the first foot's 12.5 mil are the file's 9.5 and 3 that fill its gap.
func softened(t *testing.T) *optimize.Plan {
	const mil = train.Mil
	p := plannedInch(t)
	p.Train.Machines[1].Feet[0].Soft, p.Train.Machines[1].Feet[0].Filled = 3.2*mil, 3*mil
	p.Train.Machines[2].Feet[3].Soft = 0.4 * mil
	p.Soft = []optimize.Soft{{Machine: 1, Foot: 0, Gap: 3.2 * mil, Fill: 3 * mil},
		{Machine: 2, Foot: 3, Gap: 0.4 * mil, Fill: 0}}
	p.Packs = []optimize.Pack{
		{Machine: 1, Foot: 0, Now: []float64{2 * mil, 7.5 * mil}, Then: []float64{0.5 * mil},
			Out: []float64{2 * mil, 7.5 * mil}, In: []float64{0.5 * mil}},
		{Machine: 1, Foot: 2, In: []float64{50 * mil, 25 * mil, 13 * mil}},
		{Machine: 1, Foot: 3, Now: []float64{100 * mil}, Then: []float64{89 * mil}, Out: []float64{100 * mil},
			In: []float64{89 * mil}},
	}
	p.Shims = []optimize.Shim{{Thickness: 0.5 * mil, Count: 1}, {Thickness: 25 * mil, Count: 2}}
	end := func(l optimize.Limit, value, bound float64) optimize.Constraint {
		return optimize.Constraint{Limit: l, Value: value, Bound: bound}
	}
	nan, inf := math.NaN(), math.Inf(1)
	p.ShadowPrices = []optimize.ShadowPrice{
		{Constraint: end(footLimit(train.LimitBolt, 1, 0), 31*mil, 31.25*mil), Price: 2, By: 20 * mil, AtMost: 33 * mil,
			Wider: 24.4 * mil, Closer: 35.4 * mil},
		{Constraint: end(footLimit(train.LimitLower, 1, 0), 12*mil, 12.5*mil), Price: 1, By: 5 * mil, AtMost: 9 * mil,
			Wider: 8 * mil, Closer: inf},
		{Constraint: end(couplingLimit(train.LimitFlex, 1, 0), 0.5, 0.5), Price: 3 * mil, By: 0.05, AtMost: 1.5 * mil,
			Wider: nan, Closer: nan},
		{Constraint: end(footLimit(train.LimitRaise, 1, 1), 0, 100*mil), Price: 0, By: 5 * mil, AtMost: 0,
			Wider: 0, Closer: 0},
	}
	return p
}

func undecided(t *testing.T) *optimize.Plan {
	p := emptyPlan(read(t, "mm.toml"), optimize.Undecided)
	p.Lowest = 0.9999
	p.Cut = "the search reached its bound on work"
	return p
}

// nearlyPlanned is undecided, with no plan to first order, and has the moves of another plan as the nearest.
func nearlyPlanned(t *testing.T) *optimize.Plan {
	p, no := undecided(t), impossible(t)
	p.FirstOrder, p.Conflict, p.Relaxations = true, no.Conflict, no.Relaxations
	p.Nearest = optimize.Try(p.Train, plannedMM(t).Moves)
	return p
}

// long is plannedMM with names of 40 characters.
func long(t *testing.T) *optimize.Plan {
	p := plannedMM(t)
	tr := p.Train
	stretch := func(s *string) {
		*s = (*s + " of the second recycle gas compression unit train")[:40]
	}
	tr.Sides = train.Sides{Left: "toward the river and the old loading quay", Right: "toward the road"}
	for i := range tr.Machines {
		m := &tr.Machines[i]
		stretch(&m.Name)
		for f := range m.Feet {
			end := " left"
			if m.Feet[f].Y < 0 {
				end = " right"
			}
			m.Feet[f].Name = (strings.TrimSuffix(m.Feet[f].Name, end) + " by the stair to the pump house wall")[:34] + end
		}
		for n := range m.Nozzles {
			stretch(&m.Nozzles[n].Name)
		}
	}
	for i := range tr.Couplings {
		stretch(&tr.Couplings[i].Name)
	}
	stretch(&tr.Conditions[1].Name)
	return p
}

// handmade are plans made by hand, by the name of their golden files.
// rolled turns the gear, whose shafts are 165 mm to the left and right of its middle, by 0.10 mm up at its left feet
// and down at its right ones, 820 mm apart: 0.244 mrad, which takes the pinion 0.04 mm up and the wheel as much down.
// 0.35 mm was cut off its first foot; a gap of 0.04 mm under its second is filled by 0.05 mm.
// By hand: 4 × 0.10 = 0.40.
func rolled(t *testing.T) *optimize.Plan {
	tr := example(t, "turbine")
	feet := tr.Machines[1].Feet
	feet[0].Cut, feet[0].Lower = 0.35, feet[0].Lower+0.35
	feet[1].Soft, feet[1].Filled, feet[1].Excess = 0.04, 0.05, 0.01
	feet[1].Pack, feet[1].Lower = feet[1].Pack+0.05, feet[1].Lower+0.05
	p := emptyPlan(tr, optimize.Planned)
	p.Soft = []optimize.Soft{{Machine: 1, Foot: 1, Gap: 0.04, Fill: 0.05}}
	p.Moves = tr.Stay()
	for f := range feet {
		p.Moves[1][f].Up = [2]float64{0.10, -0.10}[f%2]
	}
	p.Planned = tr.Check(p.Moves)
	p.Reached = p.Planned.Worst()
	p.Total, p.Plain, p.Least, p.Bound, p.Largest, p.Moved, p.Kept = 0.40, 0.40, 0.40, 0.40, 0.10, 1, p.Aim
	return p
}

func handmade(t *testing.T) map[string]*optimize.Plan {
	return map[string]*optimize.Plan{
		"planned-mm": plannedMM(t), "planned-inch": plannedInch(t), "within": within(t),
		"impossible": impossible(t), "undecided": undecided(t), "long": long(t),
		"advised": advised(t), "soft": softened(t), "rolled": rolled(t),
	}
}

// textOf is all of a plan's page.
func textOf(t *testing.T, p *optimize.Plan, layout Page) string {
	t.Helper()
	layout.Full = true
	return laidOut(t, p, layout)
}

// laidOut is the page that is asked for.
func laidOut(t *testing.T, p *optimize.Plan, layout Page) string {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, Text(&b, view.Of(p), layout))
	return b.String()
}

func asJSON(t *testing.T, p *optimize.Plan) []byte {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, planJSON(&b, view.Of(p), Page{}))
	return b.Bytes()
}

// under is a plan with what it depends on.
func under(p *optimize.Plan, r *view.Relieved) *view.Plan {
	out := view.Of(p)
	out.Relieved = r
	return out
}

func textUnder(t *testing.T, p *optimize.Plan, r *view.Relieved) string {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, Text(&b, under(p, r), Page{Full: true}))
	return b.String()
}
