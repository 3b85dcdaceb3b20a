package pages

import (
	"bytes"
	"encoding/json"
	"flag"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"

	"github.com/jedib0t/go-pretty/v6/text"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
	"leastmove/optimize"
	"leastmove/train"
)

var update = flag.Bool("update", false, "write the golden files anew")

func golden(t *testing.T, name string, got []byte) {
	t.Helper()
	path := filepath.Join("testdata", name)
	if *update {
		require.NoError(t, os.WriteFile(path, got, 0o666))
	}
	want, err := os.ReadFile(path)
	require.NoError(t, err, "run the test with -update once")
	assert.Equal(t, string(want), string(got), "%s; if this is meant, run the test with -update", path)
}

func TestGolden(t *testing.T) {
	warnings := []view.Warning{{Line: 7, Column: 3, Message: "a rise of 5000 degrees is doubtful"}}
	for name, p := range handmade(t) {
		t.Run(name, func(t *testing.T) {
			layout := Page{}
			if name == "planned-mm" {
				layout.Warnings = warnings
			}
			golden(t, name+".txt", []byte(textOf(t, p, layout)))
			var b bytes.Buffer
			require.NoError(t, planJSON(&b, view.Of(p), layout))
			golden(t, name+".json", b.Bytes())
		})
	}
	t.Run("relieved", func(t *testing.T) {
		p, r := relieved(t)
		golden(t, "relieved.txt", []byte(textUnder(t, p, r)))
		var b bytes.Buffer
		require.NoError(t, planJSON(&b, under(p, r), Page{}))
		golden(t, "relieved.json", b.Bytes())
	})
	for _, name := range []string{"mm", "inch"} {
		t.Run("check "+name, func(t *testing.T) {
			tr := read(t, name+".toml")
			var txt, js bytes.Buffer
			require.NoError(t, CheckText(&txt, view.CheckOf(tr), Page{}))
			require.NoError(t, checkJSON(&js, view.CheckOf(tr), Page{}))
			golden(t, "check-"+name+".txt", txt.Bytes())
			golden(t, "check-"+name+".json", js.Bytes())
		})
	}
}

// What a reader can work out in the head stands on the page: the turbine comes
// up by 0.30, so of 0.32 high are left 0.02, and growth of 0.03 at the turbine
// takes the gear down to 0.01 low when running; of 0.47 low the compressor's
// 0.45 leave 0.02.
func TestTextByHand(t *testing.T) {
	s := flat(textOf(t, plannedMM(t), Page{}))
	for _, want := range []string{
		"Move 2 of 4 machines; total movement 5.40 mm (6.80 with the file's weights), largest move at a foot 0.45 mm;",
		"turbine: along the train 0.40 mm, toward the turbine end foot",
		"governor left raise 0.30 mm 4.00 -> 4.30 no change",
		"gear: held, may not be moved",
		"far end right raise 0.45 mm 3.00 -> 3.45 left 0.20 mm",
		"booster: stays",
		"up and down 0.290 high, slopes up 0.100 0.010 low, slopes up 0.100",
		"up and down 0.470 low, slopes up 0.200 0.020 low, slopes up 0.200",
		"shaft ends 399.600 mm apart 400.000 mm apart",
		// sqrt(0.47² + 0.22²) / 0.08 = 6.487; 0.2 / 0.5 = 0.4
		"of its limit 649 %, outside it 40 %, within it",
		// and not 0.340, of the other plane
		"- high speed, running: angle at a flex plane uses 0.349 of 0.500 mrad (70 %), all that the plan may use",
		"- compressor drive end left: no more may be added (0.45 of 0.50 mm)",
		"- compressor far end left is at the end of its travel to the left (0.200 of 0.200 mm)",
		// (6.8 - 6.7796) / 6.8 = 0.003
		"No plan within 70 % of the limits has a smaller total than 6.779 mm (proven); the least total can be at most " +
			"0.3 % lower than this one.",
		"The smallest total found is 6.78 mm; this plan spends up to 0.5 % more",
	} {
		assert.Contains(t, s, want)
	}
	assert.NotContains(t, s, "0.340 of")
}

// flat is a page without its layout.
// columns is how many columns of a terminal a text needs.
func columns(s string) int { return text.StringWidthWithoutEscSequences(s) }

func flat(s string) string { return strings.Join(strings.Fields(s), " ") }

func TestTextSitesOwnWords(t *testing.T) {
	s := flat(textOf(t, plannedInch(t), Page{}))
	assert.Contains(t, s, "remove 12.0 mil 12.5 -> 0.5 right 31.0 mil (river)")
	assert.Contains(t, s, "left is road, right is river.")
	assert.Contains(t, s, "- gear in left is base-bound: 12.0 of the 12.5 mil of shims that may come out")
	assert.Contains(t, s, "- gear in left is bolt-bound to the right (31.00 of 31.25 mil)")
}

