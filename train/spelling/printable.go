package spelling

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// Joins says whether a character only says how the letters beside it are joined, as some
// scripts need.
func Joins(c rune) bool { return c == '\u200c' || c == '\u200d' }

// Prints says whether a character may go to a terminal or a page as it is.
func Prints(c rune) bool { return unicode.IsPrint(c) || Joins(c) }

// Shown is what a character from outside is shown as: white space as a blank, and what could
// garble a terminal or make two texts that differ look the same as U+FFFD.
func Shown(c rune) rune {
	switch {
	case Prints(c):
		return c
	case unicode.IsSpace(c):
		return ' '
	}
	return utf8.RuneError
}

// Printable is a text from outside, such as a name in a train file or of a file, as it may go to
// a terminal or a page: on one line, a character for each of its characters.
func Printable(s string) string { return strings.Map(Shown, s) }
