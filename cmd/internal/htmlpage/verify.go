package htmlpage

import (
	"html/template"
	"io"

	"leastmove/cmd/internal/chart"
	"leastmove/cmd/internal/report"
	"leastmove/cmd/internal/verify"
)

// WriteVerified writes the page of what became of the moves. plan is the name of
// the plan's file, file the train file of after the moves.
func WriteVerified(w io.Writer, r *verify.Result, layout report.Page, plan string, file File) error {
	said := report.VerifiedParts(r, layout)
	status := "every coupling within its limits"
	if !r.Met() {
		status = "LIMITS NOT MET"
	}
	out := &page{
		Title: said.Title, Kind: "after the moves", Style: template.CSS(pageStyle), Program: file.Program,
		Fields: []field{{"after the moves", status, false}, {"units", report.UnitWords(r.Remaining), false}, {"plan", plan, true}, {"train file", file.Name, true}},
	}
	var b builder
	b.add(part{ID: "answer", Heading: "The answer", Sections: some(said.Answer)}, nil)
	b.add(part{ID: "suspects", Heading: "Did the moves go as planned?", Sections: some(said.Suspects)}, nil)
	b.add(part{ID: "train", Heading: "The train before and after", Lead: []string{readTwice}}, b.figures("train", chart.VerifiedTrain(r)))
	b.add(part{ID: "couplings", Heading: "Couplings before, planned and after", Sections: some(said.Couplings)}, b.figures("couplings", chart.VerifiedCouplings(r)))
	b.add(part{ID: "off", Heading: "Off the plan, cold and at rest", Sections: some(said.OffPlan)}, nil)
	b.add(part{ID: "went", Heading: "How the machines went", Sections: some(said.Motions)}, nil)
	b.add(part{ID: "differences", Heading: "What to look at in the train file", Sections: some(said.Differences)}, nil)
	b.add(part{ID: "left", Heading: "What is left to do", Sections: some(said.Left)}, nil)
	b.add(part{ID: "doubts", Heading: "What is doubtful in the file", Sections: some(said.Doubted)}, nil)
	if !r.Met() {
		b.add(part{ID: "cautions", Heading: "Cautions", Lead: cautions()}, nil)
		b.parts[0].Cautioned = true
	}
	main := b.parts
	b.parts = nil
	b.add(fileText(file), nil)
	b.parts[0].Divide = "Appendix: what was read"
	out.Parts = numbered(main, b.parts)
	if b.err != nil {
		return b.err
	}
	return out.write(w)
}

const readTwice = drawnTo + " Both states are those of the running condition, with growth in them. Readings do not say how the train went as a whole: each state is drawn about the straight line nearest to it."