// An aim that was not met is said, with what is proven about it and no more.
// By hand: of 12.5 high the mean of 12 and 11 leaves 1; the moves to the right
// reach 31.25 at the coupling and a roll of 1 mil in 20 inches takes the shaft,
// 20 inches up, back by 1, which leaves 0.75; sqrt(1² + 0.75²) of 3 is 41.7 %.
func TestTextAimNotMet(t *testing.T) {
	p := plannedInch(t)
	p.Aim, p.Lowest = 0.3, 0.3299
	assert.Contains(t, flat(textOf(t, p, Page{})),
		"The aim of 30 % cannot be reached: some coupling stays at 32 % of a limit or more, whatever is moved (proven); "+
			"this plan reaches 42 %.")
	for lowest, said := range map[float64]string{0.3071: "at 30.7 % of a limit or more",
		0.3004:  "at 30.04 % of a limit or more",
		0.30001: "above 30 % of a limit"} {
		p.Lowest = lowest
		assert.Contains(t, flat(textOf(t, p, Page{})), "The aim of 30 % cannot be reached: some coupling stays "+said+
			", whatever is moved (proven)")
	}
	p.Lowest = 0.2
	assert.Contains(t, flat(textOf(t, p, Page{})),
		"The aim of 30 % was not reached, and it was not proven whether it can be; this plan reaches 42 %.")
	p.Lowest = math.NaN()
	assert.Contains(t, flat(textOf(t, p, Page{})),
		"The aim of 30 % was not reached, and it was not proven whether it can be; this plan reaches 42 %.",
		"nothing was proven at all")
}

// What is proven where the aim was not met is proven for the share that the
// search kept to, 95.637 %, and for smaller ones: never for 96 %.
func TestProvenShareIsRoundedDown(t *testing.T) {
	p := plannedInch(t)
	p.Aim, p.Lowest, p.Kept, p.Reached = 0.555, 0.9501, 0.95637, 0.9562
	s := flat(textOf(t, p, Page{}))
	assert.Contains(t, s, "No plan within 95.6 % of the limits has a smaller total than 168.99 mil (proven)")
	assert.Contains(t, s, "The aim of 55.5 % cannot be reached: some coupling stays at 95 % of a limit or more, "+
		"whatever is moved (proven); this plan reaches 96 %.")
	assert.Contains(t, flat(string(asJSON(t, p))), `"use": { "aim": 0.555, "reached": 0.957, "kept": 0.956 }`)
	p.Aim, p.Kept = 0.7, 0.7
	assert.Contains(t, flat(textOf(t, p, Page{})), "No plan within 70 % of the limits")
}

// A foot at its end has nothing left: the arithmetic, or true geometry within
// what a check allows, does not take it past that. The bolt may go 30.999 mil.
func TestNothingLeftIsZero(t *testing.T) {
	p := plannedInch(t)
	p.Train.Machines[1].Feet[0].Hole = p.Train.Machines[1].Feet[0].Bolt + 2*30.999*train.Mil
	assert.Contains(t, flat(textOf(t, p, Page{})), "gear in left 112.0 0.5 62.0 0.0 down, right")
	assert.Contains(t, flat(string(asJSON(t, p))), `"left": 62, "right": 0 }`)
	s := formatterOf(p.Train)
	assert.Equal(t, words.Number("0.0"), s.Room(-1e-9), "check too")
	assert.Equal(t, words.Number("-1.0"), s.Room(-train.Mil), "but past an end is past an end")
}

// A held machine without feet has no table of them.
func TestCheckWithoutFeet(t *testing.T) {
	tr := read(t, "mm.toml")
	require.True(t, tr.Machines[1].Hold)
	tr.Machines[1].Feet = nil
	var b bytes.Buffer
	require.NoError(t, CheckText(&b, view.CheckOf(tr), Page{}))
	assert.Contains(t, b.String(), "gear: held, may not be moved\n\ncompressor")
}

// A page never runs over its width, whatever it is and however long the names
// are, and holds no blank at a line's end and nothing that does not print.
func TestTextKeepsItsWidth(t *testing.T) {
	for name, p := range handmade(t) {
		for _, width := range []int{0, 80, 100} {
			var check bytes.Buffer
			require.NoError(t, CheckText(&check, view.CheckOf(p.Train), Page{Width: width}))
			for _, line := range strings.Split(textOf(t, p, Page{Width: width})+check.String(), "\n") {
				assert.LessOrEqual(t, utf8.RuneCountInString(line), max(80, width), "%s: %q", name, line)
				assert.Equal(t, strings.TrimRight(line, " "), line, name)
				for _, r := range line {
					assert.True(t, unicode.IsPrint(r), "%s: %q", name, line)
				}
			}
		}
	}
}

