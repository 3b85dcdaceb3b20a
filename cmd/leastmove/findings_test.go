package main

import (
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/testdata/trains"
)

// What the file does not say must not look like certainty: testdata/findings/README.md has a table of what was found
// wrong, each with a command and what it prints now. Every third command is run, or all, and every text of it looked
// for. Every test that is named is one.
func TestFindings(t *testing.T) {
	const folder = "../../testdata/findings"
	page := readPage(t, filepath.Join(folder, "README.md"))
	tests := testNames(t)
	code := regexp.MustCompile("`([^`]*)`")
	t.Chdir(folder)
	used, printed, rows := map[string]bool{}, map[string]string{}, 0
	for line := range strings.Lines(page) {
		cells := strings.Split(strings.TrimSuffix(strings.TrimSpace(line), "|"), "|")
		if len(cells) != 6 || !strings.Contains(cells[2], "`") {
			continue
		}
		rows++
		command := strings.Trim(strings.TrimSpace(cells[2]), "`")
		shown, known := printed[command]
		if n := len(printed); !known && (n%3 == 0 || trains.Everything()) {
			shown, _ = run(t, "leastmove "+command)
			shown = strings.Join(strings.Fields(shown), " ")
		}
		printed[command] = shown
		told := code.FindAllStringSubmatch(cells[4], -1)
		require.NotEmpty(t, told, line)
		for _, text := range told {
			if shown == "" {
				continue // not run
			}
			absent, not := strings.CutPrefix(text[1], "not: ")
			if not {
				assert.NotContains(t, shown, absent, command)
			} else {
				assert.Contains(t, shown, text[1], command)
			}
		}
		for _, word := range strings.Fields(command) {
			if strings.HasSuffix(word, ".toml") {
				used[word] = true
			}
		}
		named := code.FindAllStringSubmatch(cells[5], -1)
		require.NotEmpty(t, named, line)
		for _, name := range named {
			assert.Contains(t, tests, name[1], "no such test")
		}
	}
	assert.Greater(t, rows, 25)
	files, err := filepath.Glob("*.toml")
	require.NoError(t, err)
	for _, file := range files {
		assert.True(t, used[file], "%s is of no use", file)
	}
}

// testNames are those of all tests of the project.
func testNames(t *testing.T) map[string]bool {
	t.Helper()
	name := regexp.MustCompile(`(?m)^func (Test\w+)\(|^\s+def (test_\w+)\(`)
	out := map[string]bool{}
	require.NoError(t, fs.WalkDir(os.DirFS("../.."), ".", func(path string, d fs.DirEntry, err error) error {
		if err != nil || !strings.HasSuffix(path, "_test.go") && !strings.HasPrefix(filepath.Base(path), "test_") {
			return err
		}
		text, err := os.ReadFile(filepath.Join("../..", path))
		for _, m := range name.FindAllStringSubmatch(string(text), -1) {
			out[m[1]+m[2]] = true
		}
		return err
	}))
	return out
}
