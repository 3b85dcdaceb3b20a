package pages

import (
	"encoding/csv"
	"io"
	"strconv"

	"leastmove/cmd/internal/planjson"
	"leastmove/cmd/internal/words"
	"leastmove/train"
	"leastmove/train/readings"
)

// ReadingsCSV writes the reduced values: for every coupling what was found, and
// what each instrument says by itself. Signs are those of package train.
func ReadingsCSV(w io.Writer, t *train.Train, _ Page) error {
	s, out := formatterOf(t), csv.NewWriter(w)
	out.Write([]string{"coupling", "value", "on", "x", "set", "v", "v_95", "h", "h_95", "unit"}) // errors come out of Flush
	for i := range t.Couplings {
		c := &t.Couplings[i]
		if len(c.Dials) == 0 {
			continue
		}
		fit, x := c.Fit, s.Station(c.X)
		row := func(cells ...string) { out.Write(append([]string{words.Cell(s.Coupling(i))}, cells...)) }
		row("found offset", "", x, "", string(s.Offset(fit.Found.V.Offset)), string(s.Offset(fit.Half.V.Offset)),
			string(s.Offset(fit.Found.H.Offset)), string(s.Offset(fit.Half.H.Offset)), s.MoveUnit())
		row("found angle", "", x, "", string(s.Angle(fit.Found.V.Angle)), string(s.Angle(fit.Half.V.Angle)),
			string(s.Angle(fit.Found.H.Angle)), string(s.Angle(fit.Half.H.Angle)), "mrad")
		for k := range c.Dials {
			d, m := &c.Dials[k], s.mountDoc(c, &c.Dials[k])
			v, h, unit := s.own(d, &fit.Dials[k])
			row(m.Kind, words.Cell(m.On), m.X.Short(), strconv.Itoa(d.Set), string(v), "", string(h), "", unit)
		}
	}
	s.surveyRows(out)
	out.Flush()
	return out.Error()
}

// surveyRows are the points of a survey, what it says of couplings, and the sums
// round the train: those with the coupling that they end at.
func (s formatter) surveyRows(out *csv.Writer) {
	survey := s.Train.Survey
	if survey == nil {
		return
	}
	for _, l := range survey.Lines {
		for k, n := range l.Points {
			m := &s.Train.Machines[l.Machine]
			point := &m.Points[n]
			shaft, x := words.Cell(s.Shaft(train.End{Machine: l.Machine, Shaft: l.Shaft})), s.Station(m.At+point.X)
			out.Write([]string{"", "point", shaft, x, "", string(s.Offset(point.V)), "", string(s.Offset(point.H)), "", s.MoveUnit()})
			out.Write([]string{"", "point off its line", shaft, x, "", string(s.Offset(l.OffV[k])), "", string(s.Offset(l.OffH[k])), "", s.MoveUnit()})
		}
	}
	two := func(coupling int, x, value string, v, h, half train.Tilt) {
		name := words.Cell(s.Coupling(coupling))
		out.Write([]string{name, value + " offset", "", x, "", string(s.Offset(v.Offset)), string(s.Offset(half.Offset)), string(s.Offset(h.Offset)), string(s.Offset(half.Offset)), s.MoveUnit()})
		out.Write([]string{name, value + " angle", "", x, "", string(s.Angle(v.Angle)), string(s.Angle(half.Angle)), string(s.Angle(h.Angle)), string(s.Angle(half.Angle)), "mrad"})
	}
	for _, b := range survey.Couplings {
		x := s.Station(s.Train.Couplings[b.Coupling].X)
		two(b.Coupling, x, "survey", b.Found.V, b.Found.H, b.Half)
		if b.Read {
			two(b.Coupling, x, "survey less read", b.Apart.V, b.Apart.H, b.Error)
		}
	}
	for _, r := range survey.Closures {
		two(r.Last, s.Station(r.X), "sum round the train", r.V, r.H, r.Error)
	}
}

// own is what an instrument says by itself, and its unit.
func (s formatter) own(d *train.Dial, r *train.DialFit) (v, h words.Number, unit string) {
	if d.Kind == train.FaceDial {
		return s.Angle(r.V), s.Angle(r.H), "mrad"
	}
	return s.Offset(r.V), s.Offset(r.H), s.MoveUnit()
}

// planjson.Readings is what a coupling's readings come to; nil where it has none.
func (s formatter) readingsDoc(c *train.Coupling) *planjson.Readings {
	if len(c.Dials) == 0 {
		return nil
	}
	fit := c.Fit
	tilt := func(t train.Tilt) planjson.Tilt {
		return planjson.Tilt{Offset: s.Offset(t.Offset), Angle: s.Angle(t.Angle)}
	}
	doc := &planjson.Readings{
		Spare: fit.Freedom, Scatter: s.Offset(fit.Scatter), Condition: words.Fixed(fit.Condition, 2),
		Half: planjson.Half{V: tilt(fit.Half.V), H: tilt(fit.Half.H)}, Far: planjson.Far{V: s.Offset(fit.FarV), H: s.Offset(fit.FarH)},
		Checks: []planjson.Failed{},
	}
	for k := range c.Dials {
		d, r := &c.Dials[k], &fit.Dials[k]
		dial := planjson.Dial{Mount: s.mountDoc(c, d), Set: d.Set, Ring: s.Offset(r.Ring)}
		dial.V, dial.H, _ = s.own(d, r)
		for i, angle := range d.Angles {
			dial.Positions = append(dial.Positions, planjson.Position{
				Clock: planjson.Clock{Angle: words.Fixed(angle, 3), Reading: s.Offset(d.Values[i])}, Corrected: s.Offset(r.Corrected[i]), Residual: s.Offset(r.Residual[i])})
		}
		doc.Dials = append(doc.Dials, dial)
	}
	for _, check := range fit.Checks {
		message, _ := readings.CheckWords(s.Train, c, check)
		f := planjson.Failed{Kind: check.Kind.String(), Dial: check.Dial, Size: s.Offset(check.Size), Limit: s.Offset(check.Limit), Text: words.Clean(message)}
		if check.Kind == train.CheckSag {
			f.Size, f.Limit = s.Length(check.Size), s.Length(check.Limit)
		}
		doc.Checks = append(doc.Checks, f)
	}
	return doc
}
