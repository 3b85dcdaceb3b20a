package planjson

import (
	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
	"leastmove/train"
)

// ReadingsOf is what a coupling's readings come to; nil where it has none.
func ReadingsOf(w words.Formatter, r *view.CouplingRead) *Readings {
	if r == nil {
		return nil
	}
	fit := r.Fit
	doc := &Readings{
		Spare: fit.Freedom, Scatter: w.Offset(fit.Scatter), Condition: words.Fixed(fit.Condition, 2),
		Half: Half{V: tiltOf(w, fit.Half.V), H: tiltOf(w, fit.Half.H)}, Far: Far{V: w.Offset(fit.FarV),
			H: w.Offset(fit.FarH)},
		Checks: []Failed{},
	}
	for k := range r.Dials {
		d := &r.Dials[k]
		dial := Dial{Mount: MountOf(w, r.Of, d.Dial), Set: d.Dial.Set, V: w.Offset(d.Fit.V), H: w.Offset(d.Fit.H),
			Ring: w.Offset(d.Fit.Ring)}
		if d.Angular() {
			dial.V, dial.H = w.Angle(d.Fit.V), w.Angle(d.Fit.H)
		}
		for i, angle := range d.Dial.Angles {
			dial.Positions = append(dial.Positions, Position{
				Clock:     Clock{Angle: words.Fixed(angle, 3), Reading: w.Offset(d.Dial.Values[i])},
				Corrected: w.Offset(d.Fit.Corrected[i]), Residual: w.Offset(d.Fit.Residual[i]),
			})
		}
		doc.Dials = append(doc.Dials, dial)
	}
	for _, k := range r.Failed {
		f := Failed{Kind: k.Kind.String(), Dial: k.Dial, Size: w.Offset(k.Size), Limit: w.Offset(k.Limit),
			Text: words.Clean(k.Message)}
		if k.Span {
			f.Size, f.Limit = w.Length(k.Size), w.Length(k.Limit)
		}
		doc.Checks = append(doc.Checks, f)
	}
	for _, slip := range r.Mistakes {
		doc.Mistakes = append(doc.Mistakes, words.Clean(slip))
	}
	return doc
}

// MountOf is where and how an instrument sits.
func MountOf(w words.Formatter, c *train.Coupling, d *train.Dial) Mount {
	doc := Mount{
		Kind: d.Kind.String(), X: w.Length(d.X), Radius: w.Length(d.Radius), Sag: w.Offset(d.Sag),
		Away: d.Away, Pair: d.Pair, PushedIn: "+",
	}
	if d.Reversed {
		doc.PushedIn = "-"
	}
	switch {
	case d.Kind == train.OffsetDial:
	case d.OnFrom:
		doc.On = w.Shaft(c.From)
	default:
		doc.On = w.Shaft(c.To)
	}
	return doc
}

func tiltOf(w words.Formatter, t train.Tilt) Tilt {
	return Tilt{Offset: w.Offset(t.Offset), Angle: w.Angle(t.Angle)}
}
