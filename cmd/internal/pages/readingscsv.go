package pages

import (
	"encoding/csv"
	"io"
	"strconv"

	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
)

// ReadingsCSV writes the reduced values: for every coupling what was found, and
// what each instrument says by itself. Signs are those of package train.
func ReadingsCSV(w io.Writer, c *view.Check, _ Page) error {
	s, out := formatterOf(c.Train), csv.NewWriter(w)
	// errors come out of Flush
	out.Write([]string{"coupling", "value", "on", "x", "set", "v", "v_95", "h", "h_95", "unit"})
	for _, r := range c.Readings {
		if r == nil {
			continue
		}
		fit, x := r.Fit, s.Station(r.Of.X)
		row := func(cells ...string) { out.Write(append([]string{words.Cell(s.Coupling(r.Coupling))}, cells...)) }
		row("found offset", "", x, "", string(s.Offset(fit.Found.V.Offset)), string(s.Offset(fit.Half.V.Offset)),
			string(s.Offset(fit.Found.H.Offset)), string(s.Offset(fit.Half.H.Offset)), s.MoveUnit())
		row("found angle", "", x, "", string(s.Angle(fit.Found.V.Angle)), string(s.Angle(fit.Half.V.Angle)),
			string(s.Angle(fit.Found.H.Angle)), string(s.Angle(fit.Half.H.Angle)), "mrad")
		for k := range r.Dials {
			d, on := &r.Dials[k], ""
			if !d.Offsets() {
				on = s.Shaft(d.On)
			}
			v, h, unit := s.own(d)
			row(d.Dial.Kind.String(), words.Cell(on), s.Length(d.Dial.X).Short(), strconv.Itoa(d.Dial.Set), string(v), "",
				string(h), "", unit)
		}
	}
	s.surveyRows(out, c.Survey)
	out.Flush()
	return out.Error()
}

// surveyRows are the points of a survey, what it says of couplings, and the sums
// round the train: those with the coupling that they end at.
func (s formatter) surveyRows(out *csv.Writer, survey *view.Survey) {
	if survey == nil {
		return
	}
	for _, l := range survey.Shafts {
		for _, point := range l.Points {
			shaft, x := words.Cell(s.Shaft(l.Shaft)), s.Station(point.At)
			out.Write([]string{"", "point", shaft, x, "", string(s.Offset(point.V)), "", string(s.Offset(point.H)), "",
				s.MoveUnit()})
			out.Write([]string{"", "point off its line", shaft, x, "", string(s.Offset(point.OffV)), "",
				string(s.Offset(point.OffH)), "", s.MoveUnit()})
		}
	}
	two := func(coupling int, x, value string, v, h, half view.Tilt) {
		name := words.Cell(s.Coupling(coupling))
		out.Write([]string{name, value + " offset", "", x, "", string(s.Offset(v.Offset)), string(s.Offset(half.Offset)),
			string(s.Offset(h.Offset)), string(s.Offset(half.Offset)), s.MoveUnit()})
		out.Write([]string{name, value + " angle", "", x, "", string(s.Angle(v.Angle)), string(s.Angle(half.Angle)),
			string(s.Angle(h.Angle)), string(s.Angle(half.Angle)), "mrad"})
	}
	for _, b := range survey.Between {
		x := s.Station(b.X)
		two(b.Coupling, x, "survey", b.Found.V, b.Found.H, b.Half)
		if b.Read {
			two(b.Coupling, x, "survey less read", b.Apart.V, b.Apart.H, b.Error)
		}
	}
	for _, r := range survey.Around {
		two(r.Last, s.Station(r.X), "closure error", r.V, r.H, r.Error)
	}
}

// own is what an instrument says by itself, and its unit.
func (s formatter) own(d *view.DialRead) (v, h words.Number, unit string) {
	if d.Angular() {
		return s.Angle(d.Fit.V), s.Angle(d.Fit.H), "mrad"
	}
	return s.Offset(d.Fit.V), s.Offset(d.Fit.H), s.MoveUnit()
}
