package pages

import (
	"fmt"
	"slices"

	"leastmove/cmd/internal/doc"
	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
)

// couplings are the states of every coupling in every condition: as found, and
// planned beside it where there is a plan.
func (t *planText) couplings(heading string, found, planned [][]view.Reading) {
	t.Heading(heading)
	if !t.Isolated {
		t.page.couplings(t.formatter, found, planned)
		return
	}
	t.Say(t.offsetsAtX())
	for i := range t.Train.Couplings {
		t.Table(t.inConditions(i, found[i], planned))
	}
}

// inConditions is a broad table of a coupling, with a row for each of its states in each condition.
func (s formatter) inConditions(i int, found []view.Reading, planned [][]view.Reading) doc.Table {
	c := &s.Train.Couplings[i]
	g := doc.Table{Caption: s.against(i) + s.planes(c) + s.wanted(c), Names: 2, Broad: true,
		Columns: []doc.Column{doc.Wide("condition"), doc.Fixed(""), doc.Number("of its limit"), doc.Wide("governed by"),
			doc.Fixed("up and down"), doc.Fixed("sideways"), doc.Fixed("shaft ends, " + s.LengthUnit())}}
	gaps := false
	add := func(condition, when string, r *view.Reading) {
		gap := string(s.Length(r.Gap))
		gaps = gaps || gap != ""
		g.Add(condition, when, words.Percent(r.Worst()), s.governs(view.WorstUse(r), r), s.High(r.V), s.Aside(r.H), gap)
	}
	for k := range found {
		if planned == nil {
			add(s.Condition(k), "as found", &found[k])
			continue
		}
		add(s.Condition(k), "before", &found[k])
		add("", "after", &planned[i][k])
	}
	if !gaps {
		g.Drop(len(g.Columns) - 1)
	}
	return g
}

func (p *page) couplings(s formatter, found, planned [][]view.Reading) {
	p.Say(s.offsetsAtX())
	for i := range s.Train.Couplings {
		c := &s.Train.Couplings[i]
		p.Space()
		var tables []doc.Table
		for k := range s.Train.Conditions {
			if planned == nil {
				tables = append(tables, states([]string{"as found"}, s.state(&found[i][k])))
			} else {
				tables = append(tables, states([]string{"before", "after"}, s.state(&found[i][k]), s.state(&planned[i][k])))
			}
		}
		p.byState(s, s.against(i)+s.planes(c)+s.wanted(c), tables)
	}
}

// byState puts the tables of a coupling, one a condition, under its name.
func (p *page) byState(s formatter, title string, tables []doc.Table) {
	if len(tables) == 1 {
		tables[0].Caption, tables[0].Columns[0].Head = title, s.Condition(0)
		p.Table(tables[0])
		return
	}
	p.Subheading(title)
	for k := range tables {
		tables[k].Caption, tables[k].Form = s.Condition(k), title
		p.Table(tables[k])
	}
}

// states are columns of one coupling in one condition, each under its head.
func states(heads []string, columns ...[]string) doc.Table {
	g := doc.Table{Columns: []doc.Column{doc.Wide("")}}
	for _, head := range heads {
		g.Columns = append(g.Columns, doc.Fixed(head))
	}
	names := [...]string{"of its limit", "governed by", "up and down", "sideways", "shaft ends"}
	for n := range columns[0] {
		row := []string{names[n]}
		for _, column := range columns {
			row = append(row, column[n])
		}
		g.Add(row...)
	}
	return g
}

// offsetsAtX says what the numbers of couplings are.
func (s formatter) offsetsAtX() string {
	return fmt.Sprintf("Offsets in %s, angles in mrad; how the shaft named first sits relative to the other at x, in "+
		"train stations (%s).", s.MoveUnit(), s.LengthUnit())
}

