package trainfile

import (
	"strings"

	"leastmove/train/spelling"
)

// nearest is the same as the function, of so many words of one file at most.
func (r *reader) nearest(word string, words []string) string {
	if r.guesses++; r.guesses > mostGuesses {
		return ""
	}
	return nearest(word, words)
}

// nearest is the word that a user most likely meant, "" if none is near: one
// that differs in case alone, or in at most a third of its letters.
func nearest(word string, words []string) string {
	best, least := "", len(word)
	for _, w := range words {
		if strings.EqualFold(w, word) {
			return w
		}
		most := max(1, min(len(w), len(word))/3)
		if d := len(w) - len(word); d > most || -d > most {
			continue
		}
		if d := spelling.Distance(strings.ToLower(word), strings.ToLower(w)); d <= most && d < least {
			best, least = w, d
		}
	}
	return best
}
