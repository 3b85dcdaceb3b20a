package view

import "leastmove/optimize/bnb"

// Progress is how far a search is: what is best so far and what is proven, mm of movement or a
// share of a limit.
type Progress = bnb.Progress
