package main

import (
	"bytes"
	"encoding/json"
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

	"leastmove/bolts"
	"leastmove/cmd/internal/cli"
	"leastmove/testdata/families"
	"leastmove/testdata/outside"
	"leastmove/testdata/trains"
	"leastmove/train/trainfile"
)

// A written is what a command wrote, and its exit code.
type written struct {
	out, errs string
	code      int
}

// results are those of commands that several tests look at, by their words, and kept is what was found for them; of the
// examples, which are few, it is kept to the end. Tests that ask for them do not run in parallel, and do not change the
// files.
var (
	results        = map[string]written{}
	kept, examples cli.Kept
)

// runNow runs a command, as by itself.
func runNow(args ...string) written { return runBy(cli.Run, args) }

// sharing runs a command; commands on one train share what is found of it.
func sharing(args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	if slices.ContainsFunc(args, func(a string) bool { return strings.Contains(a, "examples/") }) {
		return examples.Run(args, stdin, stdout, stderr)
	}
	return kept.Run(args, stdin, stdout, stderr)
}

// runOnce is what a command wrote when it was first run.
func runOnce(args ...string) written {
	words := strings.Join(args, "\x00")
	if _, known := results[words]; !known {
		results[words] = runBy(sharing, args)
	}
	return results[words]
}

// runBy runs a command.
func runBy(run func([]string, io.Reader, io.Writer, io.Writer) int, args []string) written {
	var out, errs bytes.Buffer
	code := run(args, strings.NewReader(""), &out, &errs)
	return written{out.String(), errs.String(), code}
}

// sheetOf is what `leastmove sheet` writes.
func sheetOf(t *testing.T, file, format string, flags ...string) string {
	t.Helper()
	w := runOnce(append([]string{"sheet", file, "--format", format, "--released"}, flags...)...)
	require.Zero(t, w.code, w.errs)
	return w.out
}

// planDoc is what these tests ask of a plan in JSON.
type planDoc struct {
	Units       struct{ Move string }
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
		Name   string
		States []struct{ Use struct{ Planned float64 } }
		Rest   struct {
			V, H  struct{ Offset, Angle float64 }
			Gap   *float64
			Dials []struct {
				V, H  *float64
				Clock []struct{ Reading float64 }
			}
		}
	}
}

// moved is how many feet have something done to them.
func (p *planDoc) moved() int {
	n := 0
	for _, m := range p.Machines {
		for _, f := range m.Feet {
			if f.Up != 0 || f.Left != 0 || f.Pack != nil && f.Pack.Now != f.Pack.Then {
				n++
			}
		}
	}
	return n
}

func planOf(t *testing.T, file string) planDoc {
	t.Helper()
	w := runOnce("plan", file, "--format", "json")
	require.Zero(t, w.code, w.errs)
	var doc planDoc
	require.NoError(t, json.Unmarshal([]byte(w.out), &doc))
	return doc
}

// The examples that have a plan.
func plannedExamples() []string {
	return []string{"turbine", "five-machines", "reverse-dials"}
}

var aNumber = regexp.MustCompile(`-?\d+(\.\d+)?`)

