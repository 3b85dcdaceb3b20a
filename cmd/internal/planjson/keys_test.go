package planjson

import (
	"flag"
	"fmt"
	"os"
	"reflect"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

var update = flag.Bool("update", false, "write the tables of keys into the manual")

// The tables of JSON keys in the manual are those of the forms that the program writes. What has a form that was
// there before, in the same document or an earlier one, has a reference instead of keys of its own.
func TestManualHasKeys(t *testing.T) {
	const file = "../manual/json.md"
	page, err := os.ReadFile(file)
	require.NoError(t, err)
	made, seen := string(page), map[reflect.Type]string{}
	for _, d := range documents() {
		if d.command == "plan" {
			seen[d.form] = "plan"
		}
		w := &keyWalk{seen: seen}
		w.walk(d.form, "")
		require.Greater(t, w.rows, 15, d.command)
		begin := strings.Index(made, "<!-- "+d.command+": begin")
		require.GreaterOrEqual(t, begin, 0, d.command)
		begin += strings.Index(made[begin:], "-->\n") + len("-->\n")
		end := strings.Index(made, "<!-- "+d.command+": end -->")
		require.Greater(t, end, begin, d.command)
		made = made[:begin] + "\n| key | meaning |\n|---|---|\n" + w.table.String() + "\n" + made[end:]
	}
	if *update {
		require.NoError(t, os.WriteFile(file, []byte(made), 0o666))
		return
	}
	assert.Equal(t, made, string(page), "%s differs from the forms; see it with -update and git diff", file)
}

// A keyWalk goes through the forms of a document.
type keyWalk struct {
	seen  map[reflect.Type]string // where a form was first: the path of its key, with dots, and "[]" behind a list
	table strings.Builder
	rows  int
}

func (w *keyWalk) walk(form reflect.Type, at string) {
	for _, f := range fieldsOf(form) {
		if f.hand == "only" {
			continue
		}
		path, kind := at+f.key, f.kind
		for kind.Kind() == reflect.Slice || kind.Kind() == reflect.Pointer {
			if kind.Kind() == reflect.Slice {
				path += "[]"
			}
			kind = kind.Elem()
		}
		key, about, as := "`"+path+"`", f.described(), ""
		if list, is := strings.CutSuffix(path, "[]"); is && f.nullable {
			key = "`" + list + "`, " + key
		}
		below := kind.Kind() == reflect.Struct
		if below {
			as = w.seen[kind]
		}
		if as != "" {
			about += " Keys as of `" + as + "`"
		}
		fmt.Fprintf(&w.table, "| %s | %s |\n", key, strings.ReplaceAll(about, "|", `\|`))
		if w.rows++; below && as == "" {
			w.seen[kind] = path
			w.walk(kind, path+".")
		}
	}
}
