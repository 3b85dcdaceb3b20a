package report

import (
	"io"
	"reflect"
	"strings"

	"leastmove/cmd/internal/words"
)

// A document is a form of JSON that a command writes.
type document struct {
	command, schema string
	form            reflect.Type
}

// documents are all of them: one that is not here has no schema.
func documents() []document {
	return []document{
		{"plan", planSchema, reflect.TypeFor[planDoc]()},
		{"check", checkSchema, reflect.TypeFor[checkDoc]()},
		{"compare", compareSchema, reflect.TypeFor[compareDoc]()},
		{"verify", verifySchema, reflect.TypeFor[verifyDoc]()},
	}
}

// Documented are the commands whose JSON has a schema.
func Documented() []string {
	var names []string
	for _, d := range documents() {
		names = append(names, d.command)
	}
	return names
}

// Schema is a JSON Schema (draft 2020-12) of what a command writes with --format
// json, made from the types that it is written from; nil where it writes none.
// Keys that it does not name may be added by later versions.
func Schema(command string) map[string]any {
	for _, d := range documents() {
		if d.command != command {
			continue
		}
		defs := map[string]any{}
		s := objectSchema(d.form, defs)
		s["$schema"] = "https://json-schema.org/draft/2020-12/schema"
		s["title"] = "leastmove " + command + " --format json"
		s["description"] = "README.md says what each key means. A number that does not exist is null or left out."
		s["properties"].(map[string]any)["schema"] = map[string]any{"const": d.schema}
		s["$defs"] = defs
		return s
	}
	return nil
}

// WriteSchema writes a schema as programs read it, keys in the order of the
// alphabet.
func WriteSchema(w io.Writer, schema map[string]any) error { return write(w, schema) }

// objectSchema is the schema of a struct; those of the structs in it go into
// defs.
func objectSchema(form reflect.Type, defs map[string]any) map[string]any {
	properties, required := map[string]any{}, []string{}
	for _, f := range reflect.VisibleFields(form) {
		tag, tagged := f.Tag.Lookup("json")
		name, omit, _ := strings.Cut(tag, ",")
		if !tagged || f.Anonymous && name == "" || name == "-" {
			continue // of an embedded struct the fields follow
		}
		optional := strings.Contains(omit, "omitempty") || strings.Contains(omit, "omitzero")
		if !optional {
			required = append(required, name)
		}
		s := valueSchema(f.Type, defs)
		// A number says itself that it does not exist; of a list a tag says it.
		if kind, is := s["type"]; is && !optional && (f.Type == reflect.TypeFor[words.Number]() || f.Tag.Get("schema") == "nullable") {
			s["type"] = []any{kind, "null"}
		}
		properties[name] = s
	}
	return map[string]any{"type": "object", "properties": properties, "required": required}
}

func valueSchema(form reflect.Type, defs map[string]any) map[string]any {
	if form == reflect.TypeFor[words.Number]() {
		return map[string]any{"type": "number"}
	}
	switch form.Kind() {
	case reflect.Pointer:
		return valueSchema(form.Elem(), defs)
	case reflect.Struct:
		name := strings.TrimSuffix(form.Name(), "Doc")
		if defs[name] == nil {
			defs[name] = true // taken: a struct may hold itself
			defs[name] = objectSchema(form, defs)
		}
		return map[string]any{"$ref": "#/$defs/" + name}
	case reflect.Slice, reflect.Array:
		return map[string]any{"type": "array", "items": valueSchema(form.Elem(), defs)}
	case reflect.Map:
		return map[string]any{"type": "object", "additionalProperties": valueSchema(form.Elem(), defs)}
	case reflect.String:
		return map[string]any{"type": "string"}
	case reflect.Bool:
		return map[string]any{"type": "boolean"}
	case reflect.Int, reflect.Int64, reflect.Uint64:
		return map[string]any{"type": "integer"}
	case reflect.Float64:
		return map[string]any{"type": "number"}
	case reflect.Interface:
		return map[string]any{}
	}
	panic("report: the schema has no form for " + form.String())
}
