package planjson

import (
	"fmt"
	"strings"
	"unicode/utf8"
)

// A Fault is what is wrong in a plan.
type Fault struct {
	Line, Column int    // from 1; the column counts characters
	Message      string // one line, with the value and what is allowed
	Hint         string // one line on what to do; may be empty
}

// A Report is all that is wrong in a plan, in the order in which it was found.
type Report []Fault

// mostFaults bounds the faults that are told of one file.
const mostFaults = 100

// Text is every fault, as it is told of a file of that name.
func (r Report) Text(name string) string {
	var b strings.Builder
	for _, f := range r {
		fmt.Fprintf(&b, "%s:%d:%d: error: %s\n", name, f.Line, f.Column, f.Message)
		if f.Hint != "" {
			fmt.Fprintf(&b, "  = %s\n", f.Hint)
		}
	}
	return b.String()
}

// A Place is where a part of a plan stands in the text that it was read from.
type Place struct {
	text string
	at   *node
}

// Fault is what is wrong with that part.
func (p Place) Fault(message, hint string) Fault { return fault(p.text, p.offset(), message, hint) }

func (p Place) offset() int {
	if p.at == nil {
		return 0
	}
	return p.at.at
}

// key is the place of the value of a key of that part; where it has no such key,
// that of the part.
func (p Place) key(name string) Place {
	if p.at != nil && p.at.fields[name] != nil {
		return Place{p.text, p.at.fields[name]}
	}
	return p
}

// fault is one at so many bytes from the start of a text.
func fault(text string, at int, message, hint string) Fault {
	at = min(max(at, 0), len(text))
	line := 1 + strings.Count(text[:at], "\n")
	start := strings.LastIndexByte(text[:at], '\n') + 1
	return Fault{line, 1 + utf8.RuneCountInString(text[start:at]), message, hint}
}
