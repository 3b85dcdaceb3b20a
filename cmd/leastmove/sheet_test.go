package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/bolts"
	"leastmove/cmd/internal/cli"
	"leastmove/testdata/families"
	"leastmove/train"
	"leastmove/train/readings"
	"leastmove/train/trainfile"
)

// sheetOf runs `leastmove sheet` and gives what it writes.
func sheetOf(t *testing.T, file, format string, flags ...string) string {
	t.Helper()
	var out, errs bytes.Buffer
	args := append([]string{"sheet", file, "--format", format}, flags...)
	require.Zero(t, cli.Run(args, strings.NewReader(""), &out, &errs), errs.String())
	return out.String()
}

// poppler runs a tool of poppler on a PDF. A bare machine leaves the checks out;
// with LEASTMOVE_REFEREES=required it must not.
func poppler(t *testing.T, pdf string, tool string, flags ...string) string {
	t.Helper()
	if _, err := exec.LookPath(tool); err != nil {
		if os.Getenv("LEASTMOVE_REFEREES") == "required" {
			require.FailNow(t, "the referees are required", "%s of poppler-utils is missing", tool)
		}
		t.Skipf("left out: what stands in the PDF: there is no %s (poppler-utils)", tool)
	}
	path := filepath.Join(t.TempDir(), "sheet.pdf")
	require.NoError(t, os.WriteFile(path, []byte(pdf), 0o666))
	out, err := exec.Command(tool, append(flags, path, "-")...).Output()
	require.NoError(t, err)
	return string(out)
}

// planDoc is what these tests ask of a plan in JSON.
type planDoc struct {
	Plain, Peak float64
	Machines    []struct {
		Name string
		Feet []struct {
			Name            string
			Up, Left, Axial float64
			Pack            *struct{ Now, Then float64 }
		}
	}
	Packs     []struct{ Out, In, Then []float64 }
	Shims     []struct{ Thickness, Count float64 }
	Couplings []struct {
		Rest struct {
			V, H  struct{ Offset, Angle float64 }
			Gap   *float64
			Dials []struct {
				V, H  *float64
				Clock []struct{ Reading float64 }
			}
		}
	}
}

func planOf(t *testing.T, file string) planDoc {
	t.Helper()
	var out, errs bytes.Buffer
	require.Zero(t, cli.Run([]string{"plan", file, "--format", "json"}, strings.NewReader(""), &out, &errs), errs.String())
	var doc planDoc
	require.NoError(t, json.Unmarshal(out.Bytes(), &doc))
	return doc
}

// The examples that have a plan.
func plannedExamples() []string {
	return []string{"turbine-gear-compressor", "five-machine-string", "motor-gear-compressors"}
}

var aNumber = regexp.MustCompile(`-?\d+(\.\d+)?`)

// Every number of the plan that a crew sets or reads stands in the PDF, and the PDF
// has the numbers of the sheet in Markdown, each as often.
func TestSheetPDFHoldsThePlan(t *testing.T) {
	for _, name := range plannedExamples() {
		for _, paper := range []string{"a4", "letter"} {
			t.Run(name+" "+paper, func(t *testing.T) {
				file := "../../examples/" + name + ".toml"
				text := poppler(t, sheetOf(t, file, "pdf", "--paper", paper), "pdftotext", "-layout")
				has := map[float64]bool{}
				for _, n := range aNumber.FindAllString(text, -1) {
					v, err := strconv.ParseFloat(n, 64)
					require.NoError(t, err)
					has[v] = true
				}
				plan := planOf(t, file)
				seen := 0
				holds := func(what string, values ...float64) {
					for _, v := range values {
						seen++
						assert.True(t, has[v], "%s %g", what, v)
					}
				}
				holds("total, peak", plan.Plain, plan.Peak)
				for _, m := range plan.Machines {
					for _, f := range m.Feet {
						holds(m.Name+" "+f.Name, math.Abs(f.Up), math.Abs(f.Left), math.Abs(f.Axial))
						if f.Pack != nil && f.Up != 0 {
							holds(m.Name+" "+f.Name+" pack", f.Pack.Now, f.Pack.Then)
						}
					}
				}
				for _, p := range plan.Packs {
					holds("piece", slices.Concat(p.Out, p.In, p.Then)...)
				}
				for _, s := range plan.Shims {
					holds("shim", s.Thickness, s.Count)
				}
				for _, c := range plan.Couplings {
					r := c.Rest
					holds("at rest", math.Abs(r.V.Offset), math.Abs(r.V.Angle), math.Abs(r.H.Offset), math.Abs(r.H.Angle))
					if r.Gap != nil {
						holds("gap", *r.Gap)
					}
					for _, d := range r.Dials {
						if d.V != nil {
							holds("dial", math.Abs(*d.V), math.Abs(*d.H))
						}
						for _, c := range d.Clock {
							holds("dial", c.Reading)
						}
					}
				}
				assert.Greater(t, seen, 40)

				// The foot of a page has the title, the file and the plan again, and pages.
				body := regexp.MustCompile(`(?m)^.*date +\d+ of \d+$|^ *File .* plan [0-9a-f]{8}$`)
				assert.Equal(t, counted(readable(sheetOf(t, file, "md"))), counted(body.ReplaceAllString(text, "")))
			})
		}
	}
}

