package trainfile

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"

	"leastmove/train"
)

// Schema is a JSON Schema (draft 2020-12) of a train file, made from the tables
// that Read goes by: for editors that know TOML. Ranges in it are the wider ones
// of mm and inch files; each key's description gives both. What several keys say
// together only Read knows.
func Schema() map[string]any {
	tables, names := newTables(), map[*Table]string{}
	defs := map[string]any{}
	file := schemaOf(tables.file, names, defs)
	file["$schema"] = "https://json-schema.org/draft/2020-12/schema"
	file["title"] = "train file of leastmove"
	file["description"] = "A train of coupled machines: how it stands, what its feet can do, how close its " +
		"couplings must be."
	file["$defs"] = defs
	return file
}

// schemaOf is the schema of one table; those of the tables in it go into defs.
func schemaOf(t *Table, names map[*Table]string, defs map[string]any) map[string]any {
	properties, required := map[string]any{}, []string{}
	for i := range t.Keys {
		k := &t.Keys[i]
		if k.Required {
			required = append(required, k.Name)
		}
		properties[k.Name] = k.schema(func(sub *Table) map[string]any {
			if names[sub] == "" {
				// Tables have no names of their own, and two may have the same header.
				names[sub] = strings.Trim(strings.Join(strings.FieldsFunc(sub.Header, func(c rune) bool {
					return !('a' <= c && c <= 'z' || c == '_')
				}), "."), ".")
				for defs[names[sub]] != nil {
					names[sub] += ".again"
				}
				defs[names[sub]] = true // taken
				defs[names[sub]] = schemaOf(sub, names, defs)
			}
			return map[string]any{"$ref": "#/$defs/" + names[sub]}
		})
	}
	s := map[string]any{"type": "object", "description": t.Header + ": " + t.Doc, "properties": properties,
		"additionalProperties": false}
	if len(required) > 0 {
		s["required"] = required
	}
	return s
}

// schema is what may stand behind a key; table gives the schema of a table.
func (k *Key) schema(table func(*Table) map[string]any) map[string]any {
	var s map[string]any
	switch k.Kind {
	case Number:
		s = k.numeric("number")
		if k.Thread {
			s = map[string]any{"anyOf": []any{s, map[string]any{"type": "string"}}}
		}
		if k.Table != nil {
			s = map[string]any{"anyOf": []any{s, map[string]any{"type": "array", "items": table(k.Table)}}}
		}
	case Count:
		s = k.numeric("integer")
	case Pair:
		s = map[string]any{"type": "array", "items": k.numeric("number"), "minItems": 2, "maxItems": 2}
	case Numbers:
		s = map[string]any{"type": "array", "items": k.numeric("number")}
	case Text:
		s = map[string]any{"type": "string", "minLength": 1, "maxLength": longestName}
	case Names:
		s = map[string]any{"type": "array", "minItems": 1,
			"items": map[string]any{"type": "string", "minLength": 1, "maxLength": longestName}}
	case Word:
		s = map[string]any{"enum": k.Words}
	case Switch:
		s = map[string]any{"type": "boolean"}
	case Sub:
		s = maps.Clone(table(k.Table))
	case Subs:
		s = map[string]any{"type": "array", "items": table(k.Table)}
	case Shares:
		s = map[string]any{"type": "object", "additionalProperties": k.numeric("number")}
	case Clock:
		s = map[string]any{"type": "object", "additionalProperties": false,
			"patternProperties": map[string]any{"^0*([1-9]|1[0-2])$": k.numeric("number")}}
	case Sweep:
		angle := &Key{Range: turns}
		s = map[string]any{"type": "array", "items": map[string]any{"type": "array", "minItems": 2, "maxItems": 2,
			"prefixItems": []any{angle.numeric("number"), k.numeric("number")}}}
	default:
		panic(fmt.Sprintf("trainfile: the schema has no form for keys like %s", k.Name))
	}
	s["description"] = k.describe()
	return s
}

// numeric is a number within the wider of the key's ranges in mm and inch files.
func (k *Key) numeric(kind string) map[string]any {
	low, high := math.Inf(1), math.Inf(-1)
	for _, u := range []train.Units{train.Millimetres, train.Inches} {
		low, high = math.Min(low, k.Range.Min/k.Unit.size(u)), math.Max(high, k.Range.Max/k.Unit.size(u))
	}
	lowest := "minimum"
	if k.Range.Over {
		lowest = "exclusiveMinimum"
	}
	return map[string]any{"type": kind, lowest: low, "maximum": high}
}

// describe is what is to be known of a key: its meaning, range, default.
func (k *Key) describe() string {
	words := k.Doc
	if mm := k.Allowed(train.Millimetres); mm != "" && k.Kind != Word {
		words += "; " + mm
		if inch := k.Allowed(train.Inches); inch != mm {
			words += " (inch file: " + inch + ")"
		}
	}
	if !k.Required {
		defaults := slices.Compact([]string{k.Default[0], k.Default[1]})
		if defaults[0] != "" {
			words += "; default: " + strings.Join(defaults, " (inch file: ")
			if len(defaults) > 1 {
				words += ")"
			}
		}
	}
	return words
}
