package train

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// By hand: a foot that slides 0.6 along and 0.2 to the left from cold to running. With 0.5 of the growth it goes half
// of that way, with 1.2 of it 0.72 and 0.24, which passes both; with -0.5 it goes the other way. Growth of a
// condition's own is 0.3 along at its station, on a line of -0.1 at 0 and 0.4 mrad.
func TestSlidesByHand(t *testing.T) {
	tr := &Train{Machines: []Machine{{Feet: []Foot{{X: 1000, Slide: [2]float64{0.6, 0.2}}, {}}}}}
	conditions := func(shares ...float64) {
		tr.Conditions = nil
		for _, s := range shares {
			tr.Conditions = append(tr.Conditions, Condition{Growth: []float64{s}, Use: 1})
		}
	}
	near := func(want []Slide) {
		t.Helper()
		got := tr.Slides(0, 0)
		if !assert.Len(t, got, len(want)) {
			return
		}
		for n := range want {
			assert.Equal(t, want[n].Condition, got[n].Condition)
			assert.InDelta(t, want[n].Axial, got[n].Axial, 1e-12)
			assert.InDelta(t, want[n].Left, got[n].Left, 1e-12)
		}
	}
	conditions(1)
	near([]Slide{{0, 0.6, 0.2}})
	conditions(1, 0, 0.5)
	near([]Slide{{0, 0.6, 0.2}})
	conditions(1, 0.5, 1.2)
	near([]Slide{{2, 0.72, 0.24}})
	conditions(1, -0.5)
	near([]Slide{{0, 0.6, 0.2}, {1, -0.3, -0.1}})
	conditions(1, 1)
	tr.Conditions[1].Own = []OwnGrowth{{Machine: 0, Growth: Growth{A: Line{Start: -0.1, Slope: 0.4}}}}
	near([]Slide{{0, 0.6, 0.2}, {1, 0.3, 0}})
	assert.Empty(t, (&Train{Machines: tr.Machines, Conditions: []Condition{{Growth: []float64{0}}}}).Slides(0, 0))
	tr.Conditions = tr.Conditions[:1]
	assert.Empty(t, tr.Slides(0, 1), "a foot of which nothing is known")
}

// What is not known of a slide: along without a, sideways without rise. Nothing of a machine that does not warm.
func TestSlideUnknown(t *testing.T) {
	warm := Line{Start: 0.2}
	for _, c := range []struct {
		growth          Growth
		along, sideways bool
	}{
		{Growth{Unknown: true, AxialUnknown: true}, false, false},
		{Growth{AxialUnknown: true}, false, false}, // v = 0
		{Growth{V: warm, AxialUnknown: true}, true, true},
		{Growth{V: warm, A: warm}, false, true},
		{Growth{A: warm}, false, true},
		{Growth{V: warm, Worked: true, AxialUnknown: true}, true, false},
	} {
		tr := &Train{Machines: []Machine{{Growth: c.growth}}}
		along, sideways := tr.SlideUnknown(0)
		assert.Equal(t, [2]bool{c.along, c.sideways}, [2]bool{along, sideways}, "%+v", c.growth)
	}
}
