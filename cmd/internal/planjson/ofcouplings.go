package planjson

import (
	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
)

// couplings are those of a train: as found, and as planned where there is a plan.
func (w filler) couplings(read []*view.CouplingRead, found, planned [][]view.Reading,
	warm []view.Transient) []Coupling {
	var docs []Coupling
	for i := range w.Train.Couplings {
		c := &w.Train.Couplings[i]
		doc := Coupling{Name: w.Coupling(i), From: w.Shaft(c.From), To: w.Shaft(c.To), X: w.Length(c.X),
			Readings: ReadingsOf(w.Formatter, read[i]), Warm: warmUp(&warm[i])}
		if c.Spacer {
			doc.Flex = []words.Number{w.Length(c.Flex[0]), w.Length(c.Flex[1])}
		}
		for k := range w.Train.Conditions {
			f := &found[i][k]
			state := State{
				Condition: w.Condition(k), Found: w.reading(f),
				Use: Shares{Found: words.Use(f.Worst())}, Worst: Worst{Found: view.Governs(f)},
			}
			if planned != nil {
				r := &planned[i][k]
				after := w.reading(r)
				state.Planned, state.Use.Planned = &after, words.Use(r.Worst())
				state.Worst.Planned = view.Governs(r)
			}
			doc.States = append(doc.States, state)
		}
		if planned != nil {
			doc.Driven = w.Condition(view.Driving(planned[i]))
		}
		docs = append(docs, doc)
	}
	return docs
}

func warmUp(t *view.Transient) WarmUp {
	return WarmUp{Use: words.Use(t.Worst()), Worst: view.Governs(&t.Reading), From: warmth(t.From), To: warmth(t.To),
		Run: words.Fixed(t.Run, 3)}
}

func warmth(w view.Warmth) Warmth {
	return Warmth{Share: words.Fixed(w.Share, 3), Own: words.Clean(w.Own)}
}

func (w filler) reading(r *view.Reading) Reading {
	return Reading{V: tiltOf(w.Formatter, r.V), H: tiltOf(w.Formatter, r.H), Gap: w.Length(r.Gap)}
}

func (w filler) rest(i int, r *view.Reading) *Rest {
	doc := Rest{Reading: w.reading(r), Dials: w.targets(&w.Train.Couplings[i], r)}
	c := &w.Train.Couplings[i]
	for _, u := range r.Uses {
		if u.Kind == view.Flex1 || u.Kind == view.Flex2 {
			doc.Flex = append(doc.Flex, Flex{X: w.Length(c.Flex[u.Kind-view.Flex1]), V: w.Angle(u.V), H: w.Angle(u.H)})
		}
	}
	return &doc
}

// targets are the targets of a coupling's dials for programs.
func (w filler) targets(c *view.Coupling, r *view.Reading) []Target {
	var docs []Target
	for _, target := range view.Targets(c, r.Misalignment) {
		doc := Target{Mount: MountOf(w.Formatter, c, target.Dial)}
		if target.Offsets() {
			doc.V, doc.H = w.Offset(target.V), w.Offset(target.H)
		}
		for i, v := range target.Clock {
			doc.Clock = append(doc.Clock, Clock{Angle: words.Fixed(view.Quarters()[i], 0), Reading: w.Offset(v)})
		}
		docs = append(docs, doc)
	}
	return docs
}