// readable is Markdown as it is read: no marks, no last line, and heads of tables
// once.
func readable(md string) string {
	md = strings.ReplaceAll(md, `\`, "")
	lines := strings.Split(strings.TrimSpace(md), "\n")
	heads := regexp.MustCompile(`^\| dial, 0 at 12`)
	var out []string
	seen := false
	for _, l := range lines[:len(lines)-1] {
		if strings.HasPrefix(l, "#") {
			seen = false
		}
		if heads.MatchString(l) {
			if seen {
				continue // the PDF has it once in a block
			}
			seen = true
		}
		out = append(out, l)
	}
	return strings.Join(out, "\n")
}

// counted is how often every number stands in a text.
func counted(text string) map[string]int {
	out := map[string]int{}
	for _, n := range aNumber.FindAllString(text, -1) {
		out[n]++
	}
	return out
}

// A sheet is at most two pages for five machines, on either paper.
func TestSheetIsShort(t *testing.T) {
	for _, paper := range []string{"a4", "letter"} {
		text := poppler(t, sheetOf(t, "../../examples/five-machine-string.toml", "pdf", "--paper", paper), "pdftotext")
		assert.Equal(t, 2, strings.Count(text, "\f"), paper)
		assert.Contains(t, text, "1 of 2")
		assert.Contains(t, text, "2 of 2")
	}
}

// What a sheet says of its stages is gone through as a crew would: its numbers are
// set, one stage after the other, on the train of the file, and true geometry
// shows what the sheet expects, to its last digit; at the end everything stands
// as the plan has it.
func TestSheetByTrueGeometry(t *testing.T) {
	var files []string
	for _, name := range plannedExamples() {
		files = append(files, "../../examples/"+name+".toml")
	}
	drawn := 0
	for seed := uint64(901); drawn < 8; seed++ {
		for _, family := range []string{"gear", "inch", "gap", "two", "held"} {
			path := filepath.Join(t.TempDir(), fmt.Sprintf("%s-%d.toml", family, seed))
			require.NoError(t, os.WriteFile(path, []byte(families.TOML(family, seed)), 0o666))
			var out, errs bytes.Buffer
			if cli.Run([]string{"plan", path}, strings.NewReader(""), &out, &errs) == 0 && strings.Contains(out.String(), "largest move at a foot") {
				files, drawn = append(files, path), drawn+1
			}
		}
	}
	for _, file := range files {
		t.Run(filepath.Base(file), func(t *testing.T) {
			text, err := os.ReadFile(file)
			require.NoError(t, err)
			tr, report := trainfile.Read(file, text, trainfile.Options{ClearanceHole: bolts.ClearanceHole, Thread: bolts.Thread, Minor: bolts.Minor})
			require.NotNil(t, tr, report)
			follow(t, tr, sheetOf(t, file, "md"), planOf(t, file))
		})
	}
}

var stageHeading = regexp.MustCompile(`^## Stage (\d+) of \d+, (.*): (packs|sideways|sideways and along|along the train)$`)

// A follower goes through a sheet.
type follower struct {
	t       *testing.T
	tr      *train.Train
	moves   train.Moves
	machine int // -1: between stages
	before  train.State
	checked int // numbers
}

func follow(t *testing.T, tr *train.Train, md string, plan planDoc) {
	cold := *tr
	cold.Conditions = []train.Condition{{Name: "cold", Growth: make([]float64, len(tr.Machines)), Use: 1}}
	f := &follower{t: t, tr: &cold, moves: tr.Stay(), machine: -1}
	stages, coupling := 0, -1
	lines := strings.Split(strings.ReplaceAll(md, `\`, ""), "\n")
	for n, line := range lines {
		if m := stageHeading.FindStringSubmatch(line); m != nil {
			stages++
			require.Equal(t, strconv.Itoa(stages), m[1])
			f.machine = slices.IndexFunc(tr.Machines, func(k train.Machine) bool { return k.Name == m[2] })
			require.GreaterOrEqual(t, f.machine, 0, line)
			f.before = cold.Check(f.moves)
			f.set(lines[n:], m[3])
			continue
		}
		if !strings.HasPrefix(line, "| ") || strings.HasPrefix(line, "| coupling |") || strings.HasPrefix(line, "| dial") || strings.HasPrefix(line, "| foot") {
			continue
		}
		cells := strings.Split(strings.Trim(line, "| "), " | ")
		first := strings.Trim(cells[0], "* ")
		switch c := slices.IndexFunc(tr.Couplings, func(k train.Coupling) bool { return "**"+k.Name+"**" == cells[0] }); {
		case c >= 0:
			coupling = c
			r := f.at(c)
			f.says(cells[1], f.word(r.V.Offset, "high", "low")+", "+f.slope(r.V.Angle, "climbs", "falls"))
			f.says(cells[3], f.word(r.H.Offset, "left", "right")+", "+f.slope(r.H.Angle, "turns left", "turns right"))
		case strings.HasPrefix(first, "rim on"), strings.HasPrefix(first, "face on"):
			f.dial(coupling, cells)
		case first == "shaft ends":
			d := 3
			if tr.Units == train.Inches {
				d = 4
			}
			f.says(cells[1], fmt.Sprintf("%.*f %s apart", d, f.at(coupling).Gap/tr.Units.Length(), tr.Units))
		}
	}
	require.Greater(t, stages, 0)
	assert.Greater(t, f.checked, 4*stages)
	for i, m := range plan.Machines {
		for k, foot := range m.Feet {
			u := tr.Units.Move()
			at := f.moves[i][k]
			assert.InDelta(t, foot.Up, at.Up/u, 1e-9, "%s %s", m.Name, foot.Name)
			assert.InDelta(t, foot.Left, at.Left/u, 1e-9, "%s %s", m.Name, foot.Name)
			assert.InDelta(t, foot.Axial, at.Axial/u, 1e-9, "%s %s", m.Name, foot.Name)
		}
	}
}

// at is a coupling with all that is done so far.
func (f *follower) at(c int) *train.Reading {
	state := f.tr.Check(f.moves)
	return &state.Couplings[c][0]
}

func (f *follower) says(cell, want string) {
	f.t.Helper()
	f.checked++
	assert.Equal(f.t, "**"+want+"**", cell)
}

// fine are the decimals of an offset, and coarse those of a dial at a foot.
func (f *follower) decimals() (fine, coarse int) {
	if f.tr.Units == train.Inches {
		return 2, 1
	}
	return 3, 2
}

func (f *follower) word(mm float64, plus, minus string) string {
	fine, _ := f.decimals()
	n := fmt.Sprintf("%.*f", fine, math.Abs(mm)/f.tr.Units.Move())
	if strings.Trim(n, "0.") == "" {
		return n
	}
	return n + " " + either(mm, plus, minus)
}

func (f *follower) slope(mrad float64, plus, minus string) string {
	n := fmt.Sprintf("%.3f", math.Abs(mrad))
	if strings.Trim(n, "0.") == "" {
		return n
	}
	return either(mrad, plus, minus) + " " + n
}

func either(x float64, plus, minus string) string {
	if x > 0 {
		return plus
	}
	return minus
}

// dial holds what a dial is to show at 3, 6 and 9 against what its kind shows
// there.
func (f *follower) dial(c int, cells []string) {
	k := &f.tr.Couplings[c]
	r := f.at(c)
	fine, _ := f.decimals()
	var all [][]string
	for i := range k.Dials {
		if k.Dials[i].Kind == train.OffsetDial {
			continue
		}
		var want []string
		for _, v := range readings.Target(&k.Dials[i], k.X, r.Misalignment, []float64{0, 90, 180, 270})[1:] {
			s := fmt.Sprintf("%.*f", fine, v/f.tr.Units.Move())
			if strings.Trim(s, "-0.") == "" {
				s = strings.TrimPrefix(s, "-")
			}
			want = append(want, "**"+s+"**")
		}
		all = append(all, want)
	}
	f.checked++
	assert.Contains(f.t, all, []string{cells[1], cells[3], cells[5]})
}

// set does what a stage's table of feet says, and holds its dials against where
// true geometry then has the feet.
func (f *follower) set(lines []string, what string) {
	m := &f.tr.Machines[f.machine]
	u := f.tr.Units.Move()
	along := 0.0
	var rows [][]string
	table := false
	for _, line := range lines[1:] {
		if strings.HasPrefix(line, "#") || strings.HasPrefix(line, "| coupling |") {
			break
		}
		if strings.HasPrefix(line, "Along the train") {
			n, err := strconv.ParseFloat(aNumber.FindString(line), 64)
			require.NoError(f.t, err)
			along = n * u
			if strings.Contains(line, "toward the "+f.tr.Machines[0].Name+" end") {
				along = -along
			}
		}
		if strings.HasPrefix(line, "| foot") {
			table = true
		} else if table && strings.HasPrefix(line, "| ") {
			rows = append(rows, strings.Split(strings.Trim(line, "| "), " | "))
		}
	}
	feet := func(name string) []int {
		var out []int
		for k := range m.Feet {
			if n := m.Feet[k].Name; n == name || n == name+" left" || n == name+" right" {
				out = append(out, k)
			}
		}
		return out
	}
	covered := 0
	for _, row := range rows {
		for _, k := range feet(row[0]) {
			covered++
			by := amount(f.t, strings.Trim(row[1], "*")) * u
			if what == "packs" {
				f.moves[f.machine][k].Up += by
			} else {
				f.moves[f.machine][k].Left += by
				f.moves[f.machine][k].Axial += along
			}
		}
	}
	require.Equal(f.t, len(m.Feet), covered, "every foot of %s has a row", m.Name)
	after := f.tr.Check(f.moves)
	for _, row := range rows {
		for _, k := range feet(row[0]) {
			was, is := f.before.Machines[f.machine].Feet[k], after.Machines[f.machine].Feet[k]
			if what == "packs" {
				f.goes(row[6], is.Up-was.Up, "up", "down")
				continue
			}
			f.goes(row[2], is.Left-was.Left, "left", "right")
			if along != 0 {
				f.goes(row[4], is.Axial-was.Axial, "on", "back")
			}
		}
	}
}

func (f *follower) goes(cell string, mm float64, plus, minus string) {
	f.t.Helper()
	_, coarse := f.decimals()
	n := fmt.Sprintf("%.*f", coarse, math.Abs(mm)/f.tr.Units.Move())
	if strings.Trim(n, "0.") != "" {
		n = either(mm, plus, minus) + " " + n
	}
	f.says(cell, n)
}

// amount is a move in words, up and left positive.
func amount(t *testing.T, words string) float64 {
	words, _, _ = strings.Cut(words, ",")
	if words == "no change" {
		return 0
	}
	way, n, _ := strings.Cut(words, " ")
	v, err := strconv.ParseFloat(n, 64)
	require.NoError(t, err, words)
	switch way {
	case "raise", "left":
		return v
	case "remove", "right":
		return -v
	}
	require.FailNow(t, "a move that is none", words)
	return 0
}
