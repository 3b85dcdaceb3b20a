package main

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"flag"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/cmd/internal/cli"
	"leastmove/cmd/internal/manual"
	"leastmove/cmd/internal/planjson"
	"leastmove/train"
	"leastmove/train/trainfile"
)

var update = flag.Bool("update", false, "write into README.md what the program prints")

const readmeFile = "../../README.md"

// manualFile is the file of a page of the manual.
func manualFile(name string) string { return "../internal/manual/" + name + ".md" }

// pageFiles are README and the manual, in the order in which they are read.
func pageFiles() []string {
	files := []string{readmeFile}
	for _, name := range manual.Order() {
		files = append(files, manualFile(name))
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
	return cli.Run(strings.Fields(args), strings.NewReader(""), out, told)
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

// Every command line in README and in the manual runs, and prints what stands under it.
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
		text, blocks := fences(t, page)
		for n := range blocks {
			commands += runBlock(t, &blocks[n])
		}
		rewrite(t, files[i], page, join(text, blocks))
	}
	require.Greater(t, commands, 15)
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
			_, code := run(t, line)
			assert.Zero(t, code, line)
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

// The tables of keys and of materials in README are those of the code.
func TestReadmeTables(t *testing.T) {
	file := manualFile("train-file")
	page := readPage(t, file)
	before, _, after := between(t, page, "keys")
	made := before + "\n" + keyTables() + after
	before, _, after = between(t, made, "materials")
	made = before + "\n" + materialTable() + "\n" + after
	rewrite(t, file, page, made)
}

// The tables of JSON keys in the manual are those of the forms that the program writes.
func TestReadmeKeysOfJSON(t *testing.T) {
	file := manualFile("json")
	page := readPage(t, file)
	made := page
	all := planjson.Documents()
	for _, command := range planjson.Documented() {
		require.Greater(t, len(all[command]), 15, command)
		var b strings.Builder
		b.WriteString("\n| key | meaning |\n|---|---|\n")
		for _, k := range all[command] {
			path := "`" + k.Path + "`"
			if k.Null {
				path = "`" + strings.TrimSuffix(k.Path, "[]") + "`, " + path
			}
			if k.As != "" {
				k.About += asOf + k.As + "`"
			}
			fmt.Fprintf(&b, "| %s | %s |\n", path, strings.ReplaceAll(k.About, "|", `\|`))
		}
		before, _, after := between(t, made, command)
		made = before + b.String() + "\n" + after
	}
	rewrite(t, file, page, made)
}

// asOf stands in a row of a table of keys before the key whose keys its own are like.
const asOf = " Keys as of `"

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

func keyTables() string {
	var b strings.Builder
	tables := trainfile.Tables()
	for i, table := range tables {
		fmt.Fprintf(&b, "## `%s`\n\n%s.\n\n", table.Header, sentence(table.Doc))
		if i > 0 && table.Repeats(tables[i-1]) {
			var names []string
			for _, k := range table.Keys {
				names = append(names, "`"+k.Name+"`")
			}
			fmt.Fprintf(&b, "Any of %s, as in the table above.\n\n", strings.Join(names, ", "))
			continue
		}
		b.WriteString("| key | value | range | default | meaning |\n|---|---|---|---|---|\n")
		for _, k := range table.Keys {
			fmt.Fprintf(&b, "| `%s` | %s | %s | %s | %s |\n", k.Name, value(k), span(k), standard(k),
				strings.ReplaceAll(k.Doc, "|", `\|`))
		}
		b.WriteString("\n")
	}
	return b.String()
}

func sentence(s string) string { return strings.ToUpper(s[:1]) + s[1:] }

// value is what stands behind a key, with its unit in an mm and an inch file.
func value(k trainfile.Key) string {
	unit := k.Unit.In(train.Millimetres)
	if inch := k.Unit.In(train.Inches); inch != unit {
		unit += " / " + inch
	}
	switch k.Kind {
	case trainfile.Number:
		if unit == "" {
			return "number"
		}
		return unit
	case trainfile.Count:
		return "whole number"
	case trainfile.Pair:
		return "two numbers, " + unit
	case trainfile.Numbers:
		return "numbers, " + unit
	case trainfile.Text, trainfile.Word:
		return "text"
	case trainfile.Switch:
		return "true or false"
	case trainfile.Sub:
		return "table"
	case trainfile.Subs:
		return "tables"
	case trainfile.Shares:
		return "table of numbers"
	case trainfile.Clock:
		return "table of clock positions, " + unit
	case trainfile.Sweep:
		return "pairs, degrees and " + unit
	}
	panic("a kind of value that README has no word for")
}

// span is the range of a key's numbers in an mm file.
func span(k trainfile.Key) string {
	s := k.Allowed(train.Millimetres)
	unit := k.Unit.In(train.Millimetres)
	return strings.ReplaceAll(strings.TrimSuffix(s, " "+unit), "\"", "`")
}

func standard(k trainfile.Key) string {
	switch {
	case k.Required:
		return "required"
	case k.Default[0] == "":
		return ""
	case k.Default[0] != k.Default[1]:
		return k.Default[0] + " / " + k.Default[1]
	}
	return k.Default[0]
}

func materialTable() string {
	var b strings.Builder
	b.WriteString("| `material` | growth in 1e-6 per °F | in 1e-6 per °C | source |\n|---|---|---|---|\n")
	for _, m := range trainfile.Materials() {
		fmt.Fprintf(&b, "| %s | %.4g | %.4g | %s |\n", strings.Join(m.Names, ", "), m.Coefficient,
			1.8*m.Coefficient, m.Source)
	}
	return b.String()
}

// The calculation by hand in README is redone from the moves that the program
// gives for its train, and must come to what the program says. README's moves
// are the motor's, at its own stations 0 and 560 mm; the coupling is at 760.
func TestReadmeByHand(t *testing.T) {
	_, section, ok := strings.Cut(readPage(t, manualFile("model")), "## The same by hand")
	require.True(t, ok)
	section, _, _ = strings.Cut(section, "\n## ")
	settle(t)
	out, code := run(t, "leastmove plan train.toml --format json")
	require.Zero(t, code)
	type tilt struct{ Offset, Angle float64 }
	var plan struct {
		Total    float64
		Machines []struct {
			Feet []struct{ Up, Left float64 }
		}
		Couplings []struct {
			States []struct{ Planned struct{ V, H tilt } }
		}
	}
	require.NoError(t, json.Unmarshal([]byte(out), &plan))
	feet := plan.Machines[0].Feet
	fan, drive := feet[0], feet[2]
	section = strings.Join(strings.Fields(section), " ")
	says := func(words string) { assert.True(t, strings.Contains(section, words), "it should say %q", words) }
	plane := func(at0, at560, foundOffset, foundAngle, growth float64, planned tilt) tilt {
		slope := (at560 - at0) / 0.560
		move := at0 + 0.760*slope
		offset, angle := foundOffset-growth-move, foundAngle-slope
		for _, v := range []float64{slope, move, offset, angle} {
			says(fmt.Sprintf("%.4f", v))
		}
		assert.InDelta(t, offset, planned.Offset, 0.001)
		assert.InDelta(t, angle, planned.Angle, 0.001)
		return tilt{offset, angle}
	}
	planned := plan.Couplings[0].States[0].Planned
	v := plane(fan.Up, drive.Up, 0.30, -0.40, 0.12, planned.V)
	h := plane(fan.Left, drive.Left, -0.45, 0.60, 0, planned.H)
	says(fmt.Sprintf("%.1f %%", 100*math.Hypot(v.Offset, h.Offset)/0.08))
	says(fmt.Sprintf("%.1f %%", 100*math.Hypot(v.Angle, h.Angle)/0.5))
	says(fmt.Sprintf("= %.2f mm", plan.Total))
}

// What README says of setting machine after machine is what compare says of its train: the least
// and the largest total of the cascades, each of which breaks a limit, beside the plan's.
func TestReadmeCascades(t *testing.T) {
	page := strings.Join(strings.Fields(readPage(t, readmeFile)), " ")
	said := regexp.MustCompile(`take ([0-9.]+) to ([0-9.]+) mm, and each breaks a limit; the plan takes ([0-9.]+) mm`).
		FindStringSubmatch(page)
	require.Len(t, said, 4)
	settle(t)
	out, code := run(t, "leastmove compare examples/five-machines/before.toml --format csv")
	require.Zero(t, code, out)
	var totals []float64
	rows, err := csv.NewReader(strings.NewReader(out[strings.Index(out, "kind,"):])).ReadAll()
	require.NoError(t, err)
	column := func(name string) int { return slices.Index(rows[0], name) }
	least := ""
	for _, row := range rows[1:] {
		switch {
		case row[column("kind")] == "cascade":
			total, err := strconv.ParseFloat(row[column("total (mm)")], 64)
			require.NoError(t, err)
			totals = append(totals, total)
			assert.Contains(t, row[column("why")], "breaks limits: ")
		case row[column("way")] == "least total":
			least = row[column("total (mm)")]
		}
	}
	require.Len(t, totals, 5)
	assert.Equal(t, said[1:], []string{fmt.Sprintf("%.2f", slices.Min(totals)), fmt.Sprintf("%.2f", slices.Max(totals)), least})
}

// The picture shows the moves of the plan in README.
func TestReadmePicture(t *testing.T) {
	picture, err := os.ReadFile("../../examples/train.svg")
	require.NoError(t, err)
	said := regexp.MustCompile(`(?:[+−]|left |right )\d+\.\d+`).FindAllString(string(picture), -1)
	settle(t)
	page, code := run(t, "leastmove plan train.toml")
	require.Zero(t, code)
	moves, _, ok := strings.Cut(page, "\nCouplings: ")
	require.True(t, ok)
	seen := map[string]bool{}
	for _, words := range said {
		shown := strings.NewReplacer("+", "raise ", "−", "remove ").Replace(words)
		assert.Contains(t, moves, shown, "the picture says %q, the plan does not", words)
		seen[shown] = true
	}
	for _, move := range regexp.MustCompile(`(?:raise|remove|left|right) [0-9.]+`).FindAllString(moves, -1) {
		assert.True(t, seen[move], "the picture has no %q", move)
	}
	assert.Len(t, seen, 6, "three feet raised and moved sideways")
}

// The manual's picture of which way is which is the one that its command draws.
func TestReadmeSigns(t *testing.T) {
	picture, err := os.ReadFile("../../examples/signs.svg")
	require.NoError(t, err)
	settle(t)
	_, code := run(t, "leastmove chart train.toml --figure signs -o signs.svg")
	require.Zero(t, code)
	drawn, err := os.ReadFile("signs.svg")
	require.NoError(t, err)
	assert.Equal(t, string(picture), string(drawn), "examples/pictures.sh makes it anew")
}

// What the manual says of an assured plan is what the program does: the command prints the row of the other plans.
func TestReadmeAssurance(t *testing.T) {
	_, said, ok := strings.Cut(readPage(t, manualFile("plan")), "## A chance that is asked for")
	require.True(t, ok)
	said, _, _ = strings.Cut(said, "\n## ")
	assert.Contains(t, said, "A chance of 0.95 is a row of the other plans on every page; the command prints that row.")
	settle(t)
	const train = "leastmove plan examples/turbine/before.toml"
	assert.Contains(t, said, train+" --assure 0.95")
	out, code := run(t, train)
	require.Zero(t, code, out)
	row := regexp.MustCompile(`(?m)^ +([0-9.]+) +([0-9]+ %) +([0-9.]+ %) .* --assure 0\.95$`).FindStringSubmatch(out)
	require.Len(t, row, 4, out)
	out, code = run(t, train+" --assure 0.95")
	require.Zero(t, code, out)
	page := strings.Join(strings.Fields(out), " ")
	assert.Contains(t, page, "total "+row[1]+" mm")
	assert.Contains(t, page, "ends at "+row[2]+" of its limit")
	assert.Contains(t, page, "CARRY OUT: "+row[3]+" chance of ending within all limits (95 % wanted)")
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
	trains, err := filepath.Glob("examples/*/before.toml")
	require.NoError(t, err)
	require.NotEmpty(t, trains)
	for _, c := range []struct {
		command, said string
		flags         []string
	}{
		{"plan", plan, nil}, {"plan", plan, []string{"--assure", "0.95"}},
		{"check", plan + check, nil}, {"compare", plan + compare, []string{"--subsets", "--trade"}},
	} {
		found := map[string]bool{}
		for _, file := range trains {
			cli.Run(append([]string{c.command, file, "--format", "json", "-o", "out.json"}, c.flags...), strings.NewReader(""),
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
