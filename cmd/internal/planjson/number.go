package planjson

import "leastmove/cmd/internal/words"

// A Number is one that was printed, in the unit that its tag names: "" where there is
// none.
type Number = words.Number
