package main

import (
	"encoding/csv"
	"encoding/json"
	"fmt"
	"html"
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

	"leastmove/testdata/families"
	"leastmove/testdata/trains"
)

// A told is what one output says of a plan.
type told struct {
	moves          map[string][2]float64 // by machine and foot, up and left, in the file's units; feet that stay left out
	total, largest string                // as printed
	shares         map[string]string     // of limit after the moves, by coupling, in per cent; nil: it has none
}

// output is what a command writes.
func output(t *testing.T, args ...string) string {
	t.Helper()
	w := runOnce(args...)
	require.Contains(t, []int{0, 3}, w.code, "%s: %s", args, w.errs)
	return w.out
}

// Every number of moves, shares and totals is the same in text, JSON, CSV, report, figures, sheet and verify.
func TestEveryOutputHasTheSameNumbers(t *testing.T) {
	var files []string
	for _, name := range plannedExamples()[:trains.Draws(1, len(plannedExamples()))] {
		files = append(files, "../../examples/"+name+"/before.toml")
	}
	drawn := 0
	for _, family := range []string{"gear", "inch", "spacer", "two", "held", "gap"} {
		for seed := uint64(921); drawn < trains.Draws(0, 6) && seed < 925; seed++ {
			path := filepath.Join(t.TempDir(), fmt.Sprintf("%s-%d.toml", family, seed))
			require.NoError(t, os.WriteFile(path, []byte(families.TOML(family, seed)), 0o666))
			w := runOnce("plan", path, "--format", "json")
			if w.code == 0 && strings.Contains(w.out, `"status": "planned"`) {
				files, drawn = append(files, path), drawn+1
				break
			}
		}
	}
	for _, file := range files {
		t.Run(filepath.Base(file), func(t *testing.T) {
			plan := planOf(t, file)
			want := told{moves: plan.moves()}
			var machines []string
			for _, m := range plan.Machines {
				machines = append(machines, m.Name)
			}
			text := fromText(output(t, "plan", file), machines)
			require.NotEmpty(t, want.moves)
			require.NotEmpty(t, text.shares)
			page := output(t, "report", file, "-o", "-")
			all := map[string]told{
				"text": text, "report": fromReport(page), "sheet": fromSheet(t, output(t, "sheet", file, "--released")),
				"figures": fromFigures(t, file), "CSV": {moves: csvMoves(t, output(t, "plan", file, "--format", "csv"))},
			}
			for name, has := range all {
				assert.Equal(t, want.moves, has.moves, name)
				if has.total != "" {
					assert.Equal(t, text.total, has.total, "%s: total", name)
					assert.Equal(t, text.largest, has.largest, "%s: largest", name)
				}
				if has.shares != nil {
					assert.Equal(t, text.shares, has.shares, "%s: shares of limit", name)
				}
			}
			assert.InDelta(t, plan.Plain, number(t, text.total), 1e-9)
			assert.InDelta(t, plan.Peak, number(t, text.largest), 1e-9)
			shares := csvShares(t, output(t, "plan", file, "--format", "csv", "--show", "couplings"))
			for _, c := range plan.Couplings {
				assert.InDelta(t, 100*shares[c.Name], number(t, text.shares[c.Name]), 1, c.Name)
				worst := 0.0
				for _, s := range c.States {
					worst = math.Max(worst, s.Use.Planned)
				}
				assert.InDelta(t, 100*worst, number(t, text.shares[c.Name]), 1, c.Name)
			}
			if !strings.HasPrefix(file, "../") {
				return
			}
			made := filepath.Join(t.TempDir(), "plan.json")
			require.NoError(t, os.WriteFile(made, []byte(output(t, "plan", file, "--format", "json")), 0o666))
			after := output(t, "verify", made, file, "--format", "html")
			asPlanned(t, &plan, after)
			desc := regexp.MustCompile(`(?s)<desc>(Share of limit.*?)</desc>`).FindStringSubmatch(after)
			require.NotNil(t, desc)
			assert.Equal(t, text.shares, sharesOf(t, html.UnescapeString(desc[1]), "planned"), "verify: shares of limit")
		})
	}
}

