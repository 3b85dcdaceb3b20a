package trains

import "leastmove/testdata/cases"

// Everything is that of package cases, which tests inside the packages that this one imports use.
func Everything() bool { return cases.Everything() }

// Draws is that of package cases.
func Draws(few, all int) int { return cases.Draws(few, all) }
