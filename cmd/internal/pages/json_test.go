package pages

import (
	"io"

	"leastmove/cmd/internal/planjson"
	"leastmove/cmd/internal/view"
)

// Documents for programs, as the commands write them.

func planJSON(w io.Writer, p *view.Plan, layout Page) error {
	return planjson.WritePlan(w, p, &layout.Input, Texts{})
}

func replayJSON(w io.Writer, r *view.Replayed, layout Page) error {
	return planjson.WriteReplay(w, r, &layout.Input, Texts{})
}

func verifyJSON(w io.Writer, r *view.Verified, layout Page) error {
	return planjson.WriteVerify(w, r, &layout.Input, Texts{})
}

func checkJSON(w io.Writer, c *view.Check, layout Page) error {
	return planjson.WriteCheck(w, c, &layout.Input)
}

func compareJSON(w io.Writer, c *view.Comparison, layout Page) error {
	return planjson.WriteCompare(w, c, &layout.Input)
}
