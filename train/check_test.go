package train

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// geared is an invented train: a turbine, a gear case that rolls, with two
// shafts at different heights, and a compressor on three foot stations; both
// kinds of coupling, growth with a roll, journal shifts, nozzles.
func geared() *Train {
	inf, nan := math.Inf(1), math.NaN()
	foot := func(name string, x, y float64) Foot {
		return Foot{Name: name, X: x, Y: y, Pack: 5, Lower: 5, Raise: 5, Bolt: nan, Hole: nan, TravelLeft: inf,
			TravelRight: inf}
	}
	level := Level{Pitch: inf, Roll: inf}
	return &Train{
		Machines: []Machine{
			{Name: "turbine", Height: 610, Effort: 1, Level: level, Axial: true,
				Shafts: []Shaft{{}},
				Feet: []Foot{foot("a left", 0, 450), foot("a right", 0, -450), foot("b left", 1400, 430),
					foot("b right", 1400, -440)},
				Growth:  Growth{V: Line{0.2, 0.1}, H: Line{-0.05, 0.02}, A: Line{0.6, 0.1}, Roll: 0.08},
				Nozzles: []Nozzle{{Name: "inlet", X: 300, Y: 500, Z: 900, Limit: 1}}},
			{Name: "gear", At: 2200, Height: 580, Effort: 1, Level: level, Roll: true,
				Shafts: []Shaft{{Name: "pinion", Y: 180, Z: 4, Run: Shift{V: 0.05, H: 0.03}},
					{Name: "wheel", Y: -190, Run: Shift{V: -0.04, H: 0.02},
						Growth: &Growth{V: Line{Start: 0.1}}}},
				Feet: []Foot{foot("in left", 0, 400), foot("in right", 0, -420), foot("out left", 700, 400),
					foot("out right", 700, -420)},
				Growth: Growth{V: Line{0.15, -0.02}}},
			{Name: "compressor", At: 3600, Height: 600, Effort: 1, Level: level,
				Shafts: []Shaft{{}},
				Feet: []Foot{foot("1 left", 0, 500), foot("1 right", 0, -500), foot("2 left", 900, 500), foot("2 right", 900, -500),
					foot("3 left", 1700, 500), foot("3 right", 1700, -480)},
				Growth: Growth{V: Line{0.05, 0.03}, H: Line{0.02, -0.01}}},
		},
		Couplings: []Coupling{
			{Name: "high speed", From: End{0, 0}, To: End{1, 0}, X: 1900, Spacer: true, Flex: [2]float64{1650, 2050},
				Limit:    Limit{Offset: inf, Angle: 0.5, Gap: 0.5},
				Found:    Misalignment{V: Tilt{-0.6, 0.8}, H: Tilt{0.44, -0.7}},
				FoundGap: 399.5, WantedGap: 400, Taken: Share{Growth: 0.3, Run: 0.5}},
			{Name: "low speed", From: End{1, 1}, To: End{2, 0}, X: 3300,
				Limit:    Limit{Offset: 0.05, Angle: 0.5, Gap: inf, EachPlane: true},
				Found:    Misalignment{V: Tilt{0.3, -0.4}, H: Tilt{-0.2, 0.5}},
				FoundGap: nan, WantedGap: nan},
		},
		Conditions: []Condition{
			{Name: "running", Growth: []float64{1, 1, 1}, Run: 1, Use: 1},
			{Name: "cold start", Growth: []float64{0.5, 0, 0}, Run: 1, Use: 1.3},
		},
	}
}

// onBases is the geared train on bases that carry some of its machines each.
func onBases(carries ...[]int) *Train {
	inf, nan := math.Inf(1), math.NaN()
	tr := geared()
	for n, on := range carries {
		foot := func(name string, x, y float64) Foot {
			return Foot{Name: name, X: x, Y: y, Pack: 8, Lower: 8, Raise: 8, Bolt: nan, Hole: nan, TravelLeft: inf,
				TravelRight: inf}
		}
		tr.Machines = append(tr.Machines, Machine{
			Name: []string{"skid", "frame"}[n], At: tr.Machines[on[0]].At - 300, Height: 350 + 50*float64(n), Effort: 1,
			Level: Level{Pitch: inf, Roll: inf}, Axial: true, Roll: true, Carries: on,
			Feet: []Foot{foot("1 left", 0, 900), foot("1 right", 0, -800), foot("2 left", 2500, 900),
				foot("2 right", 2500, -850)},
		})
	}
	for k := range tr.Conditions {
		for len(tr.Conditions[k].Growth) < len(tr.Machines) {
			tr.Conditions[k].Growth = append(tr.Conditions[k].Growth, 1)
		}
	}
	return tr
}

// grounds are the geared train on the ground, with two coupled machines on one base and the third on none, with two
// machines on a base each, and all on one.
func grounds() []*Train {
	return []*Train{geared(), onBases([]int{0, 1}), onBases([]int{1}, []int{2}), onBases([]int{0, 1, 2}),
		onBases([]int{0, 2})}
}

// random sets every foot at random, each station's sides and packs alike where
// the machine does not roll, by up to size mm.
func random(tr *Train, r *rand.Rand, size float64) Moves {
	moves := tr.Stay()
	for i, m := range tr.Machines {
		axial := 0.0
		if m.Axial {
			axial = size * (2*r.Float64() - 1)
		}
		at := map[float64]FootMove{}
		for f := range moves[i] {
			mv, ok := at[m.Feet[f].X]
			if !ok {
				mv = FootMove{Up: size * (2*r.Float64() - 1), Left: size * (2*r.Float64() - 1), Axial: axial}
				at[m.Feet[f].X] = mv
			}
			if m.Roll {
				mv.Up = size * (2*r.Float64() - 1)
			}
			moves[i][f] = mv
		}
	}
	return moves
}

