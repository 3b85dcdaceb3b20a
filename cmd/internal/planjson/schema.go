package planjson

import (
	"encoding/json"
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
		{"plan", PlanSchema, reflect.TypeFor[Plan]()},
		{"check", CheckSchema, reflect.TypeFor[Check]()},
		{"compare", CompareSchema, reflect.TypeFor[Compare]()},
		{"verify", VerifySchema, reflect.TypeFor[Verify]()},
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
		s["description"] = "A number that does not exist is null or left out. After each description stands the unit."
		s["properties"].(map[string]any)["schema"] = map[string]any{
			"const": d.schema, "description": "Name and version of this form.",
		}
		s["$defs"] = defs
		return s
	}
	return nil
}

// Write writes a document or a schema, indented, with < and & as they are.
func Write(w io.Writer, doc any) error {
	e := json.NewEncoder(w)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	return e.Encode(doc)
}

// objectSchema is the schema of a struct; those of the structs in it go into
// defs.
func objectSchema(form reflect.Type, defs map[string]any) map[string]any {
	properties, required := map[string]any{}, []string{}
	for _, f := range fieldsOf(form) {
		if f.hand == "only" {
			continue
		}
		if !f.optional {
			required = append(required, f.key)
		}
		s := valueSchema(f.kind, defs)
		if kind, is := s["type"]; is && f.nullable {
			s["type"] = []any{kind, "null"}
		}
		s["description"] = f.described()
		properties[f.key] = s
	}
	return map[string]any{"type": "object", "properties": properties, "required": required}
}

// described is what a field is, with its unit.
func (f *field) described() string {
	s := words.Capital(f.about)
	if f.unit != "" {
		s += " (" + unitWords()[f.unit] + ")"
	}
	return s + "."
}

func valueSchema(form reflect.Type, defs map[string]any) map[string]any {
	if form == reflect.TypeFor[Number]() {
		return map[string]any{"type": "number"}
	}
	switch form.Kind() {
	case reflect.Pointer:
		return valueSchema(form.Elem(), defs)
	case reflect.Struct:
		name := strings.ToLower(form.Name()[:1]) + form.Name()[1:]
		if defs[name] == nil {
			defs[name] = true // taken: a struct may hold itself
			defs[name] = objectSchema(form, defs)
		}
		return map[string]any{"$ref": "#/$defs/" + name}
	case reflect.Slice:
		return map[string]any{"type": "array", "items": valueSchema(form.Elem(), defs)}
	case reflect.String:
		return map[string]any{"type": "string"}
	case reflect.Bool:
		return map[string]any{"type": "boolean"}
	case reflect.Int:
		return map[string]any{"type": "integer"}
	case reflect.Interface:
		return map[string]any{}
	}
	panic("planjson: the schema has no form for " + form.String())
}
