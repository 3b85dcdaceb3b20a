package cli

import (
	"io"

	"leastmove/cmd/internal/pages"
	"leastmove/cmd/internal/planjson"
	"leastmove/cmd/internal/view"
)

// These write documents for programs, with the sentences that pages say.

func planJSON(w io.Writer, p *view.Plan, layout pages.Page) error {
	return planjson.WritePlan(w, p, &layout.Input, pages.Texts{})
}

func replayJSON(w io.Writer, r *view.Replayed, layout pages.Page) error {
	return planjson.WriteReplay(w, r, &layout.Input, pages.Texts{})
}

func verifyJSON(w io.Writer, r *view.Verified, layout pages.Page) error {
	return planjson.WriteVerify(w, r, &layout.Input, pages.Texts{})
}

func checkJSON(w io.Writer, c *view.Check, layout pages.Page) error {
	return planjson.WriteCheck(w, c, &layout.Input)
}

func compareJSON(w io.Writer, c *view.Comparison, layout pages.Page) error {
	return planjson.WriteCompare(w, c, &layout.Input)
}

// number gives the page of a plan the number that tells it from others.
func (j *job) number(p *view.Plan) (err error) {
	j.layout.Number, err = planjson.NumberOf(p, &j.layout.Input, pages.Texts{})
	return err
}