// No line of a page is lost or cut where names are long: every number of the
// page with short names is there too.
func TestLongNamesLoseNoNumber(t *testing.T) {
	numbers := func(s string) map[string]int {
		count := make(map[string]int)
		for _, word := range strings.FieldsFunc(s, func(r rune) bool { return !unicode.IsDigit(r) && r != '.' }) {
			if strings.ContainsAny(word, "0123456789") {
				count[strings.Trim(word, ".")]++
			}
		}
		return count
	}
	assert.Equal(t, numbers(textOf(t, plannedMM(t), Page{})), numbers(textOf(t, long(t), Page{})))
}

// A file cannot make a page say what it does not say, nor colour a terminal.
func TestNamesAreCleaned(t *testing.T) {
	p := plannedMM(t)
	p.Train.Title = "a\x1b[31mred\nsecond line\u202e"
	p.Train.Machines[0].Name = "tur\tbine\r"
	p.Train.Machines[0].Feet[0].Name = "\x07bell"
	var check bytes.Buffer
	require.NoError(t, CheckText(&check, view.CheckOf(p.Train), Page{}))
	for _, s := range []string{textOf(t, p, Page{}), string(asJSON(t, p)), check.String()} {
		assert.NotContains(t, s, "\x1b")
		assert.NotContains(t, s, "\x07")
		assert.NotContains(t, s, "\u202e")
		assert.NotContains(t, s, "\r")
		assert.NotContains(t, s, "\t")
	}
	assert.True(t, strings.HasPrefix(textOf(t, p, Page{}), "a\ufffd[31mred second line\ufffd\n"))
}

// Decoded again, the JSON says what the plan says.
func TestJSONIsThePlan(t *testing.T) {
	type doc struct {
		Schema, Status     string
		Total, Plain, Peak *float64
		Bound, Lowest      *float64
		Use                struct{ Aim, Reached *float64 }
		Machines           []struct {
			Name  string
			Moved bool
			Feet  []struct {
				Up, Left, Axial, X, Y float64
				Pack                  *struct{ Now, Then float64 }
			}
		}
		Couplings []struct {
			States []struct {
				Use            struct{ Found, Planned *float64 }
				Found, Planned *struct {
					V, H struct{ Offset, Angle float64 }
				}
			}
		}
		Clash    []struct{ Kind, Machine, Foot, Coupling string }
		Unstated []string
	}
	for name, p := range handmade(t) {
		t.Run(name, func(t *testing.T) {
			var d doc
			raw := asJSON(t, p)
			require.NoError(t, json.Unmarshal(raw, &d))
			assert.NotContains(t, string(raw), "-0,", "no minus before a zero")
			tr, unit := p.Train, p.Train.Units.Move()
			// of an offset's last digit
			half := map[train.Units]float64{train.Millimetres: 0.5e-3, train.Inches: 0.5e-2}[tr.Units] + 1e-9
			assert.Equal(t, "leastmove.plan/1", d.Schema)
			assert.Equal(t, p.Status.String(), d.Status)
			assert.Equal(t, p.Aim, *d.Use.Aim)
			assert.Len(t, d.Clash, len(p.Conflict))
			assert.Len(t, d.Unstated, len(p.Unstated))
			if p.Moves == nil {
				assert.Empty(t, d.Machines)
				assert.Nil(t, d.Total)
				assert.Nil(t, d.Use.Reached)
			} else {
				require.Len(t, d.Machines, len(tr.Machines))
				assert.InDelta(t, p.Total/unit, *d.Total, 1e-9)
				assert.InDelta(t, p.Plain/unit, *d.Plain, 1e-9)
				assert.InDelta(t, p.Largest/unit, *d.Peak, 1e-9)
				assert.LessOrEqual(t, *d.Bound, p.Bound/unit+1e-9, "a bound is rounded down")
				assert.GreaterOrEqual(t, *d.Use.Reached*(1+words.Fair), p.Reached, "a use is rounded up")
				fill := map[[2]int]float64{} // mm
				for _, s := range p.Soft {
					fill[[2]int{s.Machine, s.Foot}] = s.Fill
				}
				var sum float64
				for i, m := range d.Machines {
					assert.Equal(t, p.Moves.Moved(i), m.Moved)
					for f, foot := range m.Feet {
						move := p.Moves[i][f]
						assert.InDelta(t, move.Up/unit, foot.Up, 1e-9)
						assert.InDelta(t, move.Left/unit, foot.Left, 1e-9)
						assert.InDelta(t, move.Axial/unit, foot.Axial, 1e-9)
						assert.InDelta(t, tr.Machines[i].Feet[f].X/tr.Units.Length(), foot.X, 1e-3)
						if foot.Pack != nil {
							more := fill[[2]int{i, f}] + tr.Machines[i].Feet[f].Cut // mm, fills a gap, makes up for a cut
							assert.InDelta(t, foot.Pack.Now+more/unit+foot.Up, foot.Pack.Then, 1e-9)
						}
						sum += math.Abs(foot.Up) + math.Abs(foot.Left) + math.Abs(foot.Axial)
					}
				}
				assert.InDelta(t, *d.Plain, sum, 1e-9, "the moves add up to the total")
			}
			require.Len(t, d.Couplings, len(tr.Couplings))
			for i, c := range d.Couplings {
				require.Len(t, c.States, len(tr.Conditions))
				for k, s := range c.States {
					assert.InDelta(t, p.Found.Couplings[i][k].V.Offset/unit, s.Found.V.Offset, half)
					assert.InDelta(t, p.Found.Couplings[i][k].H.Angle, s.Found.H.Angle, 0.5001e-3)
					assert.GreaterOrEqual(t, *s.Use.Found*(1+words.Fair), p.Found.Couplings[i][k].Worst())
					if p.Moves == nil {
						assert.Nil(t, s.Planned)
						continue
					}
					assert.InDelta(t, p.Planned.Couplings[i][k].H.Offset/unit, s.Planned.H.Offset, half)
					assert.InDelta(t, p.Planned.Couplings[i][k].V.Angle, s.Planned.V.Angle, 0.5001e-3)
					assert.GreaterOrEqual(t, *s.Use.Planned*(1+words.Fair), p.Planned.Couplings[i][k].Worst())
				}
			}
		})
	}
}

