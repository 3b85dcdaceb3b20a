package train

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/spatial/r3"

	"leastmove/testdata/cases"
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

// largest is the most by which the forms of a bend are off at motions that differ from where they touch
// by no more than a range, of each of its Bodies.
func largest(b *Bend, by ...Range) float64 {
	sum := b.Fixed
	size := func(a int) float64 { return by[a/6][a%6] }
	for i := range 6 * len(b.Bodies) {
		sum += b.Line[i] * size(i)
		for j := i; j < 6*len(b.Bodies); j++ {
			sum += b.Square[i][j] * size(i) * size(j)
		}
	}
	if math.IsNaN(sum) { // nothing is known times nothing
		return math.Inf(1)
	}
	return sum
}

// squared is what the second derivatives of a bend come to at motions from where its forms touch, and by how much that
// may be off.
func squared(b *Bend, moved []Motion) (mean, off float64) {
	size := func(a int) float64 { return math.Abs(moved[a/6][a%6]) }
	off = b.Fixed
	for p := range 6 * len(moved) {
		off += b.Line[p] * size(p)
		for q := p; q < 6*len(moved); q++ {
			if size(p)*size(q) > 0 {
				mean += b.Mean[p][q] * moved[p/6][p%6] * moved[q/6][q%6]
				off += (b.Square[p][q] - math.Abs(b.Mean[p][q])) * size(p) * size(q)
			}
		}
	}
	return mean, off
}

// True geometry, sampled within a range of where linear forms touch it, is never further
// from them than the bend says: inside the range and at its corners, for every quantity
// that a limit speaks of. And the bend does not say much more than there is.
func TestBendsHoldTrueGeometry(t *testing.T) {
	r := rand.New(rand.NewPCG(15, 1))
	var most, tightest float64 // of what is off to the bend, over all and where it is hundredths
	closest := math.Inf(1)     // what second derivatives leave open, to what is off
	checked := 0
	for n := range cases.Draws(20, 40) {
		tr := grounds()[n%len(grounds())]
		at := make([]Motion, len(tr.Machines))
		for m := range at {
			at[m] = somewhere(r, 5, 8)
		}
		if n < len(grounds()) {
			clear(at)
		}
		b := tr.Bender(at)
		tangents := tr.Tangents(at)
		by := make([]Range, len(at))
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
			moved := tr.posed(tr.placed(), there)
			for i := range tr.Couplings {
				c := &tr.Couplings[i]
				var all []Range // of its bodies
				for _, body := range tr.Bodies(i) {
					all = append(all, by[body.Body])
				}
				for k := range tr.Conditions {
					tan := &tangents[i][k]
					is, gap := tr.misalignment(i, k, moved)
					hold := func(side Side, truth, start float64, of func(f *BodyForms) Form) {
						var forms []Form
						const0, linear := start, 0.0
						for n := range tan.Forms {
							f := of(&tan.Forms[n])
							body := tan.Forms[n].Body
							forms = append(forms, f)
							const0 -= f.Of(at[body])
							linear += f.Of(less(there[body], at[body]))
						}
						room, mean, beside := 0.0, 0.0, 0.0
						for _, bend := range b.Coupling(i, k, side, forms, const0, all) {
							var own []Range
							var moved []Motion
							for _, body := range bend.Bodies {
								own, moved = append(own, by[body]), append(moved, less(there[body], at[body]))
							}
							room += largest(&bend, own...)
							is, rest := squared(&bend, moved)
							mean, beside = mean+is, beside+rest
						}
						off := math.Abs(truth - start - linear)
						require.False(t, math.IsNaN(room))
						require.LessOrEqual(t, off, room+1e-11)
						require.LessOrEqual(t, math.Abs(truth-start-linear-mean), beside+1e-11)
						if off > 0.01 {
							closest = math.Min(closest, beside/off)
						}
						checked++
						most = math.Max(most, off/room)
						if room > 0.01 {
							tightest = math.Max(tightest, off/room)
						}
					}
					aim := c.Aim(k)
					hold(Side{Offset: 1}, is.V.Offset-aim.V.Offset, tan.V.Offset-aim.V.Offset,
						func(f *BodyForms) Form { return f.V })
					hold(Side{Offset: 1, Sideways: true}, is.H.Offset-aim.H.Offset, tan.H.Offset-aim.H.Offset,
						func(f *BodyForms) Form { return f.H })
					hold(Side{Offset: -2.5, Angle: 0.7}, -2.5*(is.V.Offset-aim.V.Offset)+0.7*(is.V.Angle-aim.V.Angle),
						-2.5*(tan.V.Offset-aim.V.Offset)+0.7*(tan.V.Angle-aim.V.Angle),
						func(f *BodyForms) Form { return f.V.Times(-2.5).Plus(0.7, f.VSlope) })
					hold(Side{Angle: 1, Sideways: true}, is.H.Angle-aim.H.Angle, tan.H.Angle-aim.H.Angle,
						func(f *BodyForms) Form { return f.HSlope })
					if !math.IsNaN(gap) {
						hold(Side{Along: 1}, gap-c.WantedGap, tan.Gap-c.WantedGap, func(f *BodyForms) Form { return f.Along })
					}
				}
			}
			for m := range tr.Machines {
				kinematics := tr.Machines[m].Kinematics()
				p := [3]float64{300, 500, 900}
				own := tr.Machines[m].Point(&kinematics, p[0], p[1], p[2])
				bodies := []int{m}
				if base := tr.BaseOf(m); base >= 0 {
					bodies = append(bodies, base)
				}
				for ; len(bodies) > 0; bodies = bodies[:len(bodies)-1] {
					poses := moved.own
					if len(bodies) > 1 {
						poses = moved.whole
					}
					d := shift(b.found[m], poses[m], r3.Vec{X: p[0], Y: p[1], Z: p[2]})
					for axis, truth := range [3]float64{d.X, d.Y, d.Z} {
						forms := []Form{own[axis]}
						linear, ranges := own[axis].Of(there[m]), []Range{by[m]}
						if len(bodies) > 1 {
							forms, ranges = append(forms, tr.OnBase(m, own[axis])), append(ranges, by[bodies[1]])
							linear += forms[1].Of(there[bodies[1]])
						}
						bend := b.Point(bodies, p[0], p[1], p[2], axis, forms, ranges)
						require.LessOrEqual(t, math.Abs(truth-linear), largest(&bend, ranges...)+1e-11)
					}
				}
			}
		}
	}
	require.Greater(t, checked, 10000)
	assert.Greater(t, most, 0.3)
	assert.Greater(t, tightest, 0.3)
	assert.Less(t, closest, 0.1, "most of what is off is known")
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
	kinematics := tr.Machines[0].Kinematics()
	require.InDelta(t, 700, kinematics.Middle, 1e-9)
	forms := tr.Forms(0)
	by := []Range{{Pitch: 4}, {}}
	b := tr.Bender(at).Coupling(0, 0, Side{Offset: 1}, []Form{forms[0].V, forms[1].V}, 0, by)
	assert.InDelta(t, 610*0.004*0.004/2, b[0].Square[Pitch][Pitch]*16, 2e-5)
	assert.InDelta(t, 1e-3, b[0].Square[Axial][Pitch], 1e-6, "a shift of 1 mm at a slope of 1 mrad")
	assert.InDelta(t, -610*0.5e-6, b[0].Mean[Pitch][Pitch], 1e-8, "what is of the From end is taken off")
}

