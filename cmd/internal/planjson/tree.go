package planjson

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"
)

// Bounds on what is believed to be a plan: one of a thousand machines stays within
// each.
const (
	Largest    = 16 << 20 // bytes
	deepest    = 32       // objects and lists in one another
	mostValues = 400_000
)

// A node is a value with its place.
type node struct {
	at     int // bytes from the start
	kind   kind
	text   string // of a string; of a number as it was typed
	number float64
	truth  bool
	keys   []string // of an object, in order
	fields map[string]*node
	keyAt  map[string]int
	list   []*node
}

type kind int

const (
	null kind = iota
	truth
	number
	text
	object
	list
)

func (k kind) String() string {
	return [...]string{"null", "true or false", "a number", "a text", "an object { }", "a list [ ]"}[k]
}

// A parser makes a tree of a text.
type parser struct {
	src    string
	dec    *json.Decoder
	values int // seen so far
}

// A placed is an error with its place.
type placed struct {
	at            int
	message, hint string
}

func (p *placed) Error() string { return p.message }

// parse makes a tree of a text, or says what is wrong first.
func parse(src string) (*node, error) {
	if len(src) > Largest {
		return nil, &placed{0, fmt.Sprintf("the file is larger than %d MiB: not a plan", Largest>>20), ""}
	}
	p := &parser{src: src, dec: json.NewDecoder(bytes.NewReader([]byte(src)))}
	p.dec.UseNumber()
	n, err := p.value(0)
	if err != nil {
		return nil, err
	}
	if at := p.next(); at < len(src) {
		return nil, &placed{at, "there is more after the end of the plan", "a plan is one object { }"}
	}
	return n, nil
}

// next is where the next value or key starts.
func (p *parser) next() int {
	at := int(p.dec.InputOffset())
	for at < len(p.src) && strings.IndexByte(" \t\r\n,:", p.src[at]) >= 0 {
		at++
	}
	return at
}

func (p *parser) token() (json.Token, int, error) {
	at := p.next()
	t, err := p.dec.Token()
	var syntax *json.SyntaxError
	switch {
	case err == nil:
		return t, at, nil
	case errors.Is(err, io.EOF), errors.Is(err, io.ErrUnexpectedEOF):
		return nil, at, &placed{len(p.src), "the text ends before the plan does",
			"a bracket, a brace or a quote is not closed"}
	case errors.As(err, &syntax):
		at = max(at, int(syntax.Offset)-1)
	}
	hint := "a plan is written in JSON: names and texts in double quotes, " +
		"a comma between values, none after the last"
	for _, word := range []string{"NaN", "Inf", "-Inf", "nan", "inf", "+"} {
		if at < len(p.src) && strings.HasPrefix(p.src[at:], word) {
			hint = "a number is written in digits, like -0.45"
		}
	}
	return nil, at, &placed{at, "this is not JSON: " + err.Error(), hint}
}

func (p *parser) value(depth int) (*node, error) {
	t, at, err := p.token()
	if err != nil {
		return nil, err
	}
	if p.values++; p.values > mostValues {
		return nil, &placed{at, fmt.Sprintf("more than %d values: not a plan", mostValues), ""}
	}
	n := &node{at: at}
	switch v := t.(type) {
	case bool:
		n.kind, n.truth = truth, v
	case string:
		n.kind, n.text = text, v
	case json.Number:
		n.kind, n.text = number, v.String()
		if n.number, err = strconv.ParseFloat(n.text, 64); err != nil {
			return nil, &placed{at, short(n.text) + " is no number that can be worked with", ""}
		}
	case json.Delim:
		if depth++; depth > deepest {
			return nil, &placed{at, fmt.Sprintf("more than %d lists and objects in one another: not a plan", deepest), ""}
		}
		if v == '[' {
			return n, p.items(n, depth)
		}
		return n, p.members(n, depth)
	}
	return n, nil
}

func (p *parser) items(n *node, depth int) error {
	n.kind = list
	for p.dec.More() {
		item, err := p.value(depth)
		if err != nil {
			return err
		}
		n.list = append(n.list, item)
	}
	_, _, err := p.token()
	return err
}

func (p *parser) members(n *node, depth int) error {
	n.kind, n.fields, n.keyAt = object, map[string]*node{}, map[string]int{}
	for p.dec.More() {
		t, at, err := p.token()
		if err != nil {
			return err
		}
		key, _ := t.(string)
		if _, twice := n.fields[key]; twice {
			return &placed{at, strconv.Quote(short(key)) + " is said twice", "leave one of them"}
		}
		v, err := p.value(depth)
		if err != nil {
			return err
		}
		n.keys = append(n.keys, key)
		n.fields[key], n.keyAt[key] = v, at
	}
	_, _, err := p.token()
	return err
}

// short is a text as it may stand in a message.
func short(s string) string {
	const most = 60 // bytes
	if len(s) > most {
		return strings.ToValidUTF8(s[:most], "") + "..."
	}
	return s
}
