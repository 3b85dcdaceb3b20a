package optimize

import "os"

// everything says whether tests are to go through all their cases, as before a change
// lands, and not only through the hardest or the first.
func everything() bool { return os.Getenv("LEASTMOVE_TESTS") == "all" }

// draws is how many of the cases that could be drawn a test goes through.
func draws(few, all int) int {
	if everything() {
		return all
	}
	return few
}
