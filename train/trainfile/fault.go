package trainfile

import (
	"fmt"
	"io"
	"regexp"
	"slices"
	"strings"
	"unicode/utf8"

	"leastmove/train/spelling"
)

// Severity says what a fault does to the reading of a file.
type Severity int

const (
	Error   Severity = iota // the file can't be used
	Warning                 // the file can be used, but is probably not what was meant
	Note                    // worth knowing
)

// String is the word that a fault is printed with.
func (s Severity) String() string {
	switch s {
	case Warning:
		return "warning"
	case Note:
		return "note"
	}
	return "error"
}

// A Fault is one thing in a train file that is wrong or doubtful.
type Fault struct {
	File         string // name of the file, as it was handed to Read
	Line, Column int    // from 1; the column counts characters, not bytes
	Width        int    // characters that the fault is about, at least 1, all on that line
	Severity     Severity
	Message      string // one line, with the value, its unit and what is allowed
	Hint         string // one line on what to do; may be empty
	Source       string // the line of the file, without its end
	offset       int    // bytes from the start of the file
	at           int    // bytes from the start of the line
}

// widest is about how many characters of a source line are shown: a third
// before the fault, the rest from it on.
const widest = 120

// String is the fault with its place, the line and what to do about it.
func (f Fault) String() string {
	number := fmt.Sprint(f.Line)
	gutter := strings.Repeat(" ", len(number))
	line, before, width := f.shown()
	var b strings.Builder
	fmt.Fprintf(&b, "%s:%d:%d: %s: %s\n", spelling.Printable(f.File), f.Line, f.Column, f.Severity, f.Message)
	fmt.Fprintf(&b, "%s |\n", gutter)
	fmt.Fprintf(&b, "%s | %s\n", number, line)
	fmt.Fprintf(&b, "%s | %s%s\n", gutter, before, strings.Repeat("^", width))
	if f.Hint != "" {
		fmt.Fprintf(&b, "%s = %s\n", gutter, f.Hint)
	}
	return b.String()
}

// shown is the source line as it may go to a terminal: no control characters,
// and of a long line the part around the fault; with the blanks that bring a
// caret under the fault, and the number of carets.
func (f Fault) shown() (line, before string, width int) {
	from, to := f.at, f.at
	for n := 0; from > 0 && (n < widest/3 || len(f.Source) <= widest); n++ {
		_, size := utf8.DecodeLastRuneInString(f.Source[:from])
		from -= size
	}
	after := 0
	for ; to < len(f.Source) && after < widest*2/3; after++ {
		_, size := utf8.DecodeRuneInString(f.Source[to:])
		to += size
	}
	var shown, blanks strings.Builder
	if from > 0 {
		shown.WriteString("...")
		blanks.WriteString("   ")
	}
	for i, c := range f.Source[from:to] {
		if c != '\t' {
			c = spelling.Shown(c)
		}
		shown.WriteRune(c)
		if from+i < f.at {
			if c != '\t' {
				c = ' '
			}
			blanks.WriteRune(c)
		}
	}
	if to < len(f.Source) {
		shown.WriteString("...")
	}
	return shown.String(), blanks.String(), max(1, min(f.Width, after))
}

// A Report is all that is wrong or doubtful in a file, in file order.
type Report []Fault

// Failed says whether any fault is an error: then there is no train.
func (r Report) Failed() bool {
	return slices.ContainsFunc(r, func(f Fault) bool { return f.Severity == Error })
}

// Count is the number of faults of one severity.
func (r Report) Count(s Severity) int {
	n := 0
	for _, f := range r {
		if f.Severity == s {
			n++
		}
	}
	return n
}

// inFull is how many faults of one kind are told in full. One mistake that was made at every
// machine says the same of each of them.
const inFull = 5

// figures are what messages of one kind differ by.
var figures = regexp.MustCompile(`"[^"]*"|[-\d.]+`)

// String is the faults in file order, and how many more there are like those that are told.
func (r Report) String() string {
	var b strings.Builder
	told := map[string]int{}
	var more [Note + 1]int
	for _, f := range r {
		kind := f.Severity.String() + figures.ReplaceAllString(f.Message, "")
		if told[kind]++; told[kind] <= inFull {
			b.WriteString(f.String())
		} else {
			more[f.Severity]++
		}
	}
	for s, n := range more {
		switch {
		case n == 1:
			fmt.Fprintf(&b, "1 more %s like these is not shown\n", Severity(s))
		case n > 1:
			fmt.Fprintf(&b, "%d more %ss like these are not shown\n", n, Severity(s))
		}
	}
	return b.String()
}

// WriteTo writes what String says.
func (r Report) WriteTo(w io.Writer) (int64, error) {
	n, err := io.WriteString(w, r.String())
	return int64(n), err
}

// sorted is the report in file order. What both feet of a pair say is said
// once, and nothing gets a warning where there is an error.
func (r Report) sorted() Report {
	slices.SortStableFunc(r, func(a, b Fault) int {
		if a.offset != b.offset {
			return a.offset - b.offset
		}
		return int(a.Severity) - int(b.Severity)
	})
	var kept Report
	for _, f := range r {
		if n := len(kept); n > 0 {
			last := kept[n-1]
			if f == last || f.offset == last.offset && f.Severity != Error && last.Severity == Error {
				continue
			}
		}
		kept = append(kept, f)
	}
	return kept
}