// The chance of a plan is one number: in its JSON and its row beside other plans, on its page and its report, and where
// its moves are looked at again.
func TestAChanceIsOneNumber(t *testing.T) {
	const file = "../../examples/survey/before.toml"
	said := regexp.MustCompile(`(\d+\.\d)[\s\x{a0}]%[\s\x{a0}]` +
		`(?:chance\sof\sending\swithin|\(\d+\ssimulated|that\severy\scoupling\sends\swithin)`)
	for _, flags := range [][]string{nil, {"--assure", "0.75"}} {
		of := func(args ...string) string { return output(t, slices.Concat(args, flags)...) }
		text := of("plan", file, "--format", "json")
		var plan struct {
			Chance  struct{ Within float64 }
			Verdict *struct{ Chance float64 }
			Plans   []struct {
				This   bool
				Chance float64
			}
		}
		require.NoError(t, json.Unmarshal([]byte(text), &plan))
		if plan.Verdict != nil {
			assert.Equal(t, plan.Chance.Within, plan.Verdict.Chance)
		}
		for _, row := range plan.Plans {
			if row.This {
				assert.Equal(t, plan.Chance.Within, row.Chance)
			}
		}
		want := fmt.Sprintf("%.1f", math.Floor(plan.Chance.Within*1000+1e-9)/10)
		made := filepath.Join(t.TempDir(), "plan.json")
		require.NoError(t, os.WriteFile(made, []byte(text), 0o666))
		for name, page := range map[string]string{
			"page": of("plan", file, "--full"), "report": of("report", file, "-o", "-"),
			"again": output(t, "plan", file, "--plan", made),
		} {
			all := said.FindAllStringSubmatch(page, -1)
			require.NotEmpty(t, all, "%s %s", name, flags)
			for _, one := range all {
				assert.Equal(t, want, one[1], "%s %s: %s", name, flags, one[0])
			}
		}
	}
}

// moves are those of the JSON, without the feet that stay.
func (p *planDoc) moves() map[string][2]float64 {
	out := map[string][2]float64{}
	for _, m := range p.Machines {
		for _, f := range m.Feet {
			if f.Up != 0 || f.Left != 0 {
				out[m.Name+"/"+f.Name] = [2]float64{f.Up, f.Left}
			}
		}
	}
	return out
}

func number(t *testing.T, s string) float64 {
	v, err := strconv.ParseFloat(s, 64)
	require.NoError(t, err, s)
	return v
}

var (
	totalIs   = regexp.MustCompile(`total(?: movement)? ([\d.]+) `)
	largestIs = regexp.MustCompile(`largest move(?: at a foot)? ([\d.]+) `)
	moveIs    = regexp.MustCompile(`(raise|remove|left|right) ([\d.]+)`)
)

// headline takes the total and the largest move from sentences.
func (d *told) headline(text string) {
	text = strings.Join(strings.Fields(strings.ReplaceAll(text, "\u00a0", " ")), " ")
	if m := totalIs.FindStringSubmatch(text); m != nil {
		d.total = m[1]
	}
	if m := largestIs.FindStringSubmatch(text); m != nil {
		d.largest = m[1]
	}
}

// add adds what a row says of feet: "in left and right", "in, both".
func (d *told) add(machine, feet, up, side string) {
	feet = strings.ReplaceAll(feet, ", each", ", both")
	names := []string{feet}
	if pair, is := strings.CutSuffix(feet, ", both"); is {
		names = []string{pair + " left", pair + " right"}
	}
	var by [2]float64
	for n, words := range []string{up, side} {
		if m := moveIs.FindStringSubmatch(words); m != nil {
			by[n], _ = strconv.ParseFloat(m[2], 64)
			if m[1] == "remove" || m[1] == "right" {
				by[n] = -by[n]
			}
		}
	}
	if d.moves == nil {
		d.moves = map[string][2]float64{}
	}
	for _, name := range names {
		d.moves[machine+"/"+name] = by
	}
}

