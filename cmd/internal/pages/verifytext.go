package pages

import (
	"io"
	"slices"

	"leastmove/cmd/internal/doc"
	"leastmove/cmd/internal/view"
)

// VerifyText writes what became of the moves, for the crew.
func VerifyText(w io.Writer, r *view.Verified, layout Page) error {
	v := verifiedOf(r)
	v.width = layout.width()
	v.Doc.Title = v.Title()
	v.Space()
	v.answer()
	v.remaining()
	v.suspects()
	v.triple()
	v.offPlan()
	v.motions()
	v.differ()
	v.warnings(layout)
	if !r.Met() {
		v.cautions("; turn shafts by hand only once nothing can start them")
	}
	return v.Doc.Text(w, v.width)
}

// VerifyDoc is the page of what became of the moves, in the order in which it is read.
// Plan is the name of the plan's file, file the train file of after the moves.
func VerifyDoc(r *view.Verified, layout Page, plan string, file File, figures Figures) (*doc.Doc, error) {
	v := verifiedOf(r)
	v.Isolated = true
	train, err := figures("train")
	if err != nil {
		return nil, err
	}
	couplings, err := figures("couplings")
	if err != nil {
		return nil, err
	}
	went, err := figures("went")
	if err != nil {
		return nil, err
	}
	views := blocksOf(train)
	if views != nil {
		views = append(lead(drawnTo+bothRunning+readTwice), views...)
	}
	met, caution := "every coupling within its limits", []doc.Block(nil)
	switch {
	case !r.Met():
		met, caution = "LIMITS NOT MET", cautionsPart()
	case r.ReadAgain() != nil:
		met = "to be read again first"
	}
	title := v.Title()
	return &doc.Doc{
		Title: title, Name: title + ": after the moves", Numbered: true, Foot: file.foot(),
		Running: title + ", after the moves",
		Facts: []doc.Fact{
			{Name: "after the moves", Value: met}, {Name: "units", Value: v.unitWords()},
			{Name: "plan", Value: plan, IsName: true}, {Name: "train file", Value: file.Name, IsName: true},
		},
		Blocks: slices.Concat(
			part("answer", "The answer", "", v.said(v.answer), toCautions()),
			part("left", "What to do now", "", v.said(v.remaining)),
			part("went", "How the machines went", "", blocksOf(went), v.said(v.motions)),
			[]doc.Block{doc.Contents{}},
			part("suspects", "Did the moves go as planned?", "", v.said(v.suspects)),
			part("train", "The train before and after", "", views),
			part("couplings", "Couplings before, planned and after", "", blocksOf(couplings), v.said(v.triple)),
			part("off", "Off the plan, cold and at rest", "", v.said(v.offPlan)),
			part("differences", "What to look at in the train file", "", v.said(v.differ)),
			part("doubts", "Check these inputs", "", v.said(func() { v.warnings(layout) })),
			caution,
			[]doc.Block{doc.Appendix{Words: "Appendix: what was read"}},
			file.part(),
		),
	}, nil
}

const readTwice = " Readings do not say how the train went as a whole: each state is drawn about the straight " +
	"line nearest to it."
