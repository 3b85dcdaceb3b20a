package planjson

import (
	"fmt"
	"math"
	"reflect"
	"slices"
	"strconv"
	"strings"
)

// Bounds on numbers that are believed.
const (
	farthest = 100.0 // mm, a move that somebody sets
	thickest = 300.0 // mm, a shim
	huge     = 1e6   // of its unit, any other quantity: a kilometre in mm, and more than any share of a limit
)

// A reader gathers what is wrong in one plan.
type reader struct {
	file   *File
	report Report
	forms  map[reflect.Type][]field
}

func (r *reader) fault(at int, message, hint string) {
	if len(r.report) < mostFaults {
		r.report = append(r.report, fault(r.file.text, at, message, hint))
	}
}

// wrong faults a value of a wrong kind; key is "" for an item of a list.
func (r *reader) wrong(n *node, key, must string) {
	if key == "" {
		r.fault(n.at, fmt.Sprintf("here stands %s, it must be %s", n.kind, must), "")
		return
	}
	r.fault(n.at, fmt.Sprintf("%s is %s, it must be %s", key, n.kind, must), "")
}

func (r *reader) fields(form reflect.Type) []field {
	if r.forms[form] == nil {
		r.forms[form] = fieldsOf(form)
	}
	return r.forms[form]
}

// decode fills a struct with the fields of an object.
func (r *reader) decode(v reflect.Value, n *node) {
	if at := v.FieldByName("Place"); at.IsValid() {
		at.Set(reflect.ValueOf(Place{r.file.text, n}))
	}
	fields := r.fields(v.Type())
	byHand := slices.ContainsFunc(fields, func(f field) bool { return f.hand != "" })
	if byHand {
		r.known(n, fields)
	}
	for i := range fields {
		f := &fields[i]
		if byHand && !r.file.Written && f.hand != "read" && f.hand != "only" {
			continue
		}
		at := n.fields[f.key]
		if at != nil {
			r.value(v.FieldByIndex(f.index), f, f.key, at)
		}
		if f.read == "name" && (at == nil || at.kind == text && at.text == "") {
			what := strings.ToLower(v.Type().Name())
			r.fault(n.at, "a "+what+" has no name", "write \"name\": \"...\" as in the train file")
		}
	}
}

// value fills one field, or one item of a list that is the field (key is "" then).
func (r *reader) value(v reflect.Value, f *field, key string, n *node) {
	if n.kind == null && (f.nullable || v.Kind() == reflect.Struct || v.Kind() == reflect.Pointer) && f.read != "set" {
		return
	}
	if v.Type() == reflect.TypeFor[Number]() {
		if r.number(f, key, n) {
			v.SetString(n.text)
		}
		return
	}
	switch v.Kind() {
	case reflect.Pointer:
		v.Set(reflect.New(v.Type().Elem()))
		r.value(v.Elem(), f, key, n)
	case reflect.Struct:
		if n.kind == object {
			r.decode(v, n)
		} else if v.Type() != reflect.TypeFor[Units]() { // units reads its short form
			r.wrong(n, key, "an object { }")
		}
	case reflect.Slice:
		if n.kind != list {
			r.wrong(n, key, "a list [ ]")
			return
		}
		v.Set(reflect.MakeSlice(v.Type(), len(n.list), len(n.list)))
		for i, item := range n.list {
			r.value(v.Index(i), f, "", item)
		}
	case reflect.String:
		if n.kind != text {
			r.wrong(n, key, "a text")
			return
		}
		v.SetString(n.text)
	case reflect.Bool:
		if n.kind != truth {
			r.wrong(n, key, "true or false")
			return
		}
		v.SetBool(n.truth)
	case reflect.Int:
		i, err := strconv.ParseInt(n.text, 10, 32)
		if n.kind != number || err != nil {
			r.wrong(n, key, "a whole number")
			return
		}
		v.SetInt(i)
	case reflect.Interface:
		switch n.kind {
		case number:
			v.Set(reflect.ValueOf(Number(n.text)))
		case truth:
			v.Set(reflect.ValueOf(n.truth))
		default:
			r.wrong(n, key, "a number, or true or false")
		}
	default:
		panic("planjson: " + v.Type().String() + " is not read")
	}
}

// number says whether a number can be believed.
func (r *reader) number(f *field, key string, n *node) bool {
	mm := n.number * r.file.move
	switch {
	case f.read == "shim":
		what := short(n.text)
		if n.kind != number {
			what = n.kind.String()
		}
		if n.kind != number || !(mm > 0 && mm <= thickest) {
			r.fault(n.at, "here stands "+what+", no thickness of a shim", "check the units of the plan")
			return false
		}
	case n.kind == null && f.read == "set":
		r.fault(n.at, key+" is null", "write a number, 0 where nothing moves, or leave it out")
		return false
	case n.kind != number:
		r.wrong(n, key, "a number")
		return false
	case bounded(f.unit) && math.Abs(n.number) > huge:
		r.fault(n.at, fmt.Sprintf("%s is %s: that is no size that can be meant", f.key, short(n.text)), "")
		return false
	case f.read == "set" && math.Abs(mm) > farthest:
		message := fmt.Sprintf("%s is %s: no foot moves by more than %g mm", key, short(n.text), farthest)
		r.fault(n.at, message, "check the units of the plan")
	}
	return true
}

// known faults keys that do not exist. A plan that the program wrote may have some of
// a later version, so there only one that looks like a slip of a key that is missing is
// a fault.
func (r *reader) known(n *node, fields []field) {
	var there, hand []string
	for i := range fields {
		there = append(there, fields[i].key)
		if fields[i].hand != "" {
			hand = append(hand, fields[i].key)
		}
	}
	for _, key := range n.keys {
		if slices.Contains(hand, key) || r.file.Written && slices.Contains(there, key) || len(r.report) >= mostFaults {
			continue
		}
		near := r.file.nearest(key, hand)
		if r.file.Written && (near == "" || n.fields[near] != nil) {
			continue
		}
		hint := "known here: " + strings.Join(hand, ", ")
		if near != "" {
			hint = fmt.Sprintf("did you mean %q?", near)
		}
		r.fault(n.keyAt[key], "unknown key "+strconv.Quote(short(key)), hint)
	}
}
