package cli

import (
	"fmt"
	"strings"

	"leastmove/train/spelling"
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
		d := spelling.Distance(strings.ToLower(word), name)
		if strings.HasPrefix(name, strings.ToLower(word)) {
			d = min(d, 1)
		}
		if d < least {
			best, least = name, d
		}
	}
	return best
}