// fromText reads the page of plan. A machine's name may go over several lines.
func fromText(page string, machines []string) told {
	d := told{shares: map[string]string{}}
	d.headline(page)
	columns := regexp.MustCompile(` {2,}`)
	table, name := "", ""
	var rows [][4]string   // machine, feet, shims, sideways
	named := func(n int) { // rows from n on are of the machine whose name is known now
		for ; n < len(rows); n++ {
			rows[n][0] = name
		}
	}
	first := 0
	for _, line := range strings.Split(page, "\n") {
		switch {
		case strings.HasPrefix(line, "Moves, in "), strings.HasPrefix(line, "Couplings: "):
			table, _, _ = strings.Cut(line, " ")
			continue
		case line == "":
			table = ""
		}
		cells := columns.Split(strings.TrimLeft(line, " "), -1)
		switch {
		case !strings.HasPrefix(line, "  ") || table == "" || cells[0] == "machine" || cells[0] == "coupling":
		case table == "Couplings:" && len(cells) > 2:
			d.shares[cells[0]] = percent(cells[2])
		case table == "Moves,":
			if !strings.HasPrefix(line, "   ") {
				whole := name + " " + cells[0]
				if slices.Contains(machines, name) || !slices.ContainsFunc(machines, func(m string) bool {
					return name != "" && strings.HasPrefix(m, whole)
				}) {
					first, name = len(rows), cells[0]
				} else {
					name = whole
				}
				cells = cells[1:]
			}
			if len(cells) > 2 {
				rows = append(rows, [4]string{name, cells[0], cells[1], cells[len(cells)-1]})
			}
			named(first)
		}
	}
	for _, r := range rows {
		d.add(r[0], r[1], r[2], r[3])
	}
	return d
}

func percent(s string) string { return strings.TrimSuffix(strings.ReplaceAll(s, "\u00a0", " "), " %") }

var (
	aTable = regexp.MustCompile(`(?s)<table.*?</table>`)
	aRow   = regexp.MustCompile(`(?s)<tr>.*?</tr>`)
	aCell  = regexp.MustCompile(`(?s)<t[hd][^>]*>(.*?)</t[hd]>`)
	aTag   = regexp.MustCompile(`<[^>]*>`)
)

// rows are the rows of the first table whose head begins so, as text.
func rows(page string, head ...string) [][]string {
	for _, table := range aTable.FindAllString(page, -1) {
		var out [][]string
		for _, row := range aRow.FindAllString(table, -1) {
			var cells []string
			for _, c := range aCell.FindAllStringSubmatch(row, -1) {
				cells = append(cells, strings.ReplaceAll(html.UnescapeString(aTag.ReplaceAllString(c[1], "")), "\u00a0", " "))
			}
			out = append(out, cells)
		}
		if len(out) > 0 && len(out[0]) >= len(head) && slices.Equal(out[0][:len(head)], head) {
			return out[1:]
		}
	}
	return nil
}

// fromReport reads the first pages of a report.
func fromReport(page string) told {
	d := told{}
	d.headline(html.UnescapeString(aTag.ReplaceAllString(page[strings.Index(page, "<main>"):], " ")))
	machine := ""
	for _, row := range rows(page, "machine", "foot", "shims", "shim pack", "sideways") {
		if row[0] != "" {
			machine = row[0]
		}
		d.add(machine, row[1], row[2], row[4])
	}
	return d
}

