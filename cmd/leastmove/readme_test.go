package main

import (
	"bytes"
	"flag"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/cmd/internal/manual"
	"leastmove/testdata/trains"
)

var update = flag.Bool("update", false, "write into README.md what the program prints")

const readmeFile = "../../README.md"

// manualFile is the file of a page of the manual.
func manualFile(name string) string { return "../internal/manual/" + name + ".md" }

// pageFiles are README and the manual, in the order in which they are read.
func pageFiles() []string {
	files := []string{readmeFile}
	for _, topic := range manual.Topics() {
		files = append(files, manualFile(topic.Name))
	}
	return files
}

// A fence is a block of README between two lines of backticks.
type fence struct {
	kind  string   // word after the first backticks
	file  string   // of a block that stands for a file
	shown []string // parts of the output that are shown, by their headings; nil: all
	lines []string // between the backticks
}

// fences splits a page into the lines outside its blocks and the blocks: piece
// i of the text stands before block i.
func fences(t *testing.T, page string) (text [][]string, blocks []fence) {
	lines := strings.Split(page, "\n")
	text = [][]string{nil}
	for i := 0; i < len(lines); i++ {
		last := &text[len(text)-1]
		kind, opens := strings.CutPrefix(lines[i], "```")
		if !opens {
			*last = append(*last, lines[i])
			continue
		}
		b := fence{kind: kind}
		if n := len(*last); n > 0 {
			name, named := strings.CutPrefix((*last)[n-1], "<!-- file: ")
			if named {
				b.file = strings.TrimSuffix(name, " -->")
			}
			parts, some := strings.CutPrefix((*last)[n-1], "<!-- shown: ")
			if some {
				b.shown = strings.Split(strings.TrimSuffix(parts, " -->"), "; ")
			}
		}
		for i++; ; i++ {
			require.Less(t, i, len(lines), "a block of README that does not end")
			if lines[i] == "```" {
				break
			}
			b.lines = append(b.lines, lines[i])
		}
		blocks, text = append(blocks, b), append(text, nil)
	}
	return text, blocks
}

func join(text [][]string, blocks []fence) string {
	var lines []string
	for i, b := range blocks {
		lines = append(lines, text[i]...)
		lines = append(append(append(lines, "```"+b.kind), b.lines...), "```")
	}
	return strings.Join(append(lines, text[len(text)-1]...), "\n")
}

func readPage(t *testing.T, file string) string {
	page, err := os.ReadFile(file)
	require.NoError(t, err)
	return string(page)
}

// rewrite stores the page where it is to be updated; else it must be the same.
func rewrite(t *testing.T, path, was, is string) {
	if was == is {
		return
	}
	if *update {
		require.NoError(t, os.WriteFile(path, []byte(is), 0o666))
		return
	}
	assert.Equal(t, is, was, "%s differs from what the program says; see it with -update and git diff", path)
}

// settle lays out, in a new working folder, what a reader of README and the manual
// has: their files and the examples.
func settle(t *testing.T) {
	folder := t.TempDir()
	require.NoError(t, os.CopyFS(filepath.Join(folder, "examples"), os.DirFS("../../examples")))
	for _, file := range pageFiles() {
		_, blocks := fences(t, readPage(t, file))
		for _, b := range blocks {
			if b.file != "" {
				require.NoError(t, os.WriteFile(filepath.Join(folder, b.file), []byte(strings.Join(b.lines, "\n")+"\n"), 0o666))
			}
		}
	}
	t.Chdir(folder)
}

// run runs a command line as README gives it. What a terminal would show, in
// its order, is the first result.
func run(t *testing.T, line string) (shown string, code int) {
	var out bytes.Buffer
	code = runTo(t, line, &out, &out)
	return out.String(), code
}

func runTo(t *testing.T, line string, out, told io.Writer) (code int) {
	args, ok := strings.CutPrefix(line, "leastmove ")
	if !ok {
		args, ok = strings.CutPrefix(line, "go run ./cmd/leastmove ")
	}
	require.True(t, ok, "README shows %q, which this test can't run", line)
	return sharing(strings.Fields(args), strings.NewReader(""), out, told)
}

// left stands in README for parts of an output that it leaves out.
const left = "..."

// excerpt is what stands before the first heading of an output and the parts under
// some of its headings, each of which must be there.
func excerpt(t *testing.T, lines, shown []string) []string {
	var out []string
	found := map[string]bool{}
	show := true
	for n, line := range lines {
		heading, headed := strings.CutSuffix(line, ":")
		if n > 0 && lines[n-1] != "" || strings.HasPrefix(line, " ") {
			headed = false
		}
		if n+1 < len(lines) && lines[n+1] != "" && strings.Trim(lines[n+1], "-") == "" {
			heading, headed = line, true
		}
		if headed {
			show = slices.Contains(shown, heading)
			found[heading] = true
		}
		if show {
			out = append(out, line)
		} else if len(out) == 0 || out[len(out)-1] != left {
			out = append(out, left)
		}
	}
	for _, heading := range shown {
		require.True(t, found[heading], "README shows %q of an output that has no such heading", heading)
	}
	return out
}

