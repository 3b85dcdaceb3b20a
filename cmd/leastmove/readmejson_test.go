package main

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/testdata/trains"
)

// names says whether tables of keys name one, by itself or by a row that says that its keys are
// like those of another.
func names(said, path string) bool {
	if strings.Contains(said, "`"+path+"`") {
		return true
	}
	for at := strings.LastIndex(path, "."); at > 0; at = strings.LastIndex(path[:at], ".") {
		_, row, found := strings.Cut(said, "| `"+path[:at]+"` | ")
		row, _, _ = strings.Cut(row, "\n")
		if _, as, is := strings.Cut(row, asOf); found && is {
			as, _, _ = strings.Cut(as, "`")
			return names(said, as+path[at:])
		}
	}
	return false
}

// README names every key that the program writes in JSON for its examples.
func TestReadmeNamesKeysOfJSON(t *testing.T) {
	page := readPage(t, manualFile("json"))
	_, plan, ok := strings.Cut(page, "## `plan --format json`")
	require.True(t, ok)
	plan, check, ok := strings.Cut(plan, "## `check --format json`")
	require.True(t, ok)
	check, compare, ok := strings.Cut(check, "## `compare --format json`")
	require.True(t, ok)
	settle(t)
	files, err := filepath.Glob("examples/*/before.toml")
	require.NoError(t, err)
	require.NotEmpty(t, files)
	for _, c := range []struct {
		command, said string
		flags         []string
	}{
		{"plan", plan, nil}, {"plan", plan, []string{"--assure", "0.95"}},
		{"check", plan + check, nil}, {"compare", plan + compare, []string{"--subsets", "--trade"}},
	} {
		found := map[string]bool{}
		of := files
		if c.flags != nil || c.command == "plan" { // many plans each
			of = files[trains.Draws(len(files)-2, 0):trains.Draws(len(files)-1, len(files))]
		}
		for _, file := range of {
			sharing(append([]string{c.command, file, "--format", "json", "-o", "out.json"}, c.flags...), strings.NewReader(""),
				&bytes.Buffer{}, &bytes.Buffer{})
			text, err := os.ReadFile("out.json")
			if c.flags != nil && c.command == "plan" && os.IsNotExist(err) {
				continue // the file states no errors
			}
			require.NoError(t, err, file)
			var doc any
			require.NoError(t, json.Unmarshal(text, &doc))
			paths(doc, "", found)
			require.NoError(t, os.Remove("out.json"))
		}
		require.Greater(t, len(found), 20, c.command)
		for path := range found {
			assert.True(t, names(c.said, path), "%s --format json writes %s, README does not name it",
				c.command, path)
		}
	}
}

// README names every key of what is said of a plan that was given, and of what
// became of the moves, as the pages that are kept have them.
func TestReadmeNamesKeysOfAfter(t *testing.T) {
	page := readPage(t, manualFile("json"))
	_, plan, ok := strings.Cut(page, "## `plan --format json`")
	require.True(t, ok)
	plan, verify, ok := strings.Cut(plan, "## `verify --format json`")
	require.True(t, ok)
	verify, _, ok = strings.Cut(verify, "## `check --format json`")
	require.True(t, ok)
	for _, c := range []struct{ file, said string }{{"replay", plan}, {"verify", plan + verify}} {
		text, err := os.ReadFile("../internal/pages/testdata/" + c.file + ".json")
		require.NoError(t, err)
		var doc map[string]any
		require.NoError(t, json.Unmarshal(text, &doc))
		delete(doc, "remaining") // a plan
		found := map[string]bool{}
		paths(doc, "", found)
		require.Greater(t, len(found), 40)
		for path := range found {
			if rest := strings.TrimPrefix(path, "couplings[].rest."); c.file == "verify" && rest != path {
				path = "couplings[].rest." + rest[:strings.IndexByte(rest, '.')] // the same form each
			}
			assert.True(t, names(c.said, path), "%s.json has %s, README does not name it", c.file, path)
		}
	}
}

// paths collects the keys of a document that hold no further keys.
func paths(v any, at string, found map[string]bool) {
	switch v := v.(type) {
	case map[string]any:
		for k, below := range v {
			paths(below, strings.TrimPrefix(at+"."+k, "."), found)
		}
	case []any:
		for _, below := range v {
			paths(below, at+"[]", found)
		}
	default:
		found[at] = true
	}
}
