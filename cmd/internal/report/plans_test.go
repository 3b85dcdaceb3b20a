package report

import (
	"bytes"
	"math"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

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
	return &optimize.Plan{
		Train: tr, Status: status, Aim: 0.7, Found: tr.Check(tr.Stay()),
		Total: nan, Plain: nan, Least: nan, Bound: nan, Peak: nan, Reached: nan, Lowest: nan,
	}
}

// every sets all feet of one machine alike.
func every(feet []train.FootMove, move train.FootMove) {
	for f := range feet {
		feet[f] = move
	}
}

func none(kind optimize.LimitKind) optimize.Limit {
	return optimize.Limit{Kind: kind, Machine: -1, Foot: -1, Nozzle: -1, Coupling: -1, Condition: -1}
}

func footLimit(kind optimize.LimitKind, m, f int) optimize.Limit {
	l := none(kind)
	l.Machine, l.Foot = m, f
	return l
}

func couplingLimit(kind optimize.LimitKind, i, k int) optimize.Limit {
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
	p.Total, p.Plain, p.Least, p.Bound, p.Peak, p.Moved = 6.80, 5.40, 6.78, 6.7796, 0.45, 2
	p.Prices = []optimize.Price{{Use: 1, Total: 5.10, Bound: 5.0849}, {Use: 0.5, Total: math.NaN(), Bound: math.Inf(1)}}
	p.Ends = []optimize.End{
		{Limit: couplingLimit(optimize.LimitFlex, 0, 0), Value: 0.34, Bound: 0.5},
		{Limit: couplingLimit(optimize.LimitFlex, 0, 0), Value: 0.349, Bound: 0.5},
		{Limit: couplingLimit(optimize.LimitGap, 0, 0), Value: 0.349, Bound: 0.5},
		{Limit: footLimit(optimize.LimitRaise, 2, 0), Value: 0.45, Bound: 0.5},
		{Limit: footLimit(optimize.LimitTravel, 2, 2), Value: 0.2, Bound: 0.2},
	}
	nozzle, level := none(optimize.LimitNozzle), none(optimize.LimitLevel)
	nozzle.Machine, nozzle.Nozzle, level.Machine = 0, 0, 0
	p.Ends = append(p.Ends, optimize.End{Limit: nozzle, Value: 0.78, Bound: 0.8}, optimize.End{Limit: level, Value: 0.49, Bound: 0.5})
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
	p.Total, p.Plain, p.Least, p.Bound, p.Peak, p.Moved = 169*mil, 169*mil, 169*mil, 168.999*mil, 31*mil, 1
	p.Ends = []optimize.End{
		{Limit: footLimit(optimize.LimitLower, 1, 0), Value: 12 * mil, Bound: 12.5 * mil},
		{Limit: footLimit(optimize.LimitBolt, 1, 0), Value: 31 * mil, Bound: 31.25 * mil},
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
	p.Total, p.Plain, p.Least, p.Bound, p.Peak = 0, 0, 0, 0, 0
	return p
}

func impossible(t *testing.T) *optimize.Plan {
	p := emptyPlan(read(t, "mm.toml"), optimize.Impossible)
	p.Lowest = math.Inf(1)
	level, nozzle := none(optimize.LimitLevel), none(optimize.LimitNozzle)
	level.Machine, nozzle.Machine, nozzle.Nozzle = 0, 0, 0
	for _, l := range []optimize.Limit{
		footLimit(optimize.LimitLower, 2, 0), footLimit(optimize.LimitRaise, 2, 0), footLimit(optimize.LimitBolt, 2, 0),
		footLimit(optimize.LimitTravel, 2, 2), footLimit(optimize.LimitFlat, 2, 2), level, nozzle, none(optimize.LimitSteps),
		couplingLimit(optimize.LimitOffset, 1, 0), couplingLimit(optimize.LimitAngle, 1, 1),
		couplingLimit(optimize.LimitFlex, 0, 1), couplingLimit(optimize.LimitGap, 0, 0),
	} {
		p.Clash = append(p.Clash, optimize.Member{Limit: l, Short: math.NaN()})
	}
	p.Unstated = []string{"low speed: distance between shaft ends"}
	return p
}

func undecided(t *testing.T) *optimize.Plan {
	p := emptyPlan(read(t, "mm.toml"), optimize.Undecided)
	p.Lowest = 0.9999
	p.Cut = "the search reached its bound on work"
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
func handmade(t *testing.T) map[string]*optimize.Plan {
	return map[string]*optimize.Plan{
		"planned-mm": plannedMM(t), "planned-inch": plannedInch(t), "within": within(t),
		"impossible": impossible(t), "undecided": undecided(t), "long": long(t),
	}
}

func textOf(t *testing.T, p *optimize.Plan, layout Page) string {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, Text(&b, p, layout))
	return b.String()
}

func asJSON(t *testing.T, p *optimize.Plan) []byte {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, JSON(&b, p, Page{}))
	return b.Bytes()
}
