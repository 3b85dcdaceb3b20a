package htmlpage

import (
	"fmt"
	"html/template"
	"strings"

	"leastmove/cmd/internal/chart"
	"leastmove/cmd/internal/report"
	"leastmove/cmd/internal/words"
	"leastmove/optimize"
)

// pageOf puts the page together, in the order in which it is read.
func pageOf(study *report.Study, layout report.Page, file File) (*page, error) {
	plan, said := study.Plan, study.Parts(layout)
	mark := report.Marks(plan, layout)
	state := status(plan)
	if mark != "" {
		state += "; " + mark
	}
	number, err := report.PlanNumber(plan, layout)
	if err != nil {
		return nil, err
	}
	out := &page{
		Title: said.Title, Kind: "alignment plan", Style: template.CSS(pageStyle), Program: file.Program,
		Fields: []field{{"plan " + number, state, false}, {"units", report.UnitWords(plan), false}, {"train file", file.Name, true}},
	}
	b := builder{plan: plan, mark: mark}
	b.add(part{ID: "answer", Heading: "The answer", Sections: some(said.Answer), Cautioned: true}, b.drawn("moves"))
	b.add(part{ID: "first", Heading: "First", Sections: some(said.Soft)}, nil)
	b.add(part{ID: "clash", Heading: "Why there is no plan", Sections: some(said.Clash, said.Reliefs)}, nil)
	b.add(part{ID: "train", Heading: trainHeading(plan), Lead: []string{trainLead}}, b.drawn("elevation", "plan"))
	b.add(part{ID: "moves", Heading: "Moves, foot by foot", Sections: some(said.Moves)}, nil)
	b.add(part{ID: "couplings", Heading: "Couplings", Sections: some(said.Couplings, said.Drivers, said.Rest, said.Stance)}, b.drawn("couplings"))
	b.add(part{ID: "holes", Heading: "Bolts in their holes, and what is left", Sections: some(said.Reserve)}, b.drawn("holes"))
	b.add(part{ID: "packs", Heading: "Packs, piece by piece", Sections: some(said.Packs)}, nil)
	b.add(part{ID: "limits", Heading: "What limits the plan, and what relief would bring", Sections: some(said.Ends, said.Worth, said.Prices, said.Account)}, nil)
	b.add(part{ID: "ways", Heading: "Strategies and the trade-off", Sections: some(said.Ways, said.Obstacles, said.Omitted)}, nil)
	if c := study.Comparison; c != nil && c.Trade != nil {
		b.add(part{ID: "trade", Heading: "Closeness against movement", Sections: some(said.Trade)}, b.trade(c.Trade))
	}
	b.add(part{ID: "readings", Heading: "Readings and their checks", Lead: unless(either(said.Readings, said.Survey), noReadings), Sections: some(said.Readings, said.Survey)}, nil)
	b.add(part{ID: "growth", Heading: "From cold to running", Sections: some(said.Growth)}, nil)
	b.add(part{ID: "errors", Heading: "How sure it is", Lead: unless(said.Sure, noErrors), Sections: some(said.Sure)}, nil)
	b.add(part{ID: "open", Heading: "What was not stated, and what is doubtful", Lead: unless(either(said.Unstated, said.Doubts), noneOpen), Sections: some(said.Unstated, said.Doubts)}, nil)
	b.add(part{ID: "cautions", Heading: "Cautions", Lead: cautions()}, nil)
	main := b.parts
	b.parts = nil
	b.add(part{ID: "equations", Heading: "The model as equations", Static: "equations", Divide: "Appendix: to check every number"}, nil)
	b.add(part{ID: "inputs", Heading: "Inputs", Sections: some(said.Inputs)}, nil)
	b.add(part{ID: "signed", Heading: "Moves with signs", Sections: some(said.Feet)}, nil)
	b.add(part{ID: "sums", Heading: "Every misalignment as a sum", Sections: some(said.Sums)}, nil)
	b.add(part{ID: "proof", Heading: "What was proven", Sections: some(said.Proof)}, nil)
	b.add(fileText(file), nil)
	out.Parts = numbered(main, b.parts)
	return out, b.err
}

// A builder gathers parts; one that has nothing to say is left out.
type builder struct {
	plan  *optimize.Plan
	mark  string // beside the heading of every part that depends on it
	parts []part
	err   error
}

