package tree

import (
	"slices"
	"strings"
)

// An Edit puts words in the place of a stretch of a text.
type Edit struct {
	At    Span // in the text as it was
	Words string
}

// Edits are several, in the order of the text. Of one that begins within another only the words are put in.
type Edits []Edit

// Apply is the text after the edits.
func (e Edits) Apply(text string) string {
	if len(e) == 0 {
		return text
	}
	var b strings.Builder
	from := 0
	for _, one := range e {
		b.WriteString(text[from:max(from, one.At.Start)])
		b.WriteString(one.Words)
		from = max(from, one.At.End)
	}
	b.WriteString(text[from:])
	return b.String()
}

// back is where in the text as it was a byte of the edited one stands: of words that were put in, where
// what they stand for begins.
func (e Edits) back(offset int) int {
	longer := 0 // edited text less the text as it was, in bytes up to here
	for _, one := range e {
		start := one.At.Start + longer
		if offset < start {
			break
		}
		if offset < start+len(one.Words) {
			return one.At.Start
		}
		longer += len(one.Words) - (one.At.End - one.At.Start)
	}
	return offset - longer
}

// and are the edits with one more, which takes the place of those within it; the place is in the edited text.
func (e Edits) and(at Span, words string) Edits {
	end := e.back(at.End)
	one := Edit{Span{e.back(at.Start), end}, words}
	out := Edits{}
	for _, before := range e {
		if before.At.End <= one.At.Start || before.At.Start >= one.At.End && before.At.Start > one.At.Start {
			out = append(out, before)
			continue
		}
		one.At.Start, one.At.End = min(one.At.Start, before.At.Start), max(one.At.End, before.At.End)
	}
	out = append(out, one)
	slices.SortStableFunc(out, func(a, b Edit) int { return a.At.Start - b.At.Start })
	return out
}