func motions(tr *Train, moves Moves) []Motion {
	q := make([]Motion, len(tr.Machines))
	for i := range tr.Machines {
		s := tr.Machines[i].Kinematics()
		q[i] = s.Motion(moves[i])
	}
	return q
}

// What was read must come back from the geometry that was built from it, in
// the state in which it was read, to rounding.
func TestPlacedShowsWhatWasFound(t *testing.T) {
	tr := geared()
	poses := tr.placed()
	for i, c := range tr.Couplings {
		m := between(tr.line(c.From, c.X, poses, c.Taken), tr.line(c.To, c.X, poses, c.Taken), c.X)
		assert.InDelta(t, c.Found.V.Offset, m.V.Offset, 1e-9, "coupling %d", i)
		assert.InDelta(t, c.Found.H.Offset, m.H.Offset, 1e-9, "coupling %d", i)
		assert.InDelta(t, c.Found.V.Angle, m.V.Angle, 1e-9, "coupling %d", i)
		assert.InDelta(t, c.Found.H.Angle, m.H.Angle, 1e-9, "coupling %d", i)
	}
}

// By hand: a point 1 ahead, turned left by a right angle, is 1 to the left; rolled by
// a right angle after that it is 1 up. The other way round the roll would not move it,
// and it would end to the left.
func TestAMotionIsMadeFromWhereTheMachineStands(t *testing.T) {
	quarter := 1000 * math.Pi / 2 // mrad
	square := pose{turn: r3.NewRotation(0, r3.Vec{X: 1})}
	got := square.moved(Motion{Yaw: quarter}).moved(Motion{Roll: quarter}).point(r3.Vec{X: 1})
	for axis, want := range []float64{0, 0, 1} {
		assert.InDelta(t, want, [3]float64{got.X, got.Y, got.Z}[axis], 1e-12)
	}
}

// The two ways to a misalignment agree to second order: with moves ten times
// smaller (and so the angles that they add) the change that they bring differs
// a hundred times less, beside what the found angles themselves add.
func TestLinearAgreesWithGeometryToSecondOrder(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 1))
	for n := range 50 {
		tr := grounds()[n%len(grounds())]
		moves := random(tr, r, 1)
		state, q := tr.Check(moves), motions(tr, moves)
		for i := range tr.Couplings {
			for k := range tr.Conditions {
				linear, gap := tr.Linear(i, k, q)
				got := state.Couplings[i][k]
				require.False(t, math.IsNaN(got.V.Offset+got.H.Offset+got.V.Angle+got.H.Angle))
				// An angle of 3 mrad times one of 3 mrad times a lever of 2 m is 0.018 mm.
				assert.InDelta(t, linear.V.Offset, got.V.Offset, 0.02)
				assert.InDelta(t, linear.H.Offset, got.H.Offset, 0.02)
				assert.InDelta(t, linear.V.Angle, got.V.Angle, 0.02)
				assert.InDelta(t, linear.H.Angle, got.H.Angle, 0.02)
				if i == 0 {
					assert.InDelta(t, gap, got.Gap, 0.02)
				}
			}
		}
	}
}

// The influence of every foot's move on every coupling by linear form equals
// the central difference of the true geometry, found at rest in a train
// without misalignment (where the first order is all there is).
func TestInfluenceIsTheDerivativeOfGeometry(t *testing.T) {
	for _, tr := range grounds() {
		influenceIsTheDerivative(t, tr)
	}
}

func influenceIsTheDerivative(t *testing.T, tr *Train) {
	for i := range tr.Couplings {
		tr.Couplings[i].Found = Misalignment{}
	}
	for i := range tr.Machines {
		tr.Machines[i].Growth = Growth{}
		for s := range tr.Machines[i].Shafts {
			tr.Machines[i].Shafts[s].Growth, tr.Machines[i].Shafts[s].Run = nil, Shift{}
		}
	}
	const h = 1e-3 // mm
	set := []func(*FootMove, float64){
		func(f *FootMove, d float64) { f.Up = d },
		func(f *FootMove, d float64) { f.Left = d },
		func(f *FootMove, d float64) { f.Axial = d },
	}
	base := make([]Motion, len(tr.Machines))
	for m := range tr.Machines {
		for f := range tr.Machines[m].Feet {
			for _, s := range set {
				ahead, back := tr.Stay(), tr.Stay()
				s(&ahead[m][f], h)
				s(&back[m][f], -h)
				plus, minus, q := tr.Check(ahead), tr.Check(back), motions(tr, ahead)
				for i := range tr.Couplings {
					rest, restGap := tr.Linear(i, 0, base)
					lin, gap := tr.Linear(i, 0, q)
					a, b := plus.Couplings[i][0], minus.Couplings[i][0]
					diff := func(x, y float64) float64 { return (x - y) / (2 * h) }
					assert.InDelta(t, diff(a.V.Offset, b.V.Offset), (lin.V.Offset-rest.V.Offset)/h, 1e-6)
					assert.InDelta(t, diff(a.H.Offset, b.H.Offset), (lin.H.Offset-rest.H.Offset)/h, 1e-6)
					assert.InDelta(t, diff(a.V.Angle, b.V.Angle), (lin.V.Angle-rest.V.Angle)/h, 1e-6)
					assert.InDelta(t, diff(a.H.Angle, b.H.Angle), (lin.H.Angle-rest.H.Angle)/h, 1e-6)
					if tr.Couplings[i].GapLimited() {
						assert.InDelta(t, diff(a.Gap, b.Gap), (gap-restGap)/h, 1e-6)
					}
				}
			}
		}
	}
}
