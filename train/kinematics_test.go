package train

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Three stations 1 m apart, feet on both sides: the pack in the middle left is
// 0.6 mm above the flat through the other five. Soft foot is measured from
// the plane through the others (the one left out), so it is the whole 0.6, not
// what the best plane through all six leaves of it.
//
// By hand: leverage of a middle foot is 1/6 + y²/Σy² = 1/6 + 1/6 = 1/3; the
// plane through all takes 0.6/3 = 0.2 there, what is left is 0.4, and
// 0.4 / (1 - 1/3) = 0.6. The same plane is 0.2 above the opposite foot's side
// by 0.6·(1/6 - 1/6) = 0: that one stands on it.
func TestSoftFootIsFromThePlaneThroughTheOthers(t *testing.T) {
	m := Machine{}
	for _, x := range []float64{0, 1000, 2000} {
		m.Feet = append(m.Feet, Foot{X: x, Y: 500}, Foot{X: x, Y: -500})
	}
	s := m.Kinematics()
	soft := s.Soft([]FootMove{{}, {}, {Up: 0.6}, {}, {}, {}})
	require.Len(t, soft, 6)
	assert.InDelta(t, 0.6, soft[2], 1e-12)
	assert.InDelta(t, 0, soft[3], 1e-12)
	// A corner's leverage is 1/6 + 1/6 + x²/Σx² = 1/3 + 1/4 = 7/12; the plane is
	// 0.6·(1/6 + 1/6) = 0.2 above it, so it hangs 0.2 / (5/12) = 0.48 below the
	// plane through the others.
	assert.InDelta(t, -0.48, soft[0], 1e-12)
}

// A machine goes along the train as one: what is set at every foot is how far.
func TestAShiftAlongTheTrainIsThatOfEveryFoot(t *testing.T) {
	m := Machine{Feet: []Foot{{X: 0, Y: 400}, {X: 0, Y: -400}, {X: 900, Y: 400}, {X: 900, Y: -400}}}
	s := m.Kinematics()
	q := s.Motion([]FootMove{{Axial: 1.5}, {Axial: 1.5}, {Axial: 1.5}, {Axial: 1.5}})
	assert.InDelta(t, 1.5, q[Axial], 1e-12)
	assert.Equal(t, [5]float64{}, [5]float64(q[1:]))
}

// Feet on one line fix no roll, feet across no pitch, and no feet nothing: such a
// direction does not move. By hand: 1 mm more under one of two feet 1000 apart lifts the
// middle by 0.5 and turns by 1 mrad; 400 apart by 2.5 mrad.
func TestFeetThatLeaveADirectionOpen(t *testing.T) {
	for _, c := range []struct {
		name string
		feet []Foot
		up   []FootMove
		want Motion
	}{
		{"along, the first one", []Foot{{X: 0}, {X: 1000}}, []FootMove{{Up: 1}, {}}, Motion{Up: 0.5, Pitch: 1}},
		{"along, the second one", []Foot{{X: 0}, {X: 1000}}, []FootMove{{}, {Up: 1}}, Motion{Up: 0.5, Pitch: -1}},
		{"along, off the centreline", []Foot{{X: 0, Y: 300}, {X: 1000, Y: 300}}, []FootMove{{}, {Up: 1}},
			Motion{Up: 0.5, Pitch: -1}},
		{"along, the first one to the left", []Foot{{X: 0}, {X: 1000}}, []FootMove{{Left: 1}, {}},
			Motion{Left: 0.5, Yaw: -1}},
		{"along, the second one to the left", []Foot{{X: 0}, {X: 1000}}, []FootMove{{}, {Left: 1}},
			Motion{Left: 0.5, Yaw: 1}},
		{"along, far from the machine's own zero", []Foot{{X: 9000}, {X: 10000}}, []FootMove{{}, {Left: 1}},
			Motion{Left: 0.5, Yaw: 1}},
		{"across, both to the left", []Foot{{Y: 200}, {Y: -200}}, []FootMove{{Left: 1}, {Left: 1}}, Motion{Left: 1}},
		{"across", []Foot{{Y: 200}, {Y: -200}}, []FootMove{{Up: 1}, {}}, Motion{Up: 0.5, Roll: 2.5}},
		{"one", []Foot{{X: 500, Y: 100}}, []FootMove{{Up: 1}}, Motion{Up: 1}},
		{"none", nil, nil, Motion{}},
	} {
		t.Run(c.name, func(t *testing.T) {
			m := Machine{Feet: c.feet}
			s := m.Kinematics()
			q := s.Motion(c.up)
			assert.InDeltaSlice(t, c.want[:], q[:], 1e-12)
			for i, f := range c.up {
				assert.InDelta(t, f.Up, s.UpAt(i).Of(q), 1e-12, "it stands on its packs")
				assert.InDelta(t, f.Left, s.LeftAt(i).Of(q), 1e-12, "and where it was put")
			}
			for _, soft := range s.Soft(c.up) {
				assert.Zero(t, soft, "no other feet to be soft against")
			}
		})
	}
}
