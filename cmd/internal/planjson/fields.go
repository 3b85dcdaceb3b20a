package planjson

import (
	"reflect"
	"strings"
)

// A field is one key of a document, as the tags of its struct have it.
type field struct {
	index    []int // of the struct, through embedded ones
	kind     reflect.Type
	key      string
	optional bool // it may be left out
	nullable bool // it may be null where it is there
	about    string
	unit     string
	hand     string // "": only the program writes it
	read     string
}

// fieldsOf are the keys of a document in the order in which they are written.
func fieldsOf(form reflect.Type) []field {
	var fields []field
	for _, f := range reflect.VisibleFields(form) {
		tag, tagged := f.Tag.Lookup("json")
		key, omit, _ := strings.Cut(tag, ",")
		if !tagged || key == "" || key == "-" {
			continue // of an embedded struct the fields follow
		}
		out := field{
			index: f.Index, kind: f.Type, key: key, optional: strings.Contains(omit, "omitempty"),
			about: f.Tag.Get("about"), unit: f.Tag.Get("unit"), hand: f.Tag.Get("hand"), read: f.Tag.Get("read"),
		}
		// A number that does not exist is null, and so is what a pointer does not point to;
		// of a list its tag says so.
		number := f.Type == reflect.TypeFor[Number]()
		out.nullable = !out.optional && (number || f.Type.Kind() == reflect.Pointer) || f.Tag.Get("null") == "yes"
		fields = append(fields, out)
	}
	return fields
}
