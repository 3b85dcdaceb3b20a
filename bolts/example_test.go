package bolts_test

import (
	"fmt"

	"leastmove/bolts"
)

// A pack of three shims is to come down by 0.4 mm: one is changed for two thinner ones,
// and 2 + 0.25 + 0.2 + 0.1 is 0.4 less than 2 + 0.7 + 0.25.
func ExampleShimStock_Change() {
	shims := bolts.NewShimStock(bolts.UsualStock(false), bolts.UsualPieces)
	change, ok := shims.Change([]float64{2, 0.7, 0.25}, -0.4)
	fmt.Println(ok, change.Out, change.In)
	// Output:
	// true [0.7] [0.2 0.1]
}

// The hole that ISO 273 gives for a bolt of 24 mm in its medium series.
func ExampleClearanceHole() {
	hole, ok := bolts.ClearanceHole(24, "medium", false)
	fmt.Println(hole, ok)
	// Output:
	// 26 true
}
