package trainfile

import (
	"errors"
	"fmt"
	"strings"
	"unicode/utf8"

	"github.com/BurntSushi/toml"
)

// The most that a file may hold. A train of a dozen machines takes 10 kB.
const (
	mostBytes    = 4 << 20 // of source
	mostValues   = 200_000 // tables, lists and what is in them
	mostMachines = 2000
	// A usual machine has four to eight feet and a few nozzles, a train two to four
	// conditions.
	mostFeet       = 40
	mostNozzles    = 40
	mostConditions = 40
	longestName    = 200 // characters
)

// decode reads the source with both parsers: one knows where everything
// stands, the other what it is. The error is a *placedError.
func decode(text string) (*node, error) {
	if len(text) > mostBytes {
		return nil, &placedError{span{}, fmt.Sprintf("the file has %d bytes, at most %d are read", len(text), mostBytes), ""}
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
		return nil, &placedError{span{at, at + 1}, fmt.Sprintf("byte 0x%02x is not UTF-8 text", text[at]),
			"save the file as UTF-8"}
	}
	root, err := places(text)
	if err != nil {
		return nil, loneReturn(text, err)
	}
	if m := root.table["machine"]; m != nil && len(m.list) > mostMachines {
		return nil, &placedError{m.list[mostMachines].key, fmt.Sprintf("the file has %d machines, at most %d are read", len(m.list), mostMachines), ""}
	}
	var values map[string]any
	if _, err := toml.Decode(text, &values); err != nil {
		out := &placedError{message: "not TOML: " + short(err.Error())}
		var p toml.ParseError
		if errors.As(err, &p) {
			start := min(max(p.Position.Start, 0), len(text))
			out.at = span{start, min(start+max(p.Position.Len, 1), len(text))}
			out.message, out.hint = plain(p.Message)
			if place, message, hint, ok := spelt(text, out.at); ok {
				out.at, out.message, out.hint = place, message, hint
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
	placed, is := err.(*placedError)
	if !is {
		return err
	}
	for at := strings.IndexByte(text, '\r'); at >= 0 && at <= placed.at.end; {
		if !strings.HasPrefix(text[at:], "\r\n") {
			return &placedError{span{at, at + 1}, "a carriage return (CR) without a line feed (LF): TOML does not take it as the end of a line",
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

// fill gives the nodes their values. A value that the parser of places did
// not see gets the place of what it stands in.
func (n *node) fill(v any) {
	switch v := v.(type) {
	case map[string]any:
		n.isTable, n.isList = true, false
		for key, value := range v {
			n.child(key, n.val).fill(value)
		}
	case []map[string]any:
		n.isTable, n.isList = false, true
		for i, value := range v {
			n.element(i).fill(value)
		}
	case []any:
		n.isTable, n.isList = false, true
		for i, value := range v {
			n.element(i).fill(value)
		}
	default:
		n.isTable, n.isList = false, false
		n.value = v
	}
}

func (n *node) element(i int) *node {
	for len(n.list) <= i {
		n.list = append(n.list, newTable(n.val))
	}
	return n.list[i]
}

// plain says what a parser stopped at in plain words, and what to do.
func plain(message string) (string, string) {
	for _, p := range [...]struct{ has, say, hint string }{
		{"expected '='", "a key without a value", `write it as key = value; words go in quotes: "like this"`},
		{"start of value", "no value that TOML knows starts like this", `words go in quotes: "like this"; numbers are written 0.5, not 0,5 and not .5`},
		{"expected keyword", "no value that TOML knows starts like this", `words go in quotes: "like this"; yes and no are true and false`},
		{"expected newline", "more on this line than a key and its value", "one key a line; a decimal point is a point"},
		{"array is incomplete", "a list that is not closed", "close it with ]"},
		{"after array value", "a list whose values are not separated by commas, or that is not closed", "write [1.0, 2.0]; the list may start on a line before this one"},
		{"inline table is incomplete", "a table in braces that is not closed", "close it with }"},
		{"after inline table", "a table in braces whose entries are not separated by commas, or that is not closed", "write { v = 0.1, h = 0.2 }"},
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
