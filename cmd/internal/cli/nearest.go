package cli

import (
	"fmt"
	"strings"
)

// unknown adds the nearest of some names to the word on one that is not among
// them.
func unknown(err error, name string, names []string) error {
	if near := nearest(name, names); near != "" {
		return fmt.Errorf("%w\n  did you mean %s?", err, near)
	}
	return err
}

// noneOf is the word on a flag's value that is none of some names, which stand in a list.
func noneOf(flag, value string, names []string, list string) error {
	return unknown(fmt.Errorf("--%s is %q: there are %s", flag, value, list), value, names)
}

// nearest is the name that differs least from a word, by at most a third of
// its letters or two; "" where none is near.
func nearest(word string, names []string) string {
	if word == "" {
		return ""
	}
	best, least := "", max(2, len(word)/3)+1
	for _, name := range names {
		d := changes(strings.ToLower(word), name)
		if strings.HasPrefix(name, strings.ToLower(word)) {
			d = min(d, 1)
		}
		if d < least {
			best, least = name, d
		}
	}
	return best
}

// changes is the number of bytes to insert, drop or replace to get from one
// word to another (Levenshtein's distance).
func changes(from, to string) int {
	row := make([]int, len(to)+1)
	for j := range row {
		row[j] = j
	}
	for i := range len(from) {
		diagonal := row[0]
		row[0] = i + 1
		for j := range len(to) {
			d := diagonal
			if from[i] != to[j] {
				d++
			}
			diagonal = row[j+1]
			row[j+1] = min(d, row[j]+1, diagonal+1)
		}
	}
	return row[len(to)]
}