// Every number of the plan that a crew sets or reads stands in the PDF, and the PDF
// has the numbers of the sheet in Markdown, each as often.
func TestSheetPDFHoldsThePlan(t *testing.T) {
	for _, name := range plannedExamples()[:trains.Draws(1, 3)] {
		for _, paper := range []string{"a4", "letter"}[:trains.Draws(1, 2)] {
			t.Run(name+" "+paper, func(t *testing.T) {
				file := "../../examples/" + name + "/before.toml"
				text := outside.Poppler(t, sheetOf(t, file, "pdf", "--paper", paper), "pdftotext", "-layout")
				has := map[float64]bool{}
				for _, n := range aNumber.FindAllString(text, -1) {
					v, err := strconv.ParseFloat(n, 64)
					require.NoError(t, err)
					has[v], has[math.Abs(v)] = true, true
				}
				plan := planOf(t, file)
				step, gapStep := 0.01, 0.05 // mm, of a dial and of what shaft ends are measured with
				if plan.Units.Move == "mil" {
					step, gapStep = 0.1, 0.002 // mil, inch
				}
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
					holds("piece", slices.Concat(p.Out, p.In)...)
					if len(p.Out) > 0 {
						holds("piece", p.Then...)
					}
				}
				for _, s := range plan.Shims {
					holds("shim", s.Thickness, s.Count)
				}
				for _, c := range plan.Couplings {
					r := c.Rest
					if r.Dials == nil { // else the sheet has what these show
						holds("at rest", math.Abs(r.V.Offset), math.Abs(r.V.Angle), math.Abs(r.H.Offset), math.Abs(r.H.Angle))
					}
					if r.Gap != nil {
						seen++
						assert.True(t, near(has, *r.Gap, gapStep), "gap %g", *r.Gap)
					}
					for _, d := range r.Dials {
						if d.V != nil {
							holds("dial", math.Abs(*d.V), math.Abs(*d.H))
						}
						for _, c := range d.Clock {
							seen++
							assert.True(t, near(has, c.Reading, step), "dial %g", c.Reading)
						}
					}
				}
				assert.Greater(t, seen, 40)

				// The foot of a page has the title, the file and the plan again, and pages; a section that goes on has its
				// heading again; heads of dials stand once or twice in a line.
				body := regexp.MustCompile(`(?m)^.*date +\d+ of \d+$|^ *File .* plan [0-9a-f]{8} .*$|^.*, continued$|^.*at 3 .*at 9.*$`)
				assert.Equal(t, counted(readable(sheetOf(t, file, "md"))), counted(body.ReplaceAllString(text, "")))
			})
		}
	}
}

// near says whether a number is among some, rounded to a step at most (and a tenth of
// one, by which JSON is rounded itself).
func near(has map[float64]bool, v, step float64) bool {
	for h := range has {
		if math.Abs(h-v) <= 0.56*step {
			return true
		}
	}
	return false
}

