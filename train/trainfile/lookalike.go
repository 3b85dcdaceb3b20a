package trainfile

import (
	"fmt"
	"strings"
	"unicode"

	"leastmove/train/spelling"

	"leastmove/train/trainfile/tree"
)

// latin are letters of the Cyrillic and Greek scripts that look like Latin ones, and these.
var latin = strings.NewReplacer(
	"а", "a", "е", "e", "о", "o", "р", "p", "с", "c", "у", "y", "х", "x", "і", "i", "ј", "j", "ѕ", "s", "һ", "h", "ԁ", "d",
	"А", "A", "В", "B", "Е", "E", "К", "K", "М", "M", "Н", "H", "О", "O", "Р", "P", "С", "C", "Т", "T", "У", "Y", "Х", "X",
	"І", "I", "Ј", "J", "Ѕ", "S",
	"Α", "A", "Β", "B", "Ε", "E", "Ζ", "Z", "Η", "H", "Ι", "I", "Κ", "K", "Μ", "M", "Ν", "N", "Ο", "O", "Ρ", "P", "Τ", "T",
	"Υ", "Y", "Χ", "X", "ο", "o", "ν", "v",
)

// mixed is the first letter of a word that has Latin letters too and looks like one of them, with its script.
func mixed(name string) (letter rune, script string, is bool) {
	for _, word := range strings.FieldsFunc(name, func(c rune) bool { return !unicode.IsLetter(c) }) {
		if !strings.ContainsFunc(word, func(c rune) bool { return unicode.Is(unicode.Latin, c) }) {
			continue
		}
		for _, c := range word {
			switch {
			case latin.Replace(string(c)) == string(c):
			case unicode.Is(unicode.Cyrillic, c):
				return c, "Cyrillic", true
			default:
				return c, "Greek", true
			}
		}
	}
	return 0, "", false
}

// warnLetters warns of a name that mixes scripts, and of one that looks like a name before it.
func (r *reader) warnLetters(seen map[string]tree.Span, at tree.Span, what, name string) {
	if c, script, is := mixed(name); is {
		r.warn(at, fmt.Sprintf("%s %s mixes scripts: its %q is a %s letter that looks like a Latin one", what,
			spelling.Quote(name), c, script),
			"names are compared letter by letter: write it with the letters of one script")
	}
	shape := "\x00" + latin.Replace(name) // no name has such a character
	if first, there := seen[shape]; there {
		r.warn(at, fmt.Sprintf("%s %s looks like the one on line %d, in letters of another script", what,
			spelling.Quote(name), r.line(first.Start)),
			"give the two names that can be told apart on paper")
		return
	}
	seen[shape] = at
}