// What came of planning shows on the page where no plan did.
func TestTextWithoutPlan(t *testing.T) {
	s := flat(textOf(t, undecided(t), Page{}))
	assert.Contains(t, s, "Undecided: no plan was found, and it was not proven that there is none.")
	assert.Contains(t, s, "stays at 99 % of a limit or more", "a proven 99.99 % is not 100 %")
	assert.Contains(t, s, "The search ended early: the search reached its bound on work.")
	s = flat(laidOut(t, nearlyPlanned(t), Page{}))
	assert.Contains(t, s, "To first order, by the linear equations, there is none")
	assert.Regexp(t, `Nearest known: move \d of 4 machines, total [\d.]+ mm; the worst coupling ends at \d+ % of its limit`, s)
	assert.Contains(t, s, "Moves that miss by least, in mm;")
	assert.Contains(t, s, "These limits cannot hold together (to first order).")
	assert.Contains(t, s, "Options", "they are told")
	assert.NotContains(t, s, "(proven). It is")
	s = flat(laidOut(t, nearlyPlanned(t), Page{Full: true}))
	assert.Regexp(t, `Moves that miss by least[ -]*Nearest known: move \d of 4 machines, total [\d.]+ mm; the worst`, s)
	assert.Contains(t, flat(laidOut(t, nearlyPlanned(t), Page{Show: []string{"moves"}})), "Nearest known: move")
	s = Unplanned(view.Of(nearlyPlanned(t)))
	assert.Contains(t, s, "(to first order: undecided)")
	s = flat(textOf(t, impossible(t), Page{}))
	assert.Contains(t, s, "(proven)")
	assert.NotContains(t, s, "first order")
	assert.Contains(t, s, "- compressor is base-bound at drive end left: at most 2.50 mm of shims may come out")
	assert.Contains(t, s, "- low speed, cold start: angle at most 0.750 mrad", "0.5 at a use of 1.5")
	assert.NotContains(t, s, "Lock out", "there is nothing to do")
}

// A search that was cut at a bad moment may end with nothing: the page says so.
func TestUnsolvedPlanHasAPage(t *testing.T) {
	p := emptyPlan(read(t, "mm.toml"), optimize.Unsolved)
	assert.Contains(t, flat(textOf(t, p, Page{})), "Not solved: the search ended before it came to a plan")
	assert.NotEmpty(t, asJSON(t, p))
}

// A check tells the gaps under feet, and that over .002 in is too soft to align on.
func TestCheckTellsSoftFeet(t *testing.T) {
	said := func(gap float64) string {
		tr := read(t, "mm.toml")
		tr.Machines[0].Feet[0].Soft = gap
		var b bytes.Buffer
		require.NoError(t, CheckText(&b, view.CheckOf(tr), Page{}))
		return flat(b.String())
	}
	assert.NotContains(t, said(0), "Soft feet")
	assert.Contains(t, said(0.05), "bolt loose: - turbine governor left: 0.050 mm Couplings as found")
	assert.Contains(t, said(0.06), "- turbine governor left: 0.060 mm Over 0.05 mm is too soft to align on (Bloch & "+
		"Geitner: .002 in)")
}