// By hand: the same machine, not moved itself, on a base that pitches by p mrad. Its shaft is 610 mm above its shim
// plane and that 350 mm above the base's, so that on a plane above the middle of the base's feet 960 p²/2 · 1e-6 mm
// is all that true geometry adds. The base's rotation alone makes it: a bound that leaves out what that does to the
// way to the machine is off by the whole of the linear form.
func TestABendOfABaseByHand(t *testing.T) {
	const p, above = 4, 610 + 350
	tr := onBases([]int{0})
	tr.Machines[0].Growth, tr.Machines[0].Nozzles = Growth{}, nil
	tr.Couplings[0].X = tr.Machines[3].At + 1250
	at := make([]Motion, len(tr.Machines))
	forms := tr.Forms(0)
	require.Len(t, forms, 3)
	base := forms[2].Body
	require.True(t, tr.Machines[base].IsBase())
	by := []Range{{}, {}, {Pitch: p}}
	b := tr.Bender(at).Coupling(0, 0, Side{Offset: 1}, []Form{forms[0].V, forms[1].V, forms[2].V}, 0, by)[0]
	require.Equal(t, []int{0, base}, b.Bodies)
	assert.InDelta(t, above*0.5e-6, b.Square[6+Pitch][6+Pitch], 1e-7, "mm per mrad squared")
	assert.Less(t, b.Line[6+Pitch], 1e-6, "the form touches true geometry")
	there := make([]Motion, len(tr.Machines))
	there[base] = Motion{Pitch: p}
	was, _ := tr.misalignment(0, 0, tr.posed(tr.placed(), at))
	is, _ := tr.misalignment(0, 0, tr.posed(tr.placed(), there))
	off := math.Abs(is.V.Offset - was.V.Offset - forms[2].V.Of(there[base]))
	assert.InDelta(t, above*0.5e-6*p*p, off, 1e-5)
	b.Fixed = 0 // of both ends, where the forms touch
	assert.LessOrEqual(t, off, largest(&b, Range{}, by[2])+1e-9)
	assert.LessOrEqual(t, largest(&b, Range{}, by[2]), 1.01*off)
}

// Beyond a radian nothing is known.
func TestBendsEnd(t *testing.T) {
	tr := geared()
	kinematics := tr.Machines[0].Kinematics()
	f := tr.Machines[0].Point(&kinematics, 0, 0, 600)
	b := tr.Bender(make([]Motion, 3)).Point([]int{0}, 0, 0, 600, 0, f[:1], []Range{{Pitch: 2000}})
	assert.True(t, math.IsInf(largest(&b, Range{Pitch: 2000}), 1))
}

func less(a, b Motion) Motion {
	for c := range a {
		a[c] -= b[c]
	}
	return a
}
