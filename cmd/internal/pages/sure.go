package pages

import (
	"fmt"
	"strings"

	"leastmove/cmd/internal/doc"
	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
)

// sure says how likely it is that the couplings end within their limits.
func (t *planText) sure() {
	c := t.plan.Chance
	if c == nil {
		t.unsure()
		return
	}
	e := t.Train.Errors
	t.Heading("Chance of ending within limits")
	t.Say(fmt.Sprintf("%s that every coupling ends within all of its limits %s in %d simulated jobs (the share is "+
		"good to ±%s %%), if these errors are independent and hold 95 %% of the time: found offsets ±%s, found angles "+
		"±%s, side moves ±%s, growth and journal shift ±%s and besides ±%s.",
		chance(c.Within), t.Conditions(), c.Draws, words.Ceil(100*c.Error, 2),
		defaulted(words.With(t.Offset(e.Offset), t.MoveUnit()), e.Assumed.Offset),
		defaulted(words.With(t.Angle(e.Angle), "mrad"), e.Assumed.Angle),
		defaulted(words.With(t.Offset(e.Placing), t.MoveUnit()), e.Assumed.Placing),
		defaulted(string(words.Fixed(100*e.Growth, 0))+" %", e.Assumed.Growth),
		defaulted(words.With(t.Offset(e.GrowthLeast), t.MoveUnit()), e.Assumed.GrowthLeast)))
	if loose := t.looser(t.plan); len(loose) > 0 {
		t.Say("Larger errors are counted where those of the readings come to more: " +
			words.And(loose) + ".")
	}
	t.Say("By coupling, and what contributes to its error, as shares of the variance at the limit that is " +
		"passed most often:")
	g := doc.Table{Columns: []doc.Column{
		doc.Wide("coupling"), doc.Number("chance"), doc.Number("offsets"), doc.Number("angles"),
		doc.Number("side moves"), doc.Number("growth"),
	}}
	for i, k := range c.Couplings {
		row := []string{t.Coupling(i), chance(k.Within)}
		for _, s := range view.Sources() {
			row = append(row, string(words.Fixed(100*k.Shares[s], 0))+" %")
		}
		g.Add(row...)
	}
	t.Table(g)
	if best := c.Helps; best >= 0 {
		t.Say(fmt.Sprintf("What would help most: half the error of %s would bring the chance to %s.", best,
			chance(c.Halved[best])))
	}
	if c.Better != nil {
		t.Say("Single measurements, each better by half and the others as they are:")
		g := doc.Table{Columns: []doc.Column{doc.Wide("measurement"), doc.Number("chance")}, Bare: true}
		for _, b := range c.Better {
			g.Add(t.measurement(b.Measurement), chance(b.Within))
		}
		t.Table(g)
	}
}

// surely is the chance of ending within limits in a sentence for the head of a page;
// "" where it was not worked out. What is said of the plan alone leaves errors out.
func (s formatter) surely(p *view.Plan) string {
	if p.Probability == nil {
		return ""
	}
	return fmt.Sprintf("With the errors that the file states the chance that all couplings are within all of their "+
		"limits is %s.", chance(p.Probability.Within))
}

// unsure says why there is no chance, where the file states errors.
func (t *planText) unsure() {
	if len(t.plan.Open) > 0 {
		t.Heading("Chance of ending within limits")
		t.Say("None is given: " + t.open(t.plan.Open) + ".")
	}
}

// noChance says why none is given where nothing is left open that it depends on.
func (t *planText) noChance() string {
	if t.Train.Errors.Stated {
		return "There are no moves whose chance of ending within limits could be worked out."
	}
	return "The file does not state how good the readings and the growth are ([errors]), so how likely the couplings " +
		"are to end within their limits was not worked out."
}

// defaulted is a figure with a word on where it is from if the file does not state it.
func defaulted(figure string, is bool) string {
	if is {
		return figure + " (default)"
	}
	return figure
}

// Open says what a train file leaves open that no chance can be given without, and what to write.
func Open(t *view.Train, open []view.Unstated) string { return formatterOf(t).open(open) }

func (s formatter) open(open []view.Unstated) string {
	return s.openWith(open, [...]string{
		" (v = 0 says that there is none)",
		" (a = 0 says that there is none)",
		" (run = { v = 0, h = 0 } says that there is none, as in rolling bearings)",
		" (found.gap and wanted.gap)",
	})
}

// openWith names what is left open; hints has what follows each kind.
func (s formatter) openWith(open []view.Unstated, hints [4]string) string {
	var parts []string
	for _, kind := range []view.UnstatedKind{view.UnstatedGrowth, view.UnstatedAlong, view.UnstatedRun,
		view.UnstatedGap} {
		var names []string
		for _, u := range open {
			switch {
			case u.Kind != kind:
			case kind == view.UnstatedRun:
				names = append(names, s.Shaft(view.End{Machine: u.Machine, Shaft: u.Shaft}))
			case kind == view.UnstatedGap:
				names = append(names, s.Coupling(u.Coupling))
			default:
				names = append(names, s.Machine(u.Machine))
			}
		}
		if len(names) == 0 {
			continue
		}
		what := [...]string{
			"the growth of %s is not stated",
			"the growth of %s along the train is not stated",
			"the journal shift of %s is not stated",
			"the distance between shaft ends at %s is limited, but not stated as found and as wanted",
		}[kind]
		parts = append(parts, fmt.Sprintf(what, words.And(names))+hints[kind])
	}
	return strings.Join(parts, "; ")
}

// looser are the couplings whose readings are less certain, by what they show themselves,
// than the errors of the train file: a chance is counted with those.
func (s formatter) looser(p *view.Plan) []string {
	var out []string
	for _, l := range p.Looser {
		var parts []string
		if n := s.Offset(l.Offset); n != "" {
			parts = append(parts, "offset ±"+words.With(n, s.MoveUnit()))
		}
		if n := s.Angle(l.Angle); n != "" {
			parts = append(parts, "angle ±"+words.With(n, "mrad"))
		}
		out = append(out, fmt.Sprintf("\"%s\" (%s)", s.Coupling(l.Coupling), strings.Join(parts, ", ")))
	}
	return out
}

// measurement names one.
func (s formatter) measurement(m view.Measurement) string {
	switch m.Source {
	case view.FromOffset:
		return fmt.Sprintf("found offset of \"%s\"", s.Coupling(m.Coupling))
	case view.FromAngle:
		return fmt.Sprintf("found angle of \"%s\"", s.Coupling(m.Coupling))
	case view.FromPlacing:
		return "placing of the side moves of " + s.Machine(m.Machine)
	}
	return "growth and journal shift of " + s.Machine(m.Machine)
}

// chance is a share of draws in words, rounded down.
func chance(share float64) string { return string(words.Floor(100*share, 1)) + " %" }