// Parts are left out of an output and the rest stays, in both kinds of heading.
func TestReadmeExcerpt(t *testing.T) {
	page := strings.Split("title\n\nMoves\n-----\nraise\n\nPacks\n-----\n  a\n\nEnds\n----\n- b\n- c", "\n")
	assert.Equal(t, []string{"title", "", "Moves", "-----", "raise", "", left}, excerpt(t, page, []string{"Moves"}))
	assert.Equal(t, []string{"title", "", left, "Ends", "----", "- b", "- c"}, excerpt(t, page, []string{"Ends"}))
	help := strings.Split("Usage:\n  a\n\nFlags:\n  -b\n\nExit codes:\n  0", "\n")
	assert.Equal(t, []string{left, "Flags:", "  -b", "", left}, excerpt(t, help, []string{"Flags"}))
}

// Every command line in README and in the manual runs, and prints what stands under it; by default those of README and
// of every third page of the manual.
func TestReadmeCommands(t *testing.T) {
	files := pageFiles()
	was := make([]string, len(files))
	for i, file := range files {
		was[i] = readPage(t, file)
		var err error
		files[i], err = filepath.Abs(file)
		require.NoError(t, err)
	}
	settle(t)
	commands := 0
	for i, page := range was {
		if i%3 != 0 && !trains.Everything() && !*update {
			continue
		}
		text, blocks := fences(t, page)
		for n := range blocks {
			commands += runBlock(t, &blocks[n])
		}
		rewrite(t, files[i], page, join(text, blocks))
	}
	require.Greater(t, commands, trains.Draws(8, 15))
}

// runBlock runs the commands of a block and puts what they print under them; it
// returns how many there are.
func runBlock(t *testing.T, b *fence) int {
	commands := 0
	switch b.kind {
	case "sh": // commands alone
		for _, line := range b.lines {
			if line == "go test ./..." {
				continue // this is it
			}
			commands++
			put := filledIn(t, line)
			_, code := run(t, line)
			assert.Zero(t, code, line)
			put()
		}
	case "console": // commands, and under each what it prints
		var shown []string
		code := 0
		for _, line := range b.lines {
			command, is := strings.CutPrefix(line, "$ ")
			if !is {
				continue
			}
			commands++
			out := fmt.Sprintln(code)
			if command != "echo $?" {
				var page, told bytes.Buffer
				if b.shown == nil {
					code = runTo(t, command, &page, &page)
				} else {
					code = runTo(t, command, &page, &told) // warnings are left out
				}
				out = page.String()
			}
			printed := strings.Split(strings.TrimSuffix(out, "\n"), "\n")
			if b.shown != nil && command != "echo $?" {
				printed = excerpt(t, printed, b.shown)
			}
			shown = append(append(shown, line), printed...)
		}
		b.lines = shown
	}
	return commands
}

// filledIn puts a file of the page aside that a command makes anew, as a reader's own has its name, and back in its
// place as the one that the reader has filled in.
func filledIn(t *testing.T, line string) (put func()) {
	_, name, makes := strings.Cut(line, " -o ")
	kept, err := os.ReadFile(name)
	if !makes || !strings.HasPrefix(line, "leastmove new ") || err != nil {
		return func() {}
	}
	require.NoError(t, os.Remove(name))
	return func() { require.NoError(t, os.WriteFile(name, kept, 0o644)) }
}

// Every link of README and the manual to a file of the project leads somewhere, with
// its heading where it names one.
func TestReadmeLinks(t *testing.T) {
	link := regexp.MustCompile(`\]\(([^)#:]*)(#[^)]*)?\)`)
	for _, file := range pageFiles() {
		for _, m := range link.FindAllStringSubmatch(readPage(t, file), -1) {
			target := file
			if m[1] != "" {
				target = filepath.Join(filepath.Dir(file), filepath.FromSlash(m[1]))
			}
			text, err := os.ReadFile(target)
			if !assert.NoError(t, err, "%s links to %s", file, m[0]) || m[2] == "" {
				continue
			}
			assert.True(t, slices.Contains(anchors(string(text)), m[2]), "%s links to %s", file, m[0])
		}
	}
}

// anchors are those that a repository page gives to the headings of Markdown.
func anchors(page string) []string {
	var out []string
	odd := regexp.MustCompile(`[^\p{L}\p{N}_\- ]`)
	for _, line := range strings.Split(page, "\n") {
		if words := strings.TrimLeft(line, "#"); words != line {
			name := odd.ReplaceAllString(strings.ToLower(strings.TrimSpace(words)), "")
			out = append(out, "#"+strings.ReplaceAll(name, " ", "-"))
		}
	}
	return out
}

// between cuts what stands between two marks out of a page.
func between(t *testing.T, page, name string) (before, within, after string) {
	before, rest, ok := strings.Cut(page, "<!-- "+name+": begin")
	require.True(t, ok, name)
	mark, rest, ok := strings.Cut(rest, "-->\n")
	require.True(t, ok, name)
	within, after, ok = strings.Cut(rest, "<!-- "+name+": end -->")
	require.True(t, ok, name)
	return before + "<!-- " + name + ": begin" + mark + "-->\n", within, "<!-- " + name + ": end -->" + after
}

// asOf stands in a row of a table of keys before the key whose keys its own are like.
const asOf = " Keys as of `"
