package view

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/optimize/staging"
	"leastmove/train"
	"leastmove/train/readings"
)

// Whatever dials a coupling is read with, and whichever way they count: what they show for some misalignment, worked
// out as a crew does, is that misalignment again.
func TestWorkingGivesBackTheMisalignment(t *testing.T) {
	r := rand.New(rand.NewPCG(18, 0))
	nan := math.NaN()
	flip := func() bool { return r.IntN(2) == 0 }
	sag := func() float64 {
		if flip() {
			return nan
		}
		return -0.1 * r.Float64()
	}
	worked := 0
	for range 400 {
		c := &train.Coupling{X: 1000}
		for range 2 + r.IntN(2) {
			c.Dials = append(c.Dials, []train.Dial{
				{Kind: train.RimDial, X: 700 + 600*r.Float64(), Radius: nan, OnFrom: flip(), Reversed: flip(), Sag: sag()},
				{Kind: train.FaceDial, X: nan, Radius: 60 + 100*r.Float64(), OnFrom: flip(), Away: flip(), Reversed: flip(),
					Sag: sag()},
				{Kind: train.OffsetDial, X: 700 + 600*r.Float64(), Sag: nan},
			}[r.IntN(3)])
		}
		tilt := func() train.Tilt { return train.Tilt{Offset: r.Float64() - 0.5, Angle: 2*r.Float64() - 1} }
		want := train.Misalignment{V: tilt(), H: tilt()}
		dials := instruments(c)
		w := workingOf(c, dials)
		if w == nil {
			continue
		}
		worked++
		var v, h train.Tilt
		for n, k := range w.Parts {
			d := &Instrument{Dial: dials[k]}
			up, left := readings.TargetAt(d.Dial, c.X, want)
			if d.Kind != train.OffsetDial {
				at := readings.Target(d.Dial, c.X, want, Quarters())
				up, left = (d.SagOf()-at[2])/2, (at[3]-at[1])/2
			}
			v.Offset += w.Offset[n] * up
			v.Angle += w.Angle[n] * up
			h.Offset += w.Offset[n] * left
			h.Angle += w.Angle[n] * left
		}
		require.False(t, math.IsNaN(v.Offset+v.Angle+h.Offset+h.Angle))
		within := 1e-9 + 1e-3*math.Hypot(w.Angle[0], w.Angle[1]) // second order of a face is some 0.001 mm
		assert.InDelta(t, want.V.Offset, v.Offset, within)
		assert.InDelta(t, want.V.Angle, v.Angle, within)
		assert.InDelta(t, want.H.Offset, h.Offset, within)
		assert.InDelta(t, want.H.Angle, h.Angle, within)
	}
	assert.Greater(t, worked, 200)
}

// By hand: rims 100 mm to either side of the coupling's plane tell its offset as their mean, and its angle as their
// difference on 0.2 m; on the other shaft a rim counts the other way. Faces alone tell no offset.
func TestWorkingByHand(t *testing.T) {
	rim := func(x float64, from bool) train.Dial {
		return train.Dial{Kind: train.RimDial, X: x, Radius: math.NaN(), OnFrom: from, Sag: math.NaN()}
	}
	w := workingOf(&train.Coupling{X: 1000}, []*train.Dial{ptr(rim(900, true)), ptr(rim(1100, false))})
	require.NotNil(t, w)
	assert.InDeltaSlice(t, []float64{-0.5, 0.5}, w.Offset[:], 1e-12)
	assert.InDeltaSlice(t, []float64{5, 5}, w.Angle[:], 1e-12)
	face := &train.Dial{Kind: train.FaceDial, X: math.NaN(), Radius: 100}
	assert.Nil(t, workingOf(&train.Coupling{X: 1000}, []*train.Dial{face,
		{Kind: train.FaceDial, X: math.NaN(), Radius: 80}}))
}

func ptr[T any](v T) *T { return &v }

// What a crew accepts is what the limits leave, and never finer than what it reads: by hand, with readings good to
// 0.02 mm and 0.05 mrad. Rims 400 mm apart tell an angle of 2 · m / 0.4 m, so that 0.05 mm and 0.1 mrad are m = 0.02
// at each. Where the engineer decides it is what reading again tells.
func TestAcceptedIsReadable(t *testing.T) {
	far := []*train.Dial{{Kind: train.RimDial, X: 800}, {Kind: train.RimDial, X: 1200}}
	near := []*train.Dial{{Kind: train.RimDial, X: 900}, {Kind: train.RimDial, X: 1100}}
	for _, c := range []struct {
		name          string
		dials         []*train.Dial
		left          [2]float64 // of offset and angle by the limits
		offset, angle float64
		each          float64 // dial; 0: worked out
		engineer      bool
	}{
		{"each dial decides", far, [2]float64{0.05, 0.1}, 0.05, 0.1, 0.02, false},
		{"a dial would be finer than its reading", near, [2]float64{0.05, 0.1}, 0.05, 0.1, 0, false},
		{"no dials", nil, [2]float64{0.03, 0.06}, 0.03, 0.06, 0, false},
		{"the limits leave less than a reading tells", far, [2]float64{0.015, 0.03}, 0.02, 0.05, 0.02, true},
		{"of the angle alone", nil, [2]float64{0.03, 0.04}, 0.03, 0.05, 0, true},
	} {
		t.Run(c.name, func(t *testing.T) {
			tr := &train.Train{Couplings: []train.Coupling{{X: 1000}}, Units: train.Millimetres,
				Errors: train.Errors{Offset: 0.02, Angle: 0.05, Stated: true}}
			w := WorkCoupling{AcceptanceTolerance: staging.AcceptanceTolerance{Offset: c.left[0], Angle: c.left[1], Share: 1}}
			w.accept(tr, 0, c.dials)
			assert.InDelta(t, c.offset, w.AcceptOffset, 1e-12)
			assert.InDelta(t, c.angle, w.AcceptAngle, 1e-12)
			assert.InDelta(t, c.each, w.AcceptDials, 1e-12)
			assert.Equal(t, c.engineer, w.EngineerDecides)
		})
	}
	tr := &train.Train{Couplings: []train.Coupling{{X: 1000}}, Units: train.Inches, Errors: train.Errors{Stated: true}}
	var w WorkCoupling
	w.accept(tr, 0, nil)
	assert.InDelta(t, 0.5*train.Mil, w.AcceptOffset, 1e-12, "exact readings: a step of a dial")
}