// readable is Markdown as it is read: no marks, no last line, and no heads of tables of dials.
func readable(md string) string {
	lines := strings.Split(strings.TrimSpace(strings.ReplaceAll(md, `\`, "")), "\n")
	return strings.Join(slices.DeleteFunc(lines[:len(lines)-1], func(l string) bool {
		return strings.HasPrefix(l, "| dial, 0 at 12")
	}), "\n")
}

// counted is how often every number stands in a text.
func counted(text string) map[string]int {
	out := map[string]int{}
	for _, n := range aNumber.FindAllString(text, -1) {
		out[n]++
	}
	return out
}

// A sheet is at most four pages for five machines, on either paper, with dials at every coupling too.
func TestSheetIsShort(t *testing.T) {
	example, err := os.ReadFile("../../examples/five-machines/before.toml")
	require.NoError(t, err)
	type sheet struct{ name, text string }
	sheets := []sheet{{"example, reverse dials", dialled(t, string(example), true)}}
	if trains.Everything() {
		sheets = append(sheets, sheet{"example", string(example)},
			sheet{"example, rim and face", dialled(t, string(example), false)})
		for _, family := range []string{"gap", "gear", "three"} {
			sheets = append(sheets, sheet{family, dialled(t, families.TOML(family, 601), family != "gap")})
		}
		sheets = append(sheets, sheet{"all five on six feet", dialled(t, families.TOML("three", 602), true)})
	}
	for _, s := range sheets {
		path := filepath.Join(t.TempDir(), "train.toml")
		require.NoError(t, os.WriteFile(path, []byte(s.text), 0o666))
		for _, paper := range []string{"letter", "a4"}[:trains.Draws(1, 2)] {
			text := outside.Poppler(t, sheetOf(t, path, "pdf", "--paper", paper), "pdftotext")
			pages := strings.Count(text, "\f")
			assert.LessOrEqual(t, pages, 4, "%s, %s", s.name, paper)
			assert.Contains(t, text, fmt.Sprintf("%d of %d", pages, pages), "%s, %s", s.name, paper)
		}
	}
}

// dialled is a train in mm whose couplings are read by dials in place of their offsets and angles: rim dials on both
// hubs, or a rim and a face dial on the second.
func dialled(t *testing.T, text string, reverse bool) string {
	t.Helper()
	require.Contains(t, text, `units = "mm"`)
	value := func(pattern, in string) []float64 {
		m := regexp.MustCompile(pattern).FindStringSubmatch(in)
		require.NotNil(t, m, "%s in %s", pattern, in)
		var out []float64
		for _, s := range m[1:] {
			out = append(out, mustParse(t, s))
		}
		return out
	}
	found := regexp.MustCompile(`\[coupling\.found\]\n(?:(?:v|h|gap) *= .*\n)+`)
	parts := strings.SplitAfter(text, "[[coupling]]")
	for n, part := range parts[1:] {
		x := value(`(?m)^x *= *([0-9.]+)`, part)[0]
		v := value(`v *= *\{ *offset *= *([-0-9.]+), *angle *= *([-0-9.]+)`, part)
		h := value(`h *= *\{ *offset *= *([-0-9.]+), *angle *= *([-0-9.]+)`, part)
		// A dial on the rim of the second hub, zeroed at 12, reads sag - 2 v at 6 and h more at 9 than half of that.
		clock := func(v, h, sag float64) string {
			six := sag - 2*v
			return fmt.Sprintf("clock = { 12 = 0, 3 = %.2f, 6 = %.2f, 9 = %.2f }\n", six/2-h, six, six/2+h)
		}
		rim := func(on string, at, sign float64) string {
			return fmt.Sprintf("[[coupling.reading]]\nkind = \"rim\"\non = %s\nx = %g\nsag = -0.05\n", on, x+at) +
				clock(sign*(v[0]+at/1000*v[1]), sign*(h[0]+at/1000*h[1]), -0.05)
		}
		hub := func(key string) string {
			return regexp.MustCompile(`(?m)^` + key + ` *= *(".*")`).FindStringSubmatch(part)[1]
		}
		const radius = 150.0
		dials := rim(hub("to"), 120, 1)
		if reverse {
			dials = rim(hub("from"), -120, -1) + dials
		} else {
			dials += fmt.Sprintf("[[coupling.reading]]\nkind = \"face\"\non = %s\nradius = %g\n", hub("to"), radius) +
				clock(radius/1000*v[1], radius/1000*h[1], 0)
		}
		require.Regexp(t, found, part)
		parts[n+1] = found.ReplaceAllString(part, dials)
	}
	return strings.Join(parts, "")
}

// What a sheet says of its stages is gone through as a crew would: its numbers are
// set, one stage after the other, on the train of the file, and true geometry
// shows what the sheet expects, to its last digit; at the end everything stands
// as the plan has it.
func TestSheetByTrueGeometry(t *testing.T) {
	var files []string
	for _, name := range plannedExamples()[:trains.Draws(1, 3)] {
		files = append(files, "../../examples/"+name+"/before.toml")
	}
	drawn := 0
	for seed := uint64(901); drawn < trains.Draws(0, 8); seed++ {
		require.Less(t, seed, uint64(911), "too few trains have a plan")
		for _, family := range []string{"gear", "inch", "gap", "two", "held"} {
			path := filepath.Join(t.TempDir(), fmt.Sprintf("%s-%d.toml", family, seed))
			require.NoError(t, os.WriteFile(path, []byte(families.TOML(family, seed)), 0o666))
			w := runOnce("plan", path, "--format", "json")
			if w.code == 0 && strings.Contains(w.out, `"status": "planned"`) {
				files, drawn = append(files, path), drawn+1
			}
		}
	}
	for _, file := range files {
		t.Run(strings.TrimPrefix(file, "../../examples/"), func(t *testing.T) {
			text, err := os.ReadFile(file)
			require.NoError(t, err)
			tr, report := trainfile.Read(file, text, trainfile.Options{ClearanceHole: bolts.ClearanceHole,
				Thread: bolts.Thread, Minor: bolts.Minor})
			require.NotNil(t, tr, report)
			follow(t, tr, sheetOf(t, file, "md"), planOf(t, file))
		})
	}
}
