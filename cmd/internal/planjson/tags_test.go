package planjson

import (
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// forms are all structs of the documents.
func forms() []reflect.Type {
	var all []reflect.Type
	var add func(reflect.Type)
	add = func(t reflect.Type) {
		for t.Kind() == reflect.Pointer || t.Kind() == reflect.Slice {
			t = t.Elem()
		}
		if t.Kind() != reflect.Struct || slices.Contains(all, t) {
			return
		}
		all = append(all, t)
		for _, f := range fieldsOf(t) {
			add(f.kind)
		}
	}
	for _, d := range documents() {
		add(d.form)
	}
	return all
}

// Every key says what it is, every number in which unit, and no tag has a word that
// nothing reads.
func TestTags(t *testing.T) {
	number, used := reflect.TypeFor[Number](), map[string]bool{}
	for _, form := range forms() {
		for i := range form.NumField() {
			f := form.Field(i)
			if f.Type == reflect.TypeFor[Place]() {
				assert.Equal(t, "-", f.Tag.Get("json"), form.Name())
				continue
			}
			assert.True(t, f.IsExported(), "%s.%s", form.Name(), f.Name)
			assert.True(t, f.Anonymous || f.Tag.Get("json") != "", "%s.%s has no key", form.Name(), f.Name)
		}
		keys := map[string]bool{}
		for _, f := range fieldsOf(form) {
			where := form.Name() + "." + f.key
			assert.False(t, keys[f.key], "%s is there twice", where)
			keys[f.key] = true
			require.NotEmpty(t, f.about, where)
			assert.False(t, strings.HasSuffix(f.about, "."), where)
			numeric := f.kind == number || f.kind == reflect.SliceOf(number) || f.kind.Kind() == reflect.Interface
			assert.Equal(t, numeric, f.unit != "", "%s: the unit of a number, and of nothing else", where)
			if numeric {
				assert.Contains(t, unitWords(), f.unit, where)
			}
			used[f.unit] = true
			assert.Contains(t, []string{"", "read", "passed", "only"}, f.hand, where)
			assert.Contains(t, []string{"", "name", "set", "shim"}, f.read, where)
			assert.True(t, f.kind == number || f.kind.Kind() != reflect.Float64, where)
		}
	}
	for unit := range unitWords() {
		assert.True(t, used[unit], "no number is in %q", unit)
	}
	assert.Greater(t, len(forms()), 70)
}

// What a person may write is little, and in no schema but as the program writes it.
func TestByHand(t *testing.T) {
	hand := map[string][]string{}
	for _, form := range forms() {
		for _, f := range fieldsOf(form) {
			if f.hand != "" {
				hand[form.Name()] = append(hand[form.Name()], f.key)
			}
		}
	}
	assert.Equal(t, map[string][]string{
		"Plan":    {"schema", "title", "units", "status", "machines", "couplings"},
		"Machine": {"name", "moved", "held", "feet", "axial"},
		"Foot":    {"name", "x", "y", "up", "left", "axial", "pack"},
	}, hand)
	machine := Schema("plan")["$defs"].(map[string]any)["machine"].(map[string]any)["properties"]
	assert.NotContains(t, machine, "axial")
	assert.Contains(t, machine, "feet")
}

// By hand: a description ends with the unit; null is said of what may be null, by a
// pointer, a number or a tag, and not of what may be left out instead.
func TestSchemaByHand(t *testing.T) {
	defs := Schema("plan")["$defs"].(map[string]any)
	at := func(def, key string) map[string]any {
		return defs[def].(map[string]any)["properties"].(map[string]any)[key].(map[string]any)
	}
	assert.Equal(t, map[string]any{
		"type": []any{"number", "null"}, "description": "Move up, + shims added (units.move).",
	}, at("foot", "up"))
	assert.Equal(t, "number", at("foot", "cut")["type"])
	assert.Equal(t, []any{"array", "null"}, at("pieces", "then")["type"])
	assert.Equal(t, "array", at("pieces", "in")["type"])
	assert.Equal(t, "#/$defs/pack", at("foot", "pack")["$ref"])
	assert.Equal(t, "Thickness of the shim pack.", at("foot", "pack")["description"])
	trade := Schema("compare")["$defs"].(map[string]any)["trade"].(map[string]any)["properties"].(map[string]any)
	assert.Equal(t, []any{"integer", "null"}, trade["knee"].(map[string]any)["type"])
	assert.Nil(t, Schema("chart"))
}