func (b *builder) add(p part, figures []figure) {
	p.Figures = figures
	if b.mark != "" && p.ID != "cautions" && p.ID != "first" && p.Static == "" {
		p.Mark = b.mark
	}
	if len(p.Figures)+len(p.Sections)+len(p.Lines) == 0 && p.Static == "" && (p.Lead == nil || p.ID == "train") {
		return
	}
	b.parts = append(b.parts, p)
}

// drawn are figures by their names, as far as there is something to draw.
func (b *builder) drawn(names ...string) []figure {
	var out []figure
	for _, name := range names {
		out = append(out, b.figures(name, chart.Of(name, b.plan))...)
	}
	return out
}

// figures are drawings under names that begin alike.
func (b *builder) figures(name string, all []chart.Drawing) []figure {
	var out []figure
	for n, d := range all {
		f, err := figureOf(fmt.Sprintf("%s-%d", name, n+1), d)
		if err != nil {
			b.err = err
			return nil
		}
		out = append(out, f)
	}
	return out
}

func (b *builder) trade(trade *optimize.ParetoFront) []figure {
	if len(trade.Points) == 0 {
		return nil
	}
	d, err := chart.Trade(b.plan.Train, trade, nil)
	if err != nil {
		b.err = err
		return nil
	}
	return b.figures("tradeoff", []chart.Drawing{d})
}

// some are those that say something.
func some(all ...*report.Section) []section {
	var out []section
	for _, s := range all {
		if s != nil {
			out = append(out, section{*s, s.Heading != ""})
		}
	}
	if len(out) == 1 {
		out[0].Heading, out[0].Lower = "", false
	}
	return out
}

func either(a, b *report.Section) *report.Section {
	if a != nil {
		return a
	}
	return b
}

func unless(s *report.Section, words string) []string {
	if s != nil {
		return nil
	}
	return []string{words}
}

func status(p *optimize.Plan) string {
	switch p.Status {
	case optimize.Planned:
		return "planned"
	case optimize.Within:
		return "within limits: nothing to move"
	case optimize.Impossible:
		return "impossible: proven"
	}
	return "undecided"
}

func trainHeading(p *optimize.Plan) string {
	if p.Status == optimize.Planned {
		return "The train before and after"
	}
	return "The train as found"
}

const (
	drawnTo    = "Stations are to scale. Misalignment is drawn much larger than that, by the scale at the foot of each figure; heights and distances between shafts are not to scale."
	trainLead  = drawnTo + " Both states are those of the running condition, with growth in them."
	noReadings = "No coupling has readings: what was found was given as offsets and angles."
	noErrors   = "The file does not state how good the readings and the growth are ([errors]), so how likely the couplings are to end within their limits was not worked out."
	noneOpen   = "The file leaves nothing open that a plan depends on, and nothing in it is doubtful."
)

// cautions are those that stand on every page.
func cautions() []string {
	return []string{
		"Lock out and tag out every source of energy of every machine of the train before a guard comes off: drivers, turning gear, steam, gas and process pressure, springs and raised loads. Try that it is so.",
		"Let hot parts cool and pressure go. What is in the pipes may be hot, poisonous or under pressure long after the train has stopped.",
		"Before shafts are turned: lube or jacking oil on as the maker says, everybody clear and counted, one gives the word; no dial at a foot, no bar or spanner in the way; brackets tight. Turning gear stays locked out unless site rules say otherwise.",
		"Lift with jacks and slings that are made for the weight, at the places that the maker names, and no further than the shims need. Keep hands out from under feet.",
		"Tighten bolts to the torque and in the order that the maker states. Watch a dial at the coupling as each is tightened.",
		"Watch pipes, guards and cables as a machine moves: what holds it may strain.",
		"Read every coupling again after the moves, before the train is let go.",
		"The rules of the site, the manuals of the makers and whoever is licensed for the work come before this page.",
	}
}

// mostText is the most of a train file that is printed.
const mostText = 300 << 10 // bytes

// fileText is the train file, line by line.
func fileText(file File) part {
	p := part{ID: "file", Heading: "The train file", Static: "file", Lead: []string{
		file.Program + " read it. The SHA-256 of the file is " + file.Sum + ".",
	}}
	if len(file.Text) > mostText {
		p.Lead = append(p.Lead, fmt.Sprintf("The file is left out here: it is larger than %d KiB.", mostText>>10))
		p.Static = ""
		return p
	}
	text := strings.TrimRight(strings.ReplaceAll(string(file.Text), "\r\n", "\n"), "\n")
	for _, line := range strings.Split(text, "\n") {
		p.Lines = append(p.Lines, words.Clean(strings.ReplaceAll(line, "\t", "    ")))
	}
	return p
}
