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
	sum := Sum{Found: c.Found, Warmth: found.Less(c.Found)}
	for _, f := range t.Forms(i) {
		by, _ := f.Of(motions[f.Body])
		if f.To {
			sum.To = sum.To.Plus(by)
		} else {
			sum.From = sum.From.Less(by)
		}
	}
	return sum
}

// Plus is m + n.
func (m Misalignment) Plus(n Misalignment) Misalignment {
	return Misalignment{
		V: Tilt{m.V.Offset + n.V.Offset, m.V.Angle + n.V.Angle},
		H: Tilt{m.H.Offset + n.H.Offset, m.H.Angle + n.H.Angle},
	}
}

// Less is m - n.
func (m Misalignment) Less(n Misalignment) Misalignment {
	return Misalignment{
		V: Tilt{m.V.Offset - n.V.Offset, m.V.Angle - n.V.Angle},
		H: Tilt{m.H.Offset - n.H.Offset, m.H.Angle - n.H.Angle},
	}
}
