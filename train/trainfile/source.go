package trainfile

import (
	"sort"
	"strings"
	"unicode/utf8"

	"leastmove/train/trainfile/tree"
)

// A source is the text of a file and where its lines start.
type source struct {
	name  string
	text  string
	lines []int // byte offset of each line
	// The byte last asked for and its column, so that a long line is not
	// counted anew for each of its faults.
	last, column int
}

func newSource(name, text string) *source {
	s := &source{name: name, text: text, lines: []int{0}, column: 1}
	for i := 0; i < len(text); i++ {
		if text[i] == '\n' {
			s.lines = append(s.lines, i+1)
		}
	}
	return s
}

// line is the number, from 1, of the line that the byte is on.
func (s *source) line(offset int) int {
	return sort.SearchInts(s.lines, offset+1)
}

// of is the text of a span as the user typed it.
func (s *source) of(p tree.Span) string { return s.text[p.Start:p.End] }

// fault is a fault about a span. A span of several lines is cut to its first.
func (s *source) fault(p tree.Span, severity Severity, message, hint string) Fault {
	p.Start = min(max(p.Start, 0), len(s.text))
	for p.Start > 0 && p.Start < len(s.text) && !utf8.RuneStart(s.text[p.Start]) {
		p.Start-- // a parser that counts bytes may name one inside a letter
	}
	p.End = min(max(p.End, p.Start), len(s.text))
	number := s.line(p.Start)
	start := s.lines[number-1]
	end := len(s.text)
	if number < len(s.lines) {
		end = s.lines[number] - 1
	}
	text := strings.TrimSuffix(s.text[start:end], "\r")
	end = start + len(text)
	at := min(p.Start, end)
	if s.last < start || s.last > at {
		s.last, s.column = start, 1
	}
	s.column += utf8.RuneCountInString(s.text[s.last:at])
	s.last = at
	return Fault{
		File: s.name, Line: number, Column: s.column,
		Width:    max(1, utf8.RuneCountInString(s.text[at:max(at, min(p.End, end))])),
		Severity: severity, Message: message, Hint: hint, Source: text, offset: p.Start, at: at - start,
	}
}
