package planjson

import (
	"errors"
	"fmt"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"leastmove/train"
)

// Options is what Read needs from outside the package.
type Options struct {
	// Nearest is the name that is nearest to a word, "" where none is near. Where
	// nil, nothing is suggested.
	Nearest func(word string, names []string) string
}

// A File is a plan as it was read. Its numbers are in the units of the file, as they
// were typed; the methods of a File give them in mm.
type File struct {
	Plan
	Written      bool    // by the program: it has a schema
	move, length float64 // mm to a unit of moves and of lengths
	text         string
	options      Options
}

func (p *File) nearest(word string, names []string) string {
	if p.options.Nearest == nil {
		return ""
	}
	return p.options.Nearest(word, names)
}

// Read reads the text of a plan. The plan is nil if and only if the report has a
// fault.
func Read(src []byte, options Options) (*File, Report) {
	s := strings.TrimPrefix(string(src), "\ufeff") // some editors write that mark
	root, err := parse(s)
	if err != nil {
		var p *placed
		if !errors.As(err, &p) {
			p = &placed{message: err.Error()}
		}
		return nil, Report{fault(s, p.at, p.message, p.hint)}
	}
	r := &reader{file: &File{text: s, options: options}, forms: map[reflect.Type][]field{}}
	r.plan(root)
	if len(r.report) == 0 {
		return r.file, nil
	}
	slices.SortStableFunc(r.report, func(a, b Fault) int {
		if a.Line != b.Line {
			return a.Line - b.Line
		}
		return a.Column - b.Column
	})
	return nil, r.report
}

func (r *reader) plan(root *node) {
	if root.kind != object {
		r.fault(root.at, "a plan is an object { }, not "+root.kind.String(), "")
		return
	}
	r.schema(root)
	r.units(root)
	p := r.file
	r.decode(reflect.ValueOf(&p.Plan).Elem(), root)
	switch {
	case p.Status == "impossible" || p.Status == "undecided":
		message := fmt.Sprintf("the plan is %s: it has no moves", p.Status)
		r.fault(root.fields["status"].at, message, "take one with the status \"planned\"")
	case root.fields["machines"] == nil:
		hint := "write \"machines\": [{\"name\": ..., \"feet\": [{\"name\": ..., \"up\": ..., \"left\": ...}]}]"
		r.fault(root.at, "there are no machines in the plan", hint)
	}
}

func (r *reader) schema(root *node) {
	s := root.fields["schema"]
	if s == nil {
		return
	}
	r.file.Written = true
	if s.kind != text || s.text != PlanSchema {
		message := fmt.Sprintf("this is no plan: its schema is %s, not %q", strconv.Quote(short(s.text)), PlanSchema)
		r.fault(s.at, message, "write one with leastmove plan FILE --format json")
	}
}

// units are those of the moves and lengths: an object, or (by hand) the unit of lengths.
func (r *reader) units(root *node) {
	p := r.file
	p.move, p.length = 1, 1
	const hint = `write "units": "mm" (moves in mm) or "units": "inch" (moves in mils)`
	n := root.fields["units"]
	if n == nil {
		r.fault(root.at, "the plan does not say its units", hint)
		return
	}
	said := n
	if n.kind == object {
		if said = n.fields["length"]; said == nil {
			r.fault(n.at, "units has no length", hint)
			return
		}
		m := n.fields["move"]
		if m != nil && said.text != "" && m.text != map[string]string{"mm": "mm", "inch": "mil"}[said.text] {
			r.fault(m.at, "the unit of moves does not go with that of lengths: mm with mm, mil with inch", "")
			return
		}
	}
	switch {
	case said.kind == text && said.text == train.Millimetres.String():
	case said.kind == text && said.text == train.Inches.String():
		p.move, p.length = train.Mil, train.Inch
	default:
		r.fault(said.at, "units is neither \"mm\" nor \"inch\"", hint)
	}
}
