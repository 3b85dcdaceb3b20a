package tree

import (
	"slices"
	"strings"
)

// An edit puts words in the place of a stretch of a text.
type edit struct {
	at    Span // in the text as it was
	words string
}

// edits are several, in the order of the text, none in another.
type edits []edit

// apply is the text after the edits.
func (e edits) apply(text string) string {
	if len(e) == 0 {
		return text
	}
	var b strings.Builder
	from := 0
	for _, one := range e {
		b.WriteString(text[from:one.at.Start])
		b.WriteString(one.words)
		from = one.at.End
	}
	b.WriteString(text[from:])
	return b.String()
}

// back is where in the text as it was a byte of the edited one stands: of words that were put in, where
// what they stand for begins.
func (e edits) back(offset int) int {
	longer := 0 // edited text less the text as it was, in bytes up to here
	for _, one := range e {
		start := one.at.Start + longer
		if offset < start {
			break
		}
		if offset < start+len(one.words) {
			return one.at.Start
		}
		longer += len(one.words) - (one.at.End - one.at.Start)
	}
	return offset - longer
}

// and are the edits with one more, which takes the place of those within it; the place is in the edited text.
func (e edits) and(at Span, words string) edits {
	end := e.back(at.End)
	one := edit{Span{e.back(at.Start), end}, words}
	out := edits{}
	for _, before := range e {
		if before.at.End <= one.at.Start || before.at.Start >= one.at.End && before.at.Start > one.at.Start {
			out = append(out, before)
			continue
		}
		one.at.Start, one.at.End = min(one.at.Start, before.at.Start), max(one.at.End, before.at.End)
	}
	out = append(out, one)
	slices.SortStableFunc(out, func(a, b edit) int { return a.at.Start - b.at.Start })
	return out
}
