package train

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

// PackChange is what becomes of the pack under foot f of machine i that goes up by so many mm. It is the same
// whether the foot's Pack has what fills its gap in it (Filled) or not.
func (t *Train) PackChange(i, f int, up float64) PackChange {
	foot := &t.Machines[i].Feet[f]
	c := PackChange{Now: foot.Pack - foot.Filled, Cut: foot.Cut, Move: up}
	switch {
	case foot.Soft == 0:
	case foot.Filled != 0 || foot.Excess != 0: // it counts as filled, by a step or by none
		c.Fill = foot.Filled
	default:
		c.Fill = t.Fills(i)[f]
	}
	c.Then = c.Now + c.By()
	return c
}
