package pages

import "leastmove/cmd/internal/doc"

// equations are the model, as it is printed in the appendix.
func equations() []doc.Block {
	sum := func(lines ...string) doc.Block { return doc.Lines{Lines: lines} }
	return []doc.Block{
		doc.Paragraph{Words: "Units here are mm, mrad, and m for lever arms; which way is + is drawn below, at the " +
			"moves with signs."},
		doc.Subheading{Words: "Feet move a machine"},
		doc.Paragraph{Words: "A machine is rigid. Up, pitch and roll are the least-squares plane through what its packs " +
			"change by, left and yaw the least-squares line through its side moves; where the feet leave no slack both fit " +
			"exactly. Roll is 0 unless the file allows it, axial likewise. A point at (x, y, z), from the middle of the " +
			"feet at the shim plane, goes by"},
		sum("along = axial + pitch z - yaw y",
			"left  = left  + yaw x   - roll z",
			"up    = up    - pitch x + roll y"),
		doc.Subheading{Words: "Warmth and load move a shaft"},
		doc.Paragraph{Words: "In a condition with the share g of growth and r of journal shift, read when the shares g0 " +
			"and r0 were there, a shaft at y and z has gone by"},
		sum("up   = (g - g0) (growth up at x + roll of growth y)   + (r - r0) journal shift up",
			"left = (g - g0) (growth left at x - roll of growth z) + (r - r0) journal shift left"),
		doc.Subheading{Words: "Misalignment"},
		doc.Paragraph{Words: "Of the second shaft of a coupling against the first, at the coupling's x; of offsets and " +
			"of slopes alike:"},
		sum("misalignment = found + (growth, shift and motion of the second shaft)",
			"                     - (growth, shift and motion of the first)"),
		doc.Paragraph{Words: "The program states the plan's numbers by true geometry, with rotations as they are; what " +
			"the sum leaves out of that is of second order."},
		doc.Subheading{Words: "Limits of couplings"},
		doc.Paragraph{Words: "At one plane the offset and the angle are limited. At the flex planes x1 and x2 of a " +
			"spacer it is the angle there, L = x2 - x1:"},
		sum("at x1 = (offset + angle (x2 - x)) / L",
			"at x2 = -(offset + angle (x1 - x)) / L",
			"use   = sqrt(vertical² + horizontal²) / (limit × the condition's share)"),
		doc.Paragraph{Words: "What is wanted when running is taken off in that condition. Where the file limits each " +
			"plane by itself, the larger one takes the place of the root."},
		doc.Subheading{Words: "Limits of feet"},
		sum("-(what may come out) ≤ up ≤ what may go in",
			"|(along, left) of the foot - bolt in the hole| ≤ (hole - bolt) / 2",
			"-(travel right) ≤ left ≤ travel left"),
		doc.Subheading{Words: "Total movement"},
		sum("total = sum over all feet of effort × (|up| + |left| + |axial|), and what touching a machine costs"),
	}
}
