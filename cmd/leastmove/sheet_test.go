package main

import (
	"bytes"
	"encoding/json"
	"fmt"
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

// results are those of commands that several tests look at, by their words. Tests that ask for
// them do not run in parallel, and do not change the files.
var results = map[string]written{}

// runNow runs a command.
func runNow(args ...string) written {
	var out, errs bytes.Buffer
	code := cli.Run(args, strings.NewReader(""), &out, &errs)
	return written{out.String(), errs.String(), code}
}

// runOnce is what a command wrote when it was first run.
func runOnce(args ...string) written {
	words := strings.Join(args, "\x00")
	if _, known := results[words]; !known {
		results[words] = runNow(args...)
	}
	return results[words]
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
					holds("at rest", math.Abs(r.V.Offset), math.Abs(r.V.Angle), math.Abs(r.H.Offset), math.Abs(r.H.Angle))
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
				// heading again.
				body := regexp.MustCompile(`(?m)^.*date +\d+ of \d+$|^ *File .* plan [0-9a-f]{8}$|^.*, continued$`)
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

// readable is Markdown as it is read: no marks, no last line, and heads of tables
// once.
func readable(md string) string {
	md = strings.ReplaceAll(md, `\`, "")
	lines := strings.Split(strings.TrimSpace(md), "\n")
	heads := regexp.MustCompile(`^\| dial, 0 at 12`)
	var out []string
	var seen map[string]bool
	for _, l := range lines[:len(lines)-1] {
		if strings.HasPrefix(l, "#") {
			seen = map[string]bool{}
		}
		if heads.MatchString(l) {
			if seen[l] {
				continue // the PDF has it once in a block
			}
			seen[l] = true
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

// A sheet is at most four pages for five machines, on either paper.
func TestSheetIsShort(t *testing.T) {
	for _, paper := range []string{"a4", "letter"}[:trains.Draws(1, 2)] {
		text := outside.Poppler(t, sheetOf(t, "../../examples/five-machines/before.toml", "pdf", "--paper", paper),
			"pdftotext")
		assert.Equal(t, 4, strings.Count(text, "\f"), paper)
		assert.Contains(t, text, "1 of 4")
		assert.Contains(t, text, "4 of 4")
	}
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
