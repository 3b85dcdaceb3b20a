package pages

import (
	"fmt"
	"slices"
	"strings"

	"leastmove/cmd/internal/doc"
	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
)

// offsets adds to the planes of a coupling those where an instrument gives
// offsets.
func (s formatter) offsets(c *view.Coupling, r *view.Reading, g *doc.Table) {
	for _, target := range view.Targets(c, r.Misalignment) {
		d := target.Dial
		if !target.Offsets() || d.X == c.X {
			continue
		}
		g.Add("x = "+s.Station(d.X), words.Signed(s.Offset, target.V, "%s high", "%s low"),
			words.Signed(s.Offset, target.H, "%s left", "%s right"))
	}
}

// targets are what the dials that read a coupling are to show where it stands so.
func (p *page) targets(s formatter, i int, r *view.Reading) {
	c := &s.Train.Couplings[i]
	g := doc.Table{Columns: []doc.Column{
		doc.Wide("dial, zeroed at 12"), doc.Number("12"), doc.Number("3"), doc.Number("6"),
		doc.Number("9"),
	}}
	for _, target := range view.Targets(c, r.Misalignment) {
		if target.Offsets() {
			continue
		}
		row := []string{s.dial(c, target.Dial)}
		for _, v := range target.Clock {
			row = append(row, string(s.Offset(v)))
		}
		g.Add(row...)
	}
	if len(g.Rows) > 0 {
		g.Caption, g.Same = s.against(i), true
		p.Table(g)
	}
}

// dial names a dial, with what else its numbers depend on.
func (s formatter) dial(c *view.Coupling, d *view.Dial) string { return s.dialNamed(c, d, true) }

// dialNamed is it with or without what its bracket sags by.
func (s formatter) dialNamed(c *view.Coupling, d *view.Dial, sag bool) string {
	words := d.Kind.String()
	if d.Kind != view.OffsetDial {
		words += " on " + s.Shaft(touched(c, d))
	}
	if d.Away {
		words += ", away from the gap"
	}
	if d.Kind != view.FaceDial {
		words += ", x = " + s.Station(d.X)
	}
	if n := s.Length(d.Radius); n != "" {
		words += ", radius " + n.Short()
	}
	if n := s.Offset(d.Sag); sag && n != "" && !n.Zero() {
		words += fmt.Sprintf(", sag %s", n.Short())
	}
	if d.Pair {
		words += ", half the difference of two dials"
	}
	if d.Reversed {
		words += reversed
	}
	return words
}

// dialBriefly names instrument n of a coupling by what tells it from the others, and says which way it counts.
func (s formatter) dialBriefly(c *view.Coupling, all []view.Instrument, n int) string {
	names := []func(d *view.Dial) string{
		func(d *view.Dial) string { return "on " + s.Shaft(touched(c, d)) },
		func(d *view.Dial) string { return d.Kind.String() + " on " + s.Shaft(touched(c, d)) },
		func(d *view.Dial) string { return s.dialNamed(c, d, false) },
	}
	d, mixed := all[n].Dial, slices.ContainsFunc(all, func(k view.Instrument) bool { return k.Kind != all[0].Kind })
	if d.Kind == view.OffsetDial {
		return "at x = " + s.Station(d.X)
	}
	if mixed {
		names = names[1:]
	}
	for k, name := range names {
		same := 0
		for i := range all {
			if name(all[i].Dial) == name(d) {
				same++
			}
		}
		if same > 1 && k < len(names)-1 {
			continue
		}
		words := name(d)
		if d.Reversed && !strings.HasSuffix(words, reversed) {
			words += reversed
		}
		return words
	}
	return ""
}

// reversed is said of a dial that counts the other way than usual.
const reversed = ", minus pushed in"

// touched is the shaft that the plunger touches.
func touched(c *view.Coupling, d *view.Dial) view.End {
	if d.OnFrom {
		return c.From
	}
	return c.To
}
