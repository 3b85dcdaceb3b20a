package words

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"leastmove/train"
)

// What was found in plain words, by hand: each sign, and what is nothing.
func TestReadBackInWords(t *testing.T) {
	tr := &train.Train{
		Sides: train.Sides{Left: "left", Right: "right"},
		Machines: []train.Machine{{Name: "turbine", Shafts: make([]train.Shaft, 1)},
			{Name: "gear", Shafts: make([]train.Shaft, 1)}},
		Couplings: []train.Coupling{{From: train.End{Machine: 0}, To: train.End{Machine: 1}}},
	}
	w := FormatterOf(tr)
	at := func(v, h float64) string {
		return w.Sits(0, train.Misalignment{V: train.Tilt{Offset: v}, H: train.Tilt{Offset: h}})
	}
	assert.Equal(t, "gear sits 0.420 mm low and 0.100 mm to the left of turbine", at(-0.42, 0.1))
	assert.Equal(t, "gear sits 0.420 mm high and 0.100 mm to the right of turbine", at(0.42, -0.1))
	assert.Equal(t, "gear sits as high as turbine and 0.100 mm to the left of it", at(0, 0.1))
	assert.Equal(t, "gear sits 0.420 mm low relative to turbine, and neither left nor right", at(-0.42, 0.0004))
	assert.Equal(t, "gear sits in line with turbine", at(0, -0.0004))

	assert.Equal(t, "the gap is wider at the top by 0.060 mm on a diameter of 200 mm", w.Wider(200, 0.06, 0))
	assert.Equal(t, "the gap is wider at the bottom by 0.060 mm and at the right by 0.010 mm on a diameter of 200 mm",
		w.Wider(200, -0.06, -0.01))
	assert.Equal(t, "the gap is wider at the left by 0.010 mm on a diameter of 200 mm", w.Wider(200, 0, 0.01))
	assert.Equal(t, "the gap is the same all round", w.Wider(200, 0, 0))

	assert.Empty(t, w.Taken(train.Share{}))
	assert.Equal(t, "with 30 % of growth and 0 % of journal shift in it", w.Taken(train.Share{Growth: 0.3}))

	tr.Sides = train.Sides{Left: "north", Right: "south"}
	tr.Units = train.Inches
	w = FormatterOf(tr)
	assert.Equal(t, "gear sits 4.00 mil high and 2.00 mil to the right (south) of turbine", at(4*train.Mil, -2*train.Mil))
	assert.Equal(t, "the gap is wider at the left by 2.00 mil (north) on a diameter of 8 inch",
		w.Wider(8*train.Inch, 0, 2*train.Mil))
}
