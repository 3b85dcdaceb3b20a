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
	step := t.ShimsOf(i).Step
	return step * math.Round(f.Soft/step)
}
