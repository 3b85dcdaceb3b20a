package train

// A Sum is a misalignment as the sum of what makes it up, to first order:
// Found + Warmth + To - From.
type Sum struct {
	Found  Misalignment // as read
	Warmth Misalignment // of growth and journal shift beyond what was there then
	To     Misalignment // of the To shaft's motion at the coupling's X
	From   Misalignment // of the From shaft's
}

// Sum takes the misalignment of coupling i in condition k apart; motions are one
// for each machine.
func (t *Train) Sum(i, k int, motions []Motion) Sum {
	c := &t.Couplings[i]
	found, _ := t.AsFound(i, k)
	from, to := t.Forms(i)
	moved := func(f EndForms, q Motion) Misalignment {
		return Misalignment{V: Tilt{f.V.Of(q), f.VSlope.Of(q)}, H: Tilt{f.H.Of(q), f.HSlope.Of(q)}}
	}
	return Sum{
		Found: c.Found, Warmth: found.less(c.Found),
		To: moved(to, motions[c.To.Machine]), From: moved(from, motions[c.From.Machine]),
	}
}

// less is m - n.
func (m Misalignment) less(n Misalignment) Misalignment {
	return Misalignment{
		V: Tilt{m.V.Offset - n.V.Offset, m.V.Angle - n.V.Angle},
		H: Tilt{m.H.Offset - n.H.Offset, m.H.Angle - n.H.Angle},
	}
}
