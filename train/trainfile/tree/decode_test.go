package tree

import (
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/BurntSushi/toml"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Both parsers see the same keys in every train file of the project.
func TestBothParsersSeeTheSameKeys(t *testing.T) {
	files := 0
	for _, dir := range []string{"../testdata", "../../../testdata", "../../../examples"} {
		err := filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
			if err != nil || d.IsDir() || filepath.Ext(path) != ".toml" {
				return err
			}
			src, err := os.ReadFile(path)
			require.NoError(t, err)
			text := strings.TrimPrefix(string(src), "\ufeff")
			root, _, err := places(text, nil)
			var values map[string]any
			_, failed := toml.Decode(text, &values)
			if err != nil {
				assert.Error(t, failed, "%s: %v", path, err)
				return nil
			}
			if failed != nil {
				return nil // what TOML forbids beyond its grammar is left to this parser
			}
			files++
			assert.Equal(t, valueKeys("", values), root.keys(""), path)
			return nil
		})
		if !os.IsNotExist(err) {
			require.NoError(t, err)
		}
	}
	assert.Greater(t, files, 50)
}

// keys are the paths of all values below a node, in order.
func (n *Node) keys(at string) []string {
	var keys []string
	switch {
	case n.IsTable:
		for name, c := range n.Table {
			keys = append(keys, c.keys(at+"/"+name)...)
		}
	case n.IsList:
		for i, c := range n.List {
			keys = append(keys, c.keys(fmt.Sprint(at, "/", i))...)
		}
	}
	slices.Sort(keys)
	return append(keys, at)
}

func valueKeys(at string, v any) []string {
	var keys []string
	switch v := v.(type) {
	case map[string]any:
		for name, c := range v {
			keys = append(keys, valueKeys(at+"/"+name, c)...)
		}
	case []map[string]any:
		for i, c := range v {
			keys = append(keys, valueKeys(fmt.Sprint(at, "/", i), c)...)
		}
	case []any:
		for i, c := range v {
			keys = append(keys, valueKeys(fmt.Sprint(at, "/", i), c)...)
		}
	}
	slices.Sort(keys)
	return append(keys, at)
}

// Every value stands where its node says: the text there reads as the value.
func TestPlacesHoldTheirValues(t *testing.T) {
	const text = "# é\na = 1\r\n\tb.c = \"x\" # y\n[t]\nd = [ 1.5, \"two\" ]\ne = { f = true, 'g h' = -3 }\n[[u]]\ni " +
		"= 4\n[[ u ]]\nj = 5\n"
	root, err := Decode(text, nil)
	require.NoError(t, err)
	of := func(at Span) string { return text[at.Start:at.End] }
	at := func(path ...string) *Node {
		n := root
		for _, p := range path {
			if n.IsList {
				n = n.List[int(p[0]-'0')]
			} else {
				n = n.Table[p]
			}
		}
		require.NotNil(t, n)
		return n
	}
	for _, c := range []struct {
		path       string
		key, value string
	}{
		{"a", "a", "1"},
		{"b c", "c", `"x"`},
		{"t", "[t]", "[t]"},
		{"t d", "d", `[ 1.5, "two" ]`},
		{"t d 0", "1.5", "1.5"},
		{"t d 1", `"two"`, `"two"`},
		{"t e", "e", "{ f = true, 'g h' = -3 }"},
		{"t e f", "f", "true"},
		{"u 0", "[[u]]", "[[u]]"},
		{"u 1", "[[ u ]]", "[[ u ]]"},
		{"u 1 j", "j", "5"},
	} {
		n := at(strings.Fields(c.path)...)
		assert.Equal(t, c.key, of(n.Key), c.path)
		assert.Equal(t, c.value, of(n.Val), c.path)
	}
	assert.Equal(t, int64(-3), at("t", "e", "g h").Value)
	assert.Equal(t, "'g h'", of(at("t", "e", "g h").Key))
}
