package train

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"
)

// somewhere is a motion of each component by at most so many mm and mrad.
func somewhere(r *rand.Rand, mm, mrad float64) Motion {
	var q Motion
	for c := range q {
		most := mm
		if c >= Roll {
			most = mrad
		}
		q[c] = most * (2*r.Float64() - 1)
	}
	return q
}

// True geometry, sampled within a range of where linear forms touch it, is never further
// from them than the bend says: inside the range and at its corners, for every quantity
// that a limit speaks of. And the bend does not say much more than there is.
func TestBendsHoldTrueGeometry(t *testing.T) {
	tr := geared()
	r := rand.New(rand.NewPCG(15, 1))
	var most, tightest float64 // of what is off to the bend, over all and where it is hundredths
	checked := 0
	for n := range 24 {
		at := make([]Motion, len(tr.Machines))
		for m := range at {
			at[m] = somewhere(r, 5, 8)
		}
		if n == 0 {
			clear(at)
		}
		b := tr.Bender(at)
		tangents := tr.Tangents(at)
		var by [3]Range
		size := math.Pow(10, -1+2.2*r.Float64())
		for m := range by {
			by[m] = Range(somewhere(r, size, size))
			for c := range by[m] {
				by[m][c] = math.Abs(by[m][c])
			}
		}
		for range 40 {
			there := make([]Motion, len(at))
			corner := r.IntN(2) == 0
			for m := range there {
				there[m] = at[m]
				for c := range there[m] {
					d := 2*r.Float64() - 1
					if corner {
						d = math.Copysign(1, d)
					}
					there[m][c] += d * by[m][c]
				}
			}
			moved := tr.placed()
			for m := range moved {
				moved[m] = moved[m].moved(there[m])
			}
			for i := range tr.Couplings {
				c := &tr.Couplings[i]
				p, q := c.From.Machine, c.To.Machine
				for k := range tr.Conditions {
					tan := &tangents[i][k]
					is, gap := tr.misalignment(i, k, b.found, moved)
					linear := func(f, g Form) float64 {
						return g.Of(less(there[q], at[q])) - f.Of(less(there[p], at[p]))
					}
					hold := func(side Side, truth, start float64, f, g Form) {
						const0 := start - g.Of(at[q]) + f.Of(at[p])
						bends := b.Coupling(i, k, side, f, g, const0, [2]Range{by[p], by[q]})
						off := math.Abs(truth - start - linear(f, g))
						room := bends[0].Of(by[p]) + bends[1].Of(by[q])
						require.False(t, math.IsNaN(room))
						require.LessOrEqual(t, off, room+1e-11)
						checked++
						most = math.Max(most, off/room)
						if room > 0.01 {
							tightest = math.Max(tightest, off/room)
						}
					}
					aim := c.Aim(k)
					hold(Side{Offset: 1}, is.V.Offset-aim.V.Offset, tan.V.Offset-aim.V.Offset, tan.From.V, tan.To.V)
					hold(Side{Offset: 1, Sideways: true}, is.H.Offset-aim.H.Offset, tan.H.Offset-aim.H.Offset, tan.From.H, tan.To.H)
					hold(Side{Offset: -2.5, Angle: 0.7}, -2.5*(is.V.Offset-aim.V.Offset)+0.7*(is.V.Angle-aim.V.Angle),
						-2.5*(tan.V.Offset-aim.V.Offset)+0.7*(tan.V.Angle-aim.V.Angle),
						tan.From.V.Times(-2.5).Plus(0.7, tan.From.VSlope), tan.To.V.Times(-2.5).Plus(0.7, tan.To.VSlope))
					hold(Side{Angle: 1, Sideways: true}, is.H.Angle-aim.H.Angle, tan.H.Angle-aim.H.Angle, tan.From.HSlope,
						tan.To.HSlope)
					if !math.IsNaN(gap) {
						hold(Side{Along: 1}, gap-c.WantedGap, tan.Gap-c.WantedGap, tan.From.Along, tan.To.Along)
					}
				}
			}
			for m := range tr.Machines {
				pose := tr.Machines[m].Kinematics()
				p := [3]float64{300, 500, 900}
				d := shift(b.found[m], moved[m], r3.Vec{X: p[0], Y: p[1], Z: p[2]})
				forms := tr.Machines[m].Point(&pose, p[0], p[1], p[2])
				for axis, truth := range [3]float64{d.X, d.Y, d.Z} {
					bend := b.Point(m, p[0], p[1], p[2], axis, forms[axis], by[m])
					require.LessOrEqual(t, math.Abs(truth-forms[axis].Of(there[m])), bend.Of(by[m])+1e-11)
				}
			}
		}
	}
	require.Greater(t, checked, 10000)
	assert.Greater(t, most, 0.3)
	assert.Greater(t, tightest, 0.3)
	t.Logf("%d quantities; of the bend there is at most %.2f, where it is hundredths of a mm %.2f", checked,
		most, tightest)
}

// By hand: a shaft 600 mm up whose machine pitches by p mrad rises, on its plane above the
// middle of the feet, by 600 p²/2 · 1e-6 mm more than its linear form says, which is
// nothing: (cos p − 1) 600 + 600 sin p tan p = 600 p²/2.
func TestABendByHand(t *testing.T) {
	tr := geared()
	tr.Machines[0].Growth, tr.Machines[0].Nozzles = Growth{}, nil
	c := &tr.Couplings[0]
	c.X = tr.Machines[0].At + 700 // above the middle of the turbine's feet
	at := make([]Motion, len(tr.Machines))
	pose := tr.Machines[0].Kinematics()
	require.InDelta(t, 700, pose.Middle, 1e-9)
	from, to := tr.Forms(0)
	by := [2]Range{{Pitch: 4}, {}}
	b := tr.Bender(at).Coupling(0, 0, Side{Offset: 1}, from.V, to.V, 0, by)
	assert.InDelta(t, 610*0.004*0.004/2, b[0].Square[Pitch][Pitch]*16, 2e-5)
	assert.InDelta(t, 1e-3, b[0].Square[Axial][Pitch], 1e-6, "a shift of 1 mm at a slope of 1 mrad")
}

// Beyond a radian nothing is known.
func TestBendsEnd(t *testing.T) {
	tr := geared()
	pose := tr.Machines[0].Kinematics()
	f := tr.Machines[0].Point(&pose, 0, 0, 600)
	b := tr.Bender(make([]Motion, 3)).Point(0, 0, 0, 600, 0, f[0], Range{Pitch: 2000})
	assert.True(t, math.IsInf(b.Of(Range{Pitch: 2000}), 1))
}

func less(a, b Motion) Motion {
	for c := range a {
		a[c] -= b[c]
	}
	return a
}
