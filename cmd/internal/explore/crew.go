package explore

// A crew is the work that a desk follows.
type crew struct{}
