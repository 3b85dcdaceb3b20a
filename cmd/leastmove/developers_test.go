package main

import (
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const developersFile = "../../DEVELOPERS.md"

// A checkout is the project's files, and what its Go files declare.
type checkout struct {
	files    []string // from the root, with strokes; folders too
	declared map[string]bool
}

// checkedOut reads the project's files.
func checkedOut(t *testing.T) *checkout {
	c := &checkout{declared: map[string]bool{}}
	names := regexp.MustCompile(`(?m)^(?:func (?:\([^)]*\) )?|type |\t)([A-Za-z]\w*)`)
	root := os.DirFS("../..")
	require.NoError(t, fs.WalkDir(root, ".", func(file string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if file == ".git" && d.IsDir() {
			return fs.SkipDir
		}
		c.files = append(c.files, file)
		if path.Ext(file) != ".go" {
			return nil
		}
		text, err := fs.ReadFile(root, file)
		for _, m := range names.FindAllStringSubmatch(string(text), -1) {
			c.declared[m[1]] = true
		}
		return err
	}))
	return c
}

// has says whether there is a file or folder of a name, which may be a pattern, at the root
// or in some folder.
func (c *checkout) has(name string) bool {
	for _, file := range c.files {
		for rest := file; ; {
			if is, _ := path.Match(name, rest); is {
				return true
			}
			_, below, more := strings.Cut(rest, "/")
			if !more {
				break
			}
			rest = below
		}
	}
	return false
}

// missing says what of a word in backticks is not there: a file, a folder, a command's
// folder or tests, or a name that Go files declare. "" where all is there.
func (c *checkout) missing(word string) string {
	switch fields := strings.Fields(word); {
	case len(fields) > 1 || strings.HasPrefix(word, ".ci/"):
		for i, f := range fields {
			switch {
			case i > 0 && fields[i-1] == "-run":
				if !c.test(f) {
					return "a test called " + f
				}
			case strings.HasPrefix(f, "./") && f != "./..." || strings.HasPrefix(f, ".ci/") || strings.HasPrefix(f, "testdata/"):
				if !c.has(strings.TrimPrefix(f, "./")) {
					return f
				}
			}
		}
	case regexp.MustCompile(`^[\w*./-]+\.(go|md|py|sh|toml|txtar|want|json|txt)$`).MatchString(word) ||
		regexp.MustCompile(`^(train|optimize|bolts|cmd|testdata|examples)/[\w*./-]+$`).MatchString(word):
		if !c.has(strings.TrimSuffix(word, "/")) && word != "sha256sums.txt" {
			return word
		}
	case regexp.MustCompile(`^(\w+\.)?[A-Z]\w*[a-z]\w*$`).MatchString(word):
		if name := word[strings.LastIndex(word, ".")+1:]; !c.declared[name] && !strings.HasPrefix(word, "InDelta") {
			return "a declaration of " + name
		}
	}
	return ""
}

// test says whether the name of some test holds a word.
func (c *checkout) test(word string) bool {
	for name := range c.declared {
		if strings.HasPrefix(name, "Test") && strings.Contains(name, word) {
			return true
		}
	}
	return false
}

// Every file, folder, command, test and name of the code that DEVELOPERS.md has in backticks
// or as a command is there, and its links lead somewhere. It stays short.
func TestDevelopersNamesWhatIsThere(t *testing.T) {
	text, err := os.ReadFile(developersFile)
	require.NoError(t, err)
	assert.LessOrEqual(t, len(text), 15_000, "bytes")
	c := checkedOut(t)
	words := regexp.MustCompile("`([^`\n]+)`").FindAllStringSubmatch(string(text), -1)
	words = append(words,
		regexp.MustCompile(`(?m)^    ((?:go|/usr/bin/python3|\.ci/run).*)$`).FindAllStringSubmatch(string(text), -1)...)
	require.Greater(t, len(words), 100)
	for _, w := range words {
		assert.Empty(t, c.missing(w[1]), "DEVELOPERS.md has %q", w[1])
	}
	for _, m := range regexp.MustCompile(`\]\(([^)]*)\)`).FindAllStringSubmatch(string(text), -1) {
		_, err := os.Stat(filepath.Join("../..", m[1]))
		assert.NoError(t, err, m[0])
	}
}

// What is not there is told, of every sort.
func TestMissingIsTold(t *testing.T) {
	c := checkedOut(t)
	for _, word := range []string{"optimize/nothere.go", "bnb/treee.go", "train/nofolder", "go run ./testdata/plants",
		"go test ./optimize -run NoSuchTest", "Plan.Tak", "TestNoSuchThing", ".ci/runs", "testdata/*.tom.l/x.want"} {
		assert.NotEmpty(t, c.missing(word), word)
	}
	for _, word := range []string{"optimize/make.go", "bnb/tree.go", "train/readings", "go run ./testdata/planted",
		"go test ./cmd/leastmove -run Readme -update", "Plan.Take", "mip.Problem", ".ci/run", "testdata/faulty/*.toml", "raise 5"} {
		assert.Empty(t, c.missing(word), word)
	}
}
