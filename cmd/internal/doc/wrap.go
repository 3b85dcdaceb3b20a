package doc

import (
	"strings"

	"github.com/jedib0t/go-pretty/v6/text"
)

// Wrap breaks words into lines of at most so many columns, at blanks where
// there are any.
func Wrap(words string, width int) []string {
	var lines []string
	line, used := "", 0
	end := func() { lines, line, used = append(lines, line), "", 0 }
	for _, word := range tied(strings.Fields(words)) {
		if used > 0 {
			if used+1+columns(word) <= width {
				line, used = line+" "+word, used+1+columns(word)
				continue
			}
			end()
		}
		for _, c := range word {
			if w := columns(string(c)); used > 0 && used+w > width {
				end()
			}
			line += string(c)
			used += columns(string(c))
		}
	}
	if line != "" || lines == nil {
		end()
	}
	return lines
}

// tied are words, a number and its unit as one.
func tied(words []string) []string {
	var out []string
	for _, word := range words {
		n := len(out)
		switch strings.Trim(word, "(),.;:") {
		case "%", "mm", "mil", "mrad", "inch":
			if n > 0 && strings.ContainsAny(out[n-1][len(out[n-1])-1:], "0123456789") {
				out[n-1] += " " + word
				continue
			}
		}
		out = append(out, word)
	}
	return out
}

// columns is how many columns of a terminal a text needs.
func columns(s string) int { return text.StringWidthWithoutEscSequences(s) }
