package report

import (
	"io"

	"leastmove/cmd/internal/verify"
)

// VerifyText writes what became of the moves, for the crew.
func VerifyText(w io.Writer, r *verify.Result, layout Page) error {
	v := &verified{page: page{width: layout.width()}, formatter: formatterOf(r.Train), r: r}
	v.paragraph("", v.Title())
	v.blank()
	v.answer()
	v.suspects()
	v.triple()
	v.offPlan()
	v.motions()
	v.differ()
	v.remaining()
	v.doubts(layout)
	if !r.Met() {
		v.cautions("; turn shafts by hand only once nothing can start them")
	}
	_, err := v.WriteTo(w)
	return err
}

// Verified is what became of the moves, section by section; nil where there is
// nothing to say.
type Verified struct {
	Title                      string
	Answer                     *Section // without a heading
	Suspects, Couplings        *Section
	OffPlan, Motions           *Section
	Differences, Left, Doubted *Section
}

// VerifiedParts says what became of the moves; names stand between Isolate and
// Resume.
func VerifiedParts(r *verify.Result, layout Page) Verified {
	v := &verified{formatter: formatterOf(r.Train), r: r}
	v.Isolated = true
	said := func(say func()) *Section {
		v.page = page{}
		say()
		return sectioned(v.said)
	}
	return Verified{
		Title: v.Title(), Answer: said(v.answer), Suspects: said(v.suspects), Couplings: said(v.triple),
		OffPlan: said(v.offPlan), Motions: said(v.motions), Differences: said(v.differ), Left: said(v.remaining),
		Doubted: said(func() { v.doubts(layout) }),
	}
}
