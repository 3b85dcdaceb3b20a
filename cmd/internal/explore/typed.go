package explore

import (
	"fmt"
	"net/url"
	"slices"
)

// What can't be used as it was typed stays in its form, marked with what is wrong, until the form is sent again or the
// case is left. Of a form with a fault nothing is asked.

// An entry is what was typed into a field of a form that has a fault.
type entry struct {
	text  string
	wrong string // "": this field is right
}

// A fault is a field that can't be used as it was typed, and why.
type fault struct {
	field *field
	words string
}

type faults []fault

func (f *faults) add(of *field, words string) { *f = append(*f, fault{of, words}) }

func noNumber(typed string) string { return fmt.Sprintf("%q is no number.", short(typed)) }

// leaving are what is asked for that leads to another case: what was typed is of the one that is left.
var leaving = []string{"look", "another", "copy", "away", "take", "option", "anew"}

// retyped drops what was typed before into the fields that are sent now.
func (d *desk) retyped(f url.Values) {
	if slices.Contains(leaving, f.Get("what")) {
		clear(d.typed)
	}
	for name := range f {
		delete(d.typed, name)
	}
}

// faulty keeps what was typed where some of it is wrong, and says the first of it; false: nothing is. The lock is held.
func (d *desk) faulty(f url.Values, wrong faults) bool {
	if wrong == nil {
		return false
	}
	d.said = wrong[0].field.Label + ": " + wrong[0].words
	for name := range f {
		if name != "what" {
			d.typed[name] = entry{text: f.Get(name)}
		}
	}
	for _, w := range wrong {
		d.typed[w.field.Name] = entry{f.Get(w.field.Name), w.words}
	}
	return true
}

// asTyped has a field show what was typed into it, where its form has a fault; true: it is the one that is wrong.
func (d *desk) asTyped(f *field) bool {
	e, is := d.typed[f.Name]
	if !is {
		return false
	}
	f.Value, f.Wrong = e.text, e.wrong
	return f.Wrong != ""
}

// wrongOf are those of some fields that can't be used as they were typed; all show what was typed into them.
func (d *desk) wrongOf(all ...*field) (out []*field) {
	for _, f := range all {
		if d.asTyped(f) {
			out = append(out, f)
		}
	}
	return out
}
