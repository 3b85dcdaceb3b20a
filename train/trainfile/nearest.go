package trainfile

import "strings"

// nearest is the word that a user most likely meant, "" if none is near: one
// that differs in case alone, or in at most a third of its letters.
func (r *reader) nearest(word string, words []string) string {
	if r.guesses++; r.guesses > mostGuesses {
		return ""
	}
	best, least := "", len(word)
	for _, w := range words {
		if strings.EqualFold(w, word) {
			return w
		}
		most := max(1, min(len(w), len(word))/3)
		if d := len(w) - len(word); d > most || -d > most {
			continue
		}
		if d := distance(strings.ToLower(word), strings.ToLower(w)); d <= most && d < least {
			best, least = w, d
		}
	}
	return best
}

// distance is the number of letters to insert, drop, replace or swap with
// their neighbour to get from one word to the other (the optimal string
// alignment distance).
func distance(from, to string) int {
	a, b := []rune(from), []rune(to)
	before, last, row := make([]int, len(b)+1), make([]int, len(b)+1), make([]int, len(b)+1)
	for j := range last {
		last[j] = j
	}
	for i := range a {
		row[0] = i + 1
		for j := range b {
			cost := 1
			if a[i] == b[j] {
				cost = 0
			}
			row[j+1] = min(last[j]+cost, last[j+1]+1, row[j]+1)
			if i > 0 && j > 0 && a[i] == b[j-1] && a[i-1] == b[j] {
				row[j+1] = min(row[j+1], before[j-1]+1)
			}
		}
		before, last, row = last, row, before
	}
	return last[len(b)]
}
