package tree

import (
	"iter"
	"regexp"
	"slices"
	"strings"
)

const (
	mostFaults = 20      // of syntax that are told of one text
	mostMended = 1 << 18 // bytes of a text that is read again behind a fault: a train of a dozen machines takes 10 kB
)

// Read is Decode with all errors of syntax of a text that is refused: behind each the text is read on as if something
// sound stood there, up to mostFaults of them. Where nothing does that leads to no other error at
// once, the rest is not told.
func Read(text string, headers *Headers) (*Node, []*Error) {
	root, first := Decode(text, headers)
	if first == nil {
		return root, nil
	}
	var out []*Error
	var done Edits
	for err := first.(*Error); err != nil; err = fault(done.Apply(text), headers) {
		tell := func(e Error) (anew bool) {
			e.At = Span{done.back(e.At.Start), done.back(e.At.End)}
			if anew = !slices.ContainsFunc(out, func(o *Error) bool { return o.At.Start == e.At.Start }); anew {
				out = append(out, &e)
			}
			return anew
		}
		for _, header := range err.wrong {
			tell(*header)
		}
		if !tell(*err) || !err.syntax || len(out) >= mostFaults || len(text) > mostMended {
			break
		}
		next, ok := mend(text, done, err, headers)
		if !ok {
			break
		}
		done = next
	}
	return nil, out[:min(len(out), mostFaults)]
}

// fault is the first error of a text; nil: there is none.
func fault(text string, headers *Headers) *Error {
	if _, err := Decode(text, headers); err != nil {
		return err.(*Error)
	}
	return nil
}

// mend is the edits with one more, by which an error of the edited text is gone: the one behind which
// the text can be read farthest.
func mend(text string, done Edits, err *Error, headers *Headers) (best Edits, ok bool) {
	now := done.Apply(text)
	far := -1
	for _, one := range stopgaps(now, err) {
		next := done.and(one.At, one.Words)
		reach := 2 * len(text)
		if after := fault(next.Apply(text), headers); after != nil {
			if reach = next.back(after.At.Start); after.late {
				reach += len(text)
			}
		}
		least := done.back(one.At.End)
		if err.late {
			least += len(text)
		}
		if reach >= least && reach > far {
			best, far, ok = next, reach, true
		}
	}
	return best, ok
}

var (
	headerLine = regexp.MustCompile(`^[ \t]*\[{1,2}[ \t]*([A-Za-z_][\w.-]*)`)
	keyLine    = regexp.MustCompile(`^[ \t]*[A-Za-z_][\w-]*[ \t]*=`)
)

// stopgaps are what may stand in a text in place of what is wrong at an error, the narrowest first.
func stopgaps(text string, err *Error) []Edit {
	var out []Edit
	put := func(from, to int, words string) { out = append(out, Edit{Span{from, to}, words}) }
	if err.instead != "" {
		put(err.At.Start, err.At.End, err.instead)
		return out
	}
	from, to := lineAt(text, err.At.Start)
	line := text[from:to]
	if strings.Contains(line, `"""`) || strings.Contains(line, "'''") {
		return nil
	}
	_, depth := opened(text[:from])
	if m := headerLine.FindStringSubmatch(line); m != nil && depth == 0 {
		if strings.Contains(line, "[[") || strings.Contains(line, "]]") {
			put(from, to, "[["+m[1]+"]]")
		} else {
			put(from, to, "["+m[1]+"]")
		}
		return out
	}
	bare := code(line)
	end := from + len(strings.TrimRight(bare, " \t\r"))
	if open, _ := opened(line); len(open) > 0 && err.At.Start == from+open[len(open)-1] {
		// It is told where it opens.
		closing := "]"
		if text[err.At.Start] == '{' {
			closing = "}"
			put(end, end, "},")
		}
		put(end, end, closing)
		at := err.At.Start
		for n := to; closing == "]" && n < len(text); { // a list over several lines: before the next line that is not of it
			a, b := lineAt(text, n+1)
			if next := text[a:b]; headerLine.MatchString(next) || keyLine.MatchString(next) {
				break
			}
			n, at = b, b
		}
		if at > err.At.Start {
			put(at, at, "\n]")
		}
		return out
	}
	// A value: what follows the last equals sign, or the first.
	first := strings.IndexByte(bare, '=')
	last := strings.LastIndexByte(line[:min(max(err.At.Start-from, 0), len(line))], '=')
	for _, equals := range []int{last, first} {
		value := from + equals + 1
		if equals < 0 || value > end { // there is none, or it is in a comment
			continue
		}
		if n := strings.IndexAny(text[value:end], ",}]"); n >= 0 {
			put(value, value+n, " 0")
		}
		if (equals != first || depth == 0) && level(text[value:end]) {
			put(value, end, " 0")
		}
	}
	if open := strings.IndexByte(bare, '{'); open >= 0 { // a table in braces
		if shut := strings.LastIndexByte(bare, '}'); shut > open {
			put(from+open, from+shut+1, "{}")
		}
	}
	if depth == 0 && level(bare) {
		put(from, to, "")
	}
	return out
}

// lineAt is where the line of a byte begins and ends, without its end.
func lineAt(text string, offset int) (from, to int) {
	offset = min(max(offset, 0), len(text))
	from = strings.LastIndexByte(text[:offset], '\n') + 1
	if n := strings.IndexByte(text[offset:], '\n'); n >= 0 {
		return from, offset + n
	}
	return from, len(text)
}

// unquoted goes through what stands on a line outside quotes, up to the # of its comment.
func unquoted(line string) iter.Seq2[int, rune] {
	return func(yield func(int, rune) bool) {
		quote := rune(0)
		for i, c := range line {
			switch {
			case quote != 0:
				if c == quote {
					quote = 0
				}
			case c == '"' || c == '\'':
				quote = c
			case !yield(i, c) || c == '#':
				return
			}
		}
	}
}

// code is a line without its comment.
func code(line string) string {
	for i, c := range unquoted(line) {
		if c == '#' {
			return line[:i]
		}
	}
	return line
}

// level says whether as many brackets and braces open as close.
func level(words string) bool {
	return strings.Count(words, "[") == strings.Count(words, "]") &&
		strings.Count(words, "{") == strings.Count(words, "}")
}

// opened are where brackets and braces of a text stand that are not closed in it, outside quotes and comments, and how
// many.
func opened(text string) (places []int, n int) {
	at := 0
	for line := range strings.Lines(text) {
		for i, c := range unquoted(line) {
			switch {
			case c == '[' || c == '{':
				places = append(places, at+i)
			case (c == ']' || c == '}') && len(places) > 0:
				places = places[:len(places)-1]
			}
		}
		at += len(line)
	}
	return places, len(places)
}

// unclosed finds what was opened on a line before that of an error and should have been closed before it: a table in
// braces at the end of its line, a list at a line that begins another table or key.
func unclosed(text string, at Span) (place Span, message, hint string, ok bool) {
	from, to := lineAt(text, at.Start)
	open, n := opened(text[:from])
	if n == 0 || strings.Contains(text[:from], `"""`) || strings.Contains(text[:from], "'''") {
		return Span{}, "", "", false
	}
	last := open[n-1]
	place = Span{last, last + 1}
	switch line := text[from:to]; {
	case text[last] == '{':
		return place, "a table in braces that is not closed on its line", "close it with }", true
	case headerLine.MatchString(line) || keyLine.MatchString(line):
		return place, "a list that is not closed", "close it with ]", true
	}
	return Span{}, "", "", false
}