// fromSheet reads the table of all moves of a sheet in Markdown.
func fromSheet(t *testing.T, md string) told {
	d := told{}
	d.headline(md)
	_, table, found := strings.Cut(strings.NewReplacer(`\`, "", "*", "").Replace(md), "| no. | machine, foot |")
	require.True(t, found)
	for _, line := range strings.Split(table, "\n")[2:] {
		cells := strings.Split(strings.Trim(line, "| "), " | ")
		if len(cells) != 5 {
			break
		}
		machine, foot, _ := strings.Cut(cells[1], ", ")
		if foot != "the whole machine" {
			d.add(machine, foot, cells[2], cells[4])
		}
	}
	return d
}

// fromFigures reads what the figures of moves and of couplings say for those who do not see them.
func fromFigures(t *testing.T, file string) told {
	d := told{moves: map[string][2]float64{}}
	desc := func(figure string) string {
		path := filepath.Join(t.TempDir(), figure+".svg")
		output(t, "chart", file, "--figure", figure, "-o", path)
		svg, err := os.ReadFile(path)
		require.NoError(t, err)
		return html.UnescapeString(regexp.MustCompile(`(?s)<desc>(.*?)</desc>`).FindStringSubmatch(string(svg))[1])
	}
	moves, _, _ := strings.Cut(desc("moves"), ". Not moved:")
	_, moves, _ = strings.Cut(moves, "Moves in ") // behind which plan it is
	for _, machine := range strings.Split(strings.TrimSuffix(moves, "."), ". ")[1:] {
		name, feet, _ := strings.Cut(machine, ": ")
		for _, foot := range strings.Split(feet, "; ") {
			where, what, _ := strings.Cut(foot, ": ")
			var by [2]float64
			for _, one := range strings.Split(what, ", ") {
				one = strings.ReplaceAll(one, "\u2212", "-")
				switch way, n, sided := strings.Cut(one, " "); {
				case sided && way == "left":
					by[1] = number(t, n)
				case sided && way == "right":
					by[1] = -number(t, n)
				case !sided:
					by[0] = number(t, one)
				}
			}
			d.moves[name+"/"+where] = by
		}
	}
	d.shares = sharesOf(t, desc("couplings"), "after")
	return d
}

// sharesOf are the worst shares of limit by coupling at a time, of what the figure of the couplings says.
func sharesOf(t *testing.T, desc, time string) map[string]string {
	out := map[string]string{}
	shares := desc[strings.LastIndex(desc, ". ")+2:] // behind which plan it is and what they are of
	for _, m := range regexp.MustCompile(`(?:^|; )([^;]*?), [^;]*?`+time+` ([\d.]+) %`).FindAllStringSubmatch(shares, -1) {
		was, known := out[m[1]]
		if !known || number(t, was) < number(t, m[2]) {
			out[m[1]] = m[2]
		}
	}
	return out
}

// csvMoves are those of the table for a spreadsheet: of the shims what fills gaps or makes up for a cut raises nothing.
func csvMoves(t *testing.T, text string) map[string][2]float64 {
	all, err := csv.NewReader(strings.NewReader(text)).ReadAll()
	require.NoError(t, err)
	out := map[string][2]float64{}
	for _, row := range all[1:] {
		require.Len(t, row, 11)
		by := [2]float64{number(t, row[4]) - number(t, row[9]) - number(t, row[10]), number(t, row[5])}
		if by != [2]float64{} {
			out[row[0]+"/"+row[1]] = by
		}
	}
	return out
}

// csvShares are the worst shares of limit after the moves.
func csvShares(t *testing.T, text string) map[string]float64 {
	all, err := csv.NewReader(strings.NewReader(text)).ReadAll()
	require.NoError(t, err)
	out := map[string]float64{}
	for _, row := range all[1:] {
		if row[4] == "after the moves" && row[6] != "" {
			out[row[0]] = math.Max(out[row[0]], number(t, row[6]))
		}
	}
	return out
}

// asPlanned holds what verify says was planned against the plan: of each station the mean of its feet, up and left.
func asPlanned(t *testing.T, plan *planDoc, page string) {
	t.Helper()
	all := rows(page, "machine", "station", "up and down, planned")
	require.NotEmpty(t, all)
	way := func(s string) float64 {
		word, n, two := strings.Cut(s, " ")
		switch {
		case !two:
			return number(t, s)
		case word == "down" || word == "right":
			return -number(t, n)
		}
		return number(t, n)
	}
	for _, row := range all {
		var up, left, n float64
		within := 2e-3 // of what is printed, and of second order
		if plan.Units.Move == "mil" {
			within *= 40
		}
		for _, m := range plan.Machines {
			if m.Name == row[0] && len(m.Feet) != 4 {
				within *= 15 // a rigid case lies between its packs
			}
			for _, f := range m.Feet {
				if m.Name == row[0] && (f.Name == row[1] || f.Name == row[1]+" left" || f.Name == row[1]+" right") {
					up, left, n = up+f.Up, left+f.Left, n+1
				}
			}
		}
		require.Positive(t, n, "%s", row)
		assert.InDelta(t, up/n, way(row[2]), within, "%s", row)
		assert.InDelta(t, left/n, way(row[4]), within, "%s", row)
	}
}
