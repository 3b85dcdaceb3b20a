package tree

import (
	"errors"
	"fmt"
	"strings"
	"unicode/utf8"

	"github.com/BurntSushi/toml"
)

// ToRead stands before every line of a train file that is still to be filled in with what is read.
const ToRead = "# TO READ: "

// The most that a file may hold. A train of a dozen machines takes 10 kB.
const (
	MostBytes    = 4 << 20 // of source
	MostValues   = 200_000 // tables, lists and what is in them
	MostMachines = 2000
	Deepest      = 50 // levels of tables and arrays; a train file needs five
)

// Decode reads the source with both parsers: one knows where everything
// stands, the other what it is. repeated tells of a header such as "[[machine]]" whether it is that of
// tables of which there may be several, for hints on faults; it may be nil. The error is a *Error.
func Decode(text string, repeated func(header string) bool) (*Node, error) {
	if len(text) > MostBytes {
		return nil, &Error{Span{}, fmt.Sprintf("the file has %d bytes, at most %d are read", len(text), MostBytes), ""}
	}
	if !utf8.ValidString(text) {
		at := strings.IndexFunc(text, func(r rune) bool { return r == utf8.RuneError })
		for at < len(text) {
			if r, n := utf8.DecodeRuneInString(text[at:]); r == utf8.RuneError && n == 1 {
				break
			} else {
				at += n
			}
		}
		return nil, &Error{Span{at, at + 1}, fmt.Sprintf("byte 0x%02x is not UTF-8 text", text[at]),
			"save the file as UTF-8"}
	}
	root, err := places(text, repeated)
	if err != nil {
		return nil, loneReturn(text, err)
	}
	if m := root.Table["machine"]; m != nil && len(m.List) > MostMachines {
		return nil, &Error{m.List[MostMachines].Key,
			fmt.Sprintf("the file has %d machines, at most %d are read", len(m.List), MostMachines), ""}
	}
	var values map[string]any
	if _, err := toml.Decode(text, &values); err != nil {
		out := &Error{Message: "not TOML: " + short(err.Error())}
		var p toml.ParseError
		if errors.As(err, &p) {
			start := min(max(p.Position.Start, 0), len(text))
			out.At = Span{start, min(start+max(p.Position.Len, 1), len(text))}
			out.Message, out.Hint = plain(p.Message)
			if place, message, hint, ok := spelt(text, out.At); ok {
				out.At, out.Message, out.Hint = place, message, hint
			}
		}
		return nil, loneReturn(text, out)
	}
	root.fill(values)
	return root, nil
}

// loneReturn is the error of a text that is not TOML: a carriage return without a line feed where there is one up to
// the place of the error, as it is the cause then.
func loneReturn(text string, err error) error {
	placed, is := err.(*Error)
	if !is {
		return err
	}
	for at := strings.IndexByte(text, '\r'); at >= 0 && at <= placed.At.End; {
		if !strings.HasPrefix(text[at:], "\r\n") {
			return &Error{Span{at, at + 1}, "a carriage return (CR) without a line feed (LF): TOML does not take it as the " +
				"end of a line",
				"save the file with line ends LF or CR LF"}
		}
		next := strings.IndexByte(text[at+1:], '\r')
		if next < 0 {
			break
		}
		at += 1 + next
	}
	return err
}

// plain says what a parser stopped at in plain words, and what to do.
func plain(message string) (string, string) {
	for _, p := range [...]struct{ has, say, hint string }{
		{"expected '='", "a key without a value", `write it as key = value; words go in quotes: "like this"`},
		{"start of value", "no value that TOML knows starts like this",
			`words go in quotes: "like this"; numbers are written 0.5, not 0,5 and not .5`},
		{"expected keyword", "no value that TOML knows starts like this",
			`words go in quotes: "like this"; yes and no are true and false`},
		{"expected newline", "more on this line than a key and its value", "one key a line; a decimal point is a point"},
		{"array is incomplete", "a list that is not closed", "close it with ]"},
		{"after array value", "a list whose values are not separated by commas, or that is not closed",
			"write [1.0, 2.0]; the list may start on a line before this one"},
		{"inline table is incomplete", "a table in braces that is not closed", "close it with }"},
		{"after inline table", "a table in braces whose entries are not separated by commas, or that is not closed",
			"write { v = 0.1, h = 0.2 }"},
		{"to close", "a table header that is not closed", "write [table] or [[table]]"},
	} {
		if strings.Contains(message, p.has) {
			return p.say, p.hint
		}
	}
	return "not TOML: " + short(message), ""
}

// short is a message whose end is left out where it is overlong: parsers repeat
// what they were given.
func short(message string) string {
	const most = 200 // bytes
	if len(message) <= most {
		return message
	}
	return strings.ToValidUTF8(message[:most], "") + "..."
}
