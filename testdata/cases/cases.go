// Package cases says how many of their cases tests go through.
package cases

import "os"

// Everything says whether tests are to go through all their cases, as before a change
// lands, and not only through the hardest or the first.
func Everything() bool { return os.Getenv("LEASTMOVE_TESTS") == "all" }

// Draws is how many of the cases that could be drawn a test goes through.
func Draws(few, all int) int {
	if Everything() {
		return all
	}
	return few
}
