package planjson

import "reflect"

// A Key is one key of a document.
type Key struct {
	Path  string // from the top, with dots, and "[]" behind a list
	Null  bool   // a list that may be null
	About string // what it is, with its unit
	As    string // path of a key whose keys its own are like, there or in an earlier document; "": they follow
}

// Documents are the keys of all documents, each in its order. What has a form that was there
// before, in the same document or an earlier one, has As instead of keys of its own.
func Documents() map[string][]Key {
	out, seen := map[string][]Key{}, map[reflect.Type]string{}
	for _, d := range documents() {
		w := &keyWalk{seen: seen}
		if d.command == "plan" {
			seen[d.form] = "plan"
		}
		w.walk(d.form, "")
		out[d.command] = w.keys
	}
	return out
}

// A keyWalk goes through the forms of a document.
type keyWalk struct {
	seen map[reflect.Type]string // where a form was first
	keys []Key
}

func (w *keyWalk) walk(form reflect.Type, at string) {
	for _, f := range fieldsOf(form) {
		if f.hand == "only" {
			continue
		}
		k, kind := Key{Path: at + f.key, About: f.described()}, f.kind
		for kind.Kind() == reflect.Slice || kind.Kind() == reflect.Pointer {
			if kind.Kind() == reflect.Slice {
				k.Path += "[]"
				k.Null = f.nullable
			}
			kind = kind.Elem()
		}
		below := kind.Kind() == reflect.Struct
		if below {
			k.As = w.seen[kind]
		}
		w.keys = append(w.keys, k)
		if below && k.As == "" {
			w.seen[kind] = k.Path
			w.walk(kind, k.Path+".")
		}
	}
}
