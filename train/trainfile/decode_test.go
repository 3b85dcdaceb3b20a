package trainfile

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
	for _, dir := range []string{"testdata", "../../testdata", "../../examples"} {
		err := filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
			if err != nil || d.IsDir() || filepath.Ext(path) != ".toml" {
				return err
			}
			src, err := os.ReadFile(path)
			require.NoError(t, err)
			text := strings.TrimPrefix(string(src), "\ufeff")
			root, err := places(text)
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
func (n *node) keys(at string) []string {
	var keys []string
	switch {
	case n.isTable:
		for name, c := range n.table {
			keys = append(keys, c.keys(at+"/"+name)...)
		}
	case n.isList:
		for i, c := range n.list {
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
	const text = "# é\na = 1\r\n\tb.c = \"x\" # y\n[t]\nd = [ 1.5, \"two\" ]\ne = { f = true, 'g h' = -3 }\n[[u]]\ni = 4\n[[ u ]]\nj = 5\n"
	root, err := decode(text)
	require.NoError(t, err)
	s := newSource("", text)
	at := func(path ...string) *node {
		n := root
		for _, p := range path {
			if n.isList {
				n = n.list[int(p[0]-'0')]
			} else {
				n = n.table[p]
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
		assert.Equal(t, c.key, s.of(n.key), c.path)
		assert.Equal(t, c.value, s.of(n.val), c.path)
	}
	assert.Equal(t, int64(-3), at("t", "e", "g h").value)
	assert.Equal(t, "'g h'", s.of(at("t", "e", "g h").key))
}

// numbered repeats a text with a number in it.
func numbered(format string, n int) string {
	var b strings.Builder
	for i := range n {
		fmt.Fprintf(&b, format, i)
	}
	return b.String()
}

// What is too large or too deep is refused, with its place, before it costs
// much.
func TestCaps(t *testing.T) {
	for _, c := range []struct {
		why, text, message string
		line               int
	}{
		{"a file of over 4 MB", strings.Repeat("#", mostBytes+1), "the file has 4194305 bytes, at most 4194304 are read", 1},
		{"lists in lists", "a = 1\nb = " + strings.Repeat("[", 60) + strings.Repeat("]", 60), "tables and arrays nested more than 50 deep", 2},
		{"a million lists in lists", "b = " + strings.Repeat("[", 1_000_000), "", 1},
		{"a key of a million parts", "a = 1\n\n" + strings.Repeat("b.", 1_000_000) + "c = 1", "tables and arrays nested more than 50 deep", 3},
		{"a header of a million parts", "[" + strings.Repeat("b.", 1_000_000) + "c]", "tables and arrays nested more than 50 deep", 1},
		{"2,001 machines", strings.Repeat("[[machine]]\n", 2001), "the file has 2001 machines, at most 2000 are read", 2001},
		{"2,001 machines in braces", "\nmachine = [" + strings.Repeat("{},", 2001) + "]", "the file has 2001 machines, at most 2000 are read", 2},
		{"a list of 300,000 numbers", "a = [" + strings.Repeat("1,", 300_000) + "]", "the file has more than 200000 values", 1},
		{"300,000 keys", numbered("k%d=1\n", 300_000), "the file has more than 200000 values", 200_001},
		{"300,000 tables", strings.Repeat("[[coupling]]\n", 300_000), "the file has more than 200000 values", 200_001},
		{"a whole number of 100,000 digits", "a = " + strings.Repeat("1", 100_000), "", 1},
		{"a number in hexadecimal of 100,000 digits", "a = 0x" + strings.Repeat("1", 100_000), "", 1},
		{"text that is not UTF-8", "a = 1\nb = \"\xff\"", "byte 0xff is not UTF-8 text", 2},
	} {
		got, report := Read("large.toml", []byte(c.text), Options{})
		assert.Nil(t, got, c.why)
		require.Equal(t, 1, len(report), c.why)
		assert.Equal(t, c.line, report[0].Line, c.why)
		if c.message != "" {
			assert.Equal(t, c.message, report[0].Message, c.why)
		}
		assert.Less(t, len(report.String()), 1000, "%s: what is printed stays short", c.why)
	}
}
