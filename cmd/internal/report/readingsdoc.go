package report

import (
	"encoding/csv"
	"io"
	"strconv"

	"leastmove/train"
	"leastmove/train/readings"
)

// ReadingsCSV writes the reduced values: for every coupling what was found, and
// what each instrument says by itself. Signs are those of package train.
func ReadingsCSV(w io.Writer, t *train.Train, _ Page) error {
	s, out := speakerOf(t), csv.NewWriter(w)
	out.Write([]string{"coupling", "value", "on", "x", "set", "v", "v_95", "h", "h_95", "unit"}) // errors come out of Flush
	for i := range t.Couplings {
		c := &t.Couplings[i]
		if len(c.Dials) == 0 {
			continue
		}
		fit, x := fitOf(t, c), s.station(c.X)
		row := func(cells ...string) { out.Write(append([]string{cell(s.coupling(i))}, cells...)) }
		row("found offset", "", x, "", string(s.offset(fit.Found.V.Offset)), string(s.offset(fit.Half.V.Offset)),
			string(s.offset(fit.Found.H.Offset)), string(s.offset(fit.Half.H.Offset)), s.moveUnit())
		row("found angle", "", x, "", string(s.angle(fit.Found.V.Angle)), string(s.angle(fit.Half.V.Angle)),
			string(s.angle(fit.Found.H.Angle)), string(s.angle(fit.Half.H.Angle)), "mrad")
		for k := range c.Dials {
			d, m := &c.Dials[k], s.mountDoc(c, &c.Dials[k])
			v, h, unit := s.own(d, &fit.Dials[k])
			row(m.Kind, cell(m.On), m.X.short(), strconv.Itoa(d.Set), string(v), "", string(h), "", unit)
		}
	}
	s.surveyRows(out)
	out.Flush()
	return out.Error()
}

// surveyRows are the points of a survey, what it says of couplings, and the sums
// round the train: those with the coupling that they end at.
func (s speaker) surveyRows(out *csv.Writer) {
	survey := readings.SurveyOf(s.t)
	if survey == nil {
		return
	}
	for _, l := range survey.Lines {
		for k, n := range l.Points {
			m := &s.t.Machines[l.Machine]
			point := &m.Points[n]
			shaft, x := cell(s.shaft(train.End{Machine: l.Machine, Shaft: l.Shaft})), s.station(m.At+point.X)
			out.Write([]string{"", "point", shaft, x, "", string(s.offset(point.V)), "", string(s.offset(point.H)), "", s.moveUnit()})
			out.Write([]string{"", "point off its line", shaft, x, "", string(s.offset(l.OffV[k])), "", string(s.offset(l.OffH[k])), "", s.moveUnit()})
		}
	}
	two := func(coupling int, x, value string, v, h, half train.Tilt) {
		name := cell(s.coupling(coupling))
		out.Write([]string{name, value + " offset", "", x, "", string(s.offset(v.Offset)), string(s.offset(half.Offset)), string(s.offset(h.Offset)), string(s.offset(half.Offset)), s.moveUnit()})
		out.Write([]string{name, value + " angle", "", x, "", string(s.angle(v.Angle)), string(s.angle(half.Angle)), string(s.angle(h.Angle)), string(s.angle(half.Angle)), "mrad"})
	}
	for _, b := range survey.Between {
		x := s.station(s.t.Couplings[b.Coupling].X)
		two(b.Coupling, x, "survey", b.Found.V, b.Found.H, b.Half)
		if b.Read {
			two(b.Coupling, x, "survey less read", b.Apart.V, b.Apart.H, b.Error)
		}
	}
	for _, r := range survey.Rounds {
		two(r.Last, s.station(r.X), "sum round the train", r.V, r.H, r.Error)
	}
}

// own is what an instrument says by itself, and its unit.
func (s speaker) own(d *train.Dial, r *readings.Reduced) (v, h number, unit string) {
	if d.Kind == train.FaceDial {
		return s.angle(r.V), s.angle(r.H), "mrad"
	}
	return s.offset(r.V), s.offset(r.H), s.moveUnit()
}

// readingsDoc is what a coupling's readings come to; nil where it has none.
func (s speaker) readingsDoc(c *train.Coupling) *readingsDoc {
	if len(c.Dials) == 0 {
		return nil
	}
	fit := fitOf(s.t, c)
	tilt := func(t train.Tilt) tiltDoc { return tiltDoc{s.offset(t.Offset), s.angle(t.Angle)} }
	doc := &readingsDoc{
		Spare: fit.Freedom, Scatter: s.offset(fit.Scatter), Condition: fixed(fit.Condition, 2),
		Half: halfDoc{tilt(fit.Half.V), tilt(fit.Half.H)}, Far: farDoc{s.offset(fit.FarV), s.offset(fit.FarH)},
		Checks: []failedDoc{},
	}
	for k := range c.Dials {
		d, r := &c.Dials[k], &fit.Dials[k]
		dial := dialDoc{mountDoc: s.mountDoc(c, d), Set: d.Set, Ring: s.offset(r.Ring)}
		dial.V, dial.H, _ = s.own(d, r)
		for i, angle := range d.Angles {
			dial.Positions = append(dial.Positions, positionDoc{
				clockDoc{fixed(angle, 3), s.offset(d.Values[i])}, s.offset(r.Corrected[i]), s.offset(r.Residual[i])})
		}
		doc.Dials = append(doc.Dials, dial)
	}
	for _, check := range fit.Checks {
		message, _ := check.Words(s.t, c)
		f := failedDoc{Kind: check.Kind.String(), Dial: check.Dial, Size: s.offset(check.Size), Limit: s.offset(check.Limit), Text: clean(message)}
		if check.Kind == readings.NoSag {
			f.Size, f.Limit = s.length(check.Size), s.length(check.Limit)
		}
		doc.Checks = append(doc.Checks, f)
	}
	return doc
}

// What a coupling's readings come to.
type readingsDoc struct {
	Spare     int         `json:"spare"`     // readings beyond the unknowns
	Scatter   number      `json:"scatter"`   // move, standard error of one reading; null: not known
	Condition number      `json:"condition"` // ratio; 1: all unknowns are told apart as well as can be
	Half      halfDoc     `json:"half"`      // 95 % half-widths of what was found; null: not known
	Far       farDoc      `json:"far"`       // move, the same at the farthest foot
	Dials     []dialDoc   `json:"dials"`
	Checks    []failedDoc `json:"checks"` // that failed
}

type halfDoc struct {
	V tiltDoc `json:"v"`
	H tiltDoc `json:"h"`
}

type farDoc struct {
	V number `json:"v"`
	H number `json:"h"`
}

type dialDoc struct {
	mountDoc
	Set       int           `json:"set"`
	V         number        `json:"v"`    // by itself: move, + high; of a face mrad, + climbs
	H         number        `json:"h"`    // by itself: move, + left; of a face mrad, + turns left
	Ring      number        `json:"ring"` // move, top + bottom - left - right; null: not all were read
	Positions []positionDoc `json:"positions,omitempty"`
}

type positionDoc struct {
	clockDoc
	Corrected number `json:"corrected"` // move, + pushed in, without zero, sag and what true geometry adds
	Residual  number `json:"residual"`  // move, off what all readings say together
}

type failedDoc struct {
	Kind  string `json:"kind"`  // ring, return, residual, repeat, method, sag, range or copy
	Dial  int    `json:"dial"`  // index into dials
	Size  number `json:"size"`  // move; of sag length
	Limit number `json:"limit"` // move; of sag length
	Text  string `json:"text"`
}
