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

// Headers are what is known of the headers of tables.
type Headers struct {
	// Repeated tells of one such as "[[machine]]" whether it is that of tables of which there may be several.
	Repeated func(header string) bool
	// Meant is the known header that a wrong one, given by its keys and whether it has double brackets, most likely stands
	// for, and whether that has them; nil where it is known or nothing is near.
	Meant func(keys []string, double bool) (meant []string, repeats bool)
}

// Decode reads the source with both parsers: one knows where everything
// stands, the other what it is. A table with an unknown header is read as the one that is meant.
// headers may be nil. The error is a *Error.
func Decode(text string, headers *Headers) (*Node, error) {
	if len(text) > MostBytes {
		return nil, &Error{Message: fmt.Sprintf("the file has %d bytes, at most %d are read", len(text), MostBytes)}
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
		return nil, &Error{At: Span{at, at + 1}, Message: fmt.Sprintf("byte 0x%02x is not UTF-8 text", text[at]),
			Hint: "save the file as UTF-8"}
	}
	root, mended, err := places(text, headers)
	if err != nil {
		return nil, loneReturn(text, err)
	}
	if m := root.Table["machine"]; m != nil && len(m.List) > MostMachines {
		return nil, &Error{At: m.List[MostMachines].Key,
			Message: fmt.Sprintf("the file has %d machines, at most %d are read", len(m.List), MostMachines)}
	}
	var values map[string]any
	if _, err := toml.Decode(mended.Apply(text), &values); err != nil {
		out := &Error{Message: "not TOML: " + short(err.Error()), late: true}
		var p toml.ParseError
		if errors.As(err, &p) {
			start := min(max(mended.back(p.Position.Start), 0), len(text))
			out.At = Span{start, min(start+max(p.Position.Len, 1), len(text))}
			out.say(text, p.Message)
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
			return &Error{At: Span{at, at + 1}, Message: "a carriage return (CR) without a line feed (LF): TOML does not " +
				"take it as the end of a line", Hint: "save the file with line ends LF or CR LF"}
		}
		next := strings.IndexByte(text[at+1:], '\r')
		if next < 0 {
			break
		}
		at += 1 + next
	}
	return err
}

// say puts what a parser stopped at into plain words, at the place where it is to be mended.
func (e *Error) say(text, message string) {
	e.syntax = true
	if place, says, hint, ok := unclosed(text, e.At); ok {
		e.At, e.Message, e.Hint = place, says, hint
	} else if place, says, hint, ok := spelt(text, e.At); ok {
		e.At, e.Message, e.Hint, e.instead = place, says, hint, "0"
		if text[place.Start:place.End] == "=" {
			e.instead = "= 0"
		}
	} else {
		e.Message, e.Hint = plain(message)
	}
}

// plain says what a parser stopped at in plain words, and what to do.
func plain(message string) (string, string) {
	for _, p := range [...]struct{ has, say, hint string }{
		{"strings cannot have new lines", "words in quotes that are not closed on their line", `close them with "`},
		{"expected '='", "a key without a value", `write it as key = value; words go in quotes: "like this"`},
		{"start of value", "no value that TOML knows starts like this",
			`words go in quotes: "like this"; numbers are written 0.5, not 0,5 and not .5`},
		{"expected keyword", "no value that TOML knows starts like this",
			`words go in quotes: "like this"; yes and no are true and false`},
		{"expected newline", "more on this line than a key and its value",
			"one key a line; a decimal point is a point; a remark starts with #"},
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
