package report

import (
	"leastmove/cmd/internal/words"
	"leastmove/optimize"
)

// A Study is a plan and what was looked at beside it.
type Study struct {
	Plan       *optimize.Plan
	Comparison *Comparison // nil: left out
	Omitted    []string    // what was left out, and why, in sentences
}

// Parts are what a study says, section by section; nil where there is nothing to
// say.
type Parts struct {
	Title                              string
	Answer                             *Section // without a heading
	Soft, Moves, Rest                  *Section
	Couplings, Stance                  *Section
	Reserve, Packs                     *Section
	Ends, Worth, Prices                *Section
	Clash, Reliefs                     *Section
	Ways, Obstacles, Trade             *Section
	Omitted                            *Section // without a heading
	Drivers                            *Section // without a heading
	Readings, Survey, Growth, Sure     *Section
	Unstated, Doubts                   *Section
	Account, Feet, Inputs, Sums, Proof *Section // of the appendix
}

// Parts says what a study comes to. Names in it stand between the characters
// Isolate and Resume, so that one that is written from right to left does not
// turn what is beside it.
func (s *Study) Parts(layout Page) Parts {
	p := s.Plan
	t := &planText{formatter: formatterFor(p), plan: p}
	t.Isolated = true
	t.given = givenBy(layout)
	said := func(say ...func()) *Section {
		t.page = page{}
		for _, do := range say {
			do()
		}
		return sectioned(t.said)
	}
	out := Parts{Title: t.formatter.Title()}
	out.Answer = said(func() { t.asked(layout) }, func() { t.dependsOn(layout) }, t.answer, t.inShort, t.byStrategy, t.assured)
	out.Soft = said(t.soft)
	heading := "Couplings as found"
	after := p.Planned.Couplings
	switch p.Status {
	case optimize.Planned:
		heading = "Couplings before and after"
		out.Moves, out.Packs, out.Rest = said(t.moves), said(t.packs), said(t.rest)
		out.Drivers = said(t.drivers)
		out.Stance, out.Ends, out.Reserve = said(t.stance), said(t.ends), said(t.reserve)
		out.Worth, out.Prices, out.Account = said(t.worth), said(t.prices), said(t.account)
	case optimize.Impossible:
		out.Clash, out.Reliefs = said(func() { t.clash(layout) }), said(func() { t.reliefs(layout) })
	}
	if p.Status != optimize.Planned {
		after = nil
	}
	out.Couplings = said(func() { t.couplings(heading, p.Found.Couplings, after) })
	out.Sure = said(t.sure)
	out.Unstated, out.Doubts = said(t.unstated), said(func() { t.doubts(layout) })
	out.Readings = said(func() { t.readings(t.formatter) })
	out.Survey = said(func() { t.survey(t.formatter) })
	out.Growth = said(t.growth)
	out.Feet, out.Inputs, out.Sums, out.Proof = said(t.feetSigned), said(t.inputs), said(t.sums), said(t.proof)
	if c := s.Comparison; c != nil && len(c.Ways) > 0 {
		out.Ways = said(func() { t.ways(t.formatter, c) })
		out.Obstacles = said(func() { t.obstacles(t.formatter, c) })
	}
	if c := s.Comparison; c != nil && c.Trade != nil {
		out.Trade = said(func() { t.trade(t.formatter, c.Trade) })
	}
	out.Omitted = said(func() { t.list(s.Omitted) })
	return out
}

// Marks is what a whole page depends on, in words; "": nothing.
func Marks(p *optimize.Plan, layout Page) string { return marks(p, layout) }

// UnitWords are the units of a page.
func UnitWords(p *optimize.Plan) string {
	n := words.NumbersOf(p.Train)
	return "lengths in " + n.LengthUnit() + ", moves in " + n.MoveUnit() + ", angles in mrad"
}