// against names a coupling and its shafts.
func (s formatter) against(i int) string {
	c := &s.Train.Couplings[i]
	return fmt.Sprintf("%s: %s relative to %s", s.Coupling(i), s.Shaft(c.To), s.Shaft(c.From))
}

// planes are the stations that a coupling's numbers speak of.
func (s formatter) planes(c *view.Coupling) string {
	words := ", at x = " + s.Station(c.X)
	if c.Spacer {
		words += fmt.Sprintf(", flex planes at %s and %s", s.Station(c.Flex[0]), s.Station(c.Flex[1]))
	}
	return words
}

// wanted is what a coupling is to show in the running condition, where that is
// not zero.
func (s formatter) wanted(c *view.Coupling) string {
	var text string
	if c.Wanted != (view.Misalignment{}) {
		text += "; wanted when running: " + s.High(c.Wanted.V) + ", " + s.Aside(c.Wanted.H)
	}
	if n := s.Length(c.WantedGap); n != "" {
		text += "; shaft ends wanted when running: " + words.With(n, s.LengthUnit()) + " apart"
	}
	return text
}

// state is one coupling in one condition, line by line.
func (s formatter) state(r *view.Reading) []string {
	if r.Sum > 0 {
		return append([]string{words.Share(r.Sum), view.AddedUp + "\n" + shares(r)}, s.position(r)...)
	}
	w := view.WorstUse(r)
	value := s.Offset(view.Amount(w)) + " of " + s.Offset(w.Limit) + words.Number(" "+s.MoveUnit())
	switch {
	case w.Kind == view.Gap:
		value = s.Length(view.Amount(w)) + " of " + s.Length(w.Limit) + words.Number(" "+s.LengthUnit())
	case w.Kind.Angular():
		value = s.Angle(view.Amount(w)) + " of " + s.Angle(w.Limit) + " mrad"
	}
	return append([]string{words.Share(w.Share), w.Kind.String() + "\n" + string(value)}, s.position(r)...)
}

// shares are what a coupling uses of each of its limits.
func shares(r *view.Reading) string { return words.And(eachShare(r)) }

// eachShare is what a coupling uses of each of its limits, so rounded that they come to what they are added up.
func eachShare(r *view.Reading) []string {
	counted := view.Counted(r)
	var parts []float64
	for _, n := range counted {
		parts = append(parts, r.Uses[n].Share)
	}
	rounded := words.PercentParts(parts, r.Added())
	var out []string
	for n, u := range r.Uses {
		share := words.Percent(u.Share)
		if at := slices.Index(counted, n); at >= 0 {
			share = rounded[at]
		}
		out = append(out, u.Kind.String()+" "+share)
	}
	return out
}

// together says of couplings that they use more than 100 % of their limits, added up.
func (s formatter) together(all []view.TogetherShare) []string {
	var out []string
	for _, t := range all {
		out = append(out, fmt.Sprintf("%s, %s: %s of their limits, %s at one time. Its maker must confirm that it bears "+
			"them together; where they share one capacity, combined = \"sum\" keeps them within 100 %%.",
			s.Coupling(t.Coupling), s.Condition(t.Condition), shares(&t.Reading), words.Percent(t.Reading.Added())))
	}
	return out
}

// togetherShort is the same of all couplings in one line.
func (s formatter) togetherShort(all []view.TogetherShare) []string {
	var each []string
	for _, t := range all {
		each = append(each, fmt.Sprintf("%s at %s", s.Coupling(t.Coupling), words.Percent(t.Reading.Added())))
	}
	if each == nil {
		return nil
	}
	return []string{"limits added up: " + words.And(each) + ": makers must confirm that"}
}

// position is how a coupling's shafts sit relative to each other.
func (s formatter) position(r *view.Reading) []string {
	out := []string{s.High(r.V), s.Aside(r.H)}
	if n := s.Length(r.Gap); n != "" {
		out = append(out, words.With(n, s.LengthUnit())+" apart")
	}
	return out
}
