package train

import "math"

// A PackChange is what becomes of the shim pack under one foot, in mm, + is shims in:
//
//	Then = Now + Fill + Cut + Move
//
// Fill goes in first and moves nothing: it takes the place of the gap. Cut takes the place of what is machined
// off the foot or its base. Move alone raises the foot.
type PackChange struct {
	Now  float64 // mm, the pack as the train file has it; NaN: not stated
	Fill float64 // mm, + what fills the gap measured under the foot, in whole shim steps
	Cut  float64 // mm, + what makes up for what is taken off the foot or its base
	Move float64 // mm, + the foot goes up
	Then float64 // mm, the pack after all of this; NaN: not stated
}

// By is the change of the pack in all, in mm, + shims in.
func (c PackChange) By() float64 { return c.Fill + c.Cut + c.Move }

// Off is by how many mm Then is more than Now and the change in all make; NaN where a pack is not stated.
func (c PackChange) Off() float64 { return c.Then - (c.Now + c.By()) }

// PackChange is what becomes of the pack under a foot of machine i that goes up by so many mm. It is the same
// whether the foot's Pack has what fills its gap in it (Filled) or not.
func (t *Train) PackChange(i int, f *Foot, up float64) PackChange {
	c := PackChange{Now: f.Pack - f.Filled, Fill: t.Fill(i, f), Cut: f.Cut, Move: up}
	c.Then = c.Now + c.By()
	return c
}

// Fill is what is to go under a soft foot of machine i in mm before anything else, in whole shim steps.
func (t *Train) Fill(i int, f *Foot) float64 {
	if f.Soft == 0 {
		return 0
	}
	step := t.ShimsOf(i).Step
	for k, in := range t.fills(i, step) {
		if own := &t.Machines[i].Feet[k]; own.X == f.X && own.Y == f.Y && own.Soft == f.Soft {
			return in
		}
	}
	return step * math.Round(f.Soft/step)
}

// fills are those of all feet of a machine: the whole steps nearest to each gap. What they leave of several gaps may
// add up to more soft foot than the machine may have; one step more or less at a foot, over or under its gap by less
// than a step, is taken then as long as it leaves less.
func (t *Train) fills(i int, step float64) []float64 {
	m := &t.Machines[i]
	out := make([]float64, len(m.Feet))
	soft := 0
	for f := range m.Feet {
		if out[f] = step * math.Round(m.Feet[f].Soft/step); m.Feet[f].Soft > 0 {
			soft++
		}
	}
	if soft < 2 {
		return out
	}
	kin, left := m.Kinematics(), make([]FootMove, len(m.Feet))
	worst := func() float64 {
		most := 0.0
		for f := range m.Feet {
			left[f].Up = out[f] - m.Feet[f].Soft
		}
		for _, s := range kin.Soft(left) {
			most = math.Max(most, math.Abs(s))
		}
		return most
	}
	for least := worst(); least > m.Flat+tinyFill; {
		best, at, by := least-tinyFill, -1, 0.0
		for _, d := range [...]float64{-step, step} { // of what does as well rather less
			for f := range m.Feet {
				if gap := m.Feet[f].Soft; gap == 0 || out[f]+d < -tinyFill || math.Abs(out[f]+d-gap) > step-tinyFill {
					continue
				}
				out[f] += d
				if w := worst(); w < best {
					best, at, by = w, f, d
				}
				out[f] -= d
			}
		}
		if at < 0 {
			break
		}
		out[at] = step * math.Round((out[at]+by)/step)
		least = best
	}
	return out
}

// tinyFill in mm is rounding of the arithmetic.
const tinyFill = 1e-9
