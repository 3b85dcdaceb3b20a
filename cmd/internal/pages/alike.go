package pages

import (
	"strings"

	"leastmove/cmd/internal/words"
)

// An alike is what is said of things by name, once of all of which the same is to be said.
type alike struct {
	words []string // each with %s for the names
	names [][]string
}

// of says words of a name, which stands in place of their %s.
func (a *alike) of(name, words string) {
	for n := range a.words {
		if a.words[n] == words {
			a.names[n] = append(a.names[n], name)
			return
		}
	}
	a.words, a.names = append(a.words, words), append(a.names, []string{name})
}

// all are the sentences, in the order in which each was first said.
func (a *alike) all() []string {
	var out []string
	for n, said := range a.words {
		out = append(out, strings.Replace(said, "%s", words.And(a.names[n]), 1))
	}
	return out
}
