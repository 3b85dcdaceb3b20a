package main

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/train"
	"leastmove/train/readings"
)

var stageHeading = regexp.MustCompile(`^## Stage (\d+) of \d+, (.*): ((packs|sideways|along the train)(, then [a-z ]+)*)$`)

// An instrument has its letter before its name.
var anInstrument = regexp.MustCompile(`^[A-Z]: (.*)$`)

// What offset and angle that are worked out should come to.
var workedSums = regexp.MustCompile(`offset .*: up (\S+), left (\S+); angle .*: up (\S+), left ([-+0-9.]+)`)

// A follower goes through a sheet.
type follower struct {
	t       *testing.T
	tr      *train.Train
	moves   train.Moves
	machine int // -1: between stages
	before  train.State
	checked int // numbers
	listed  int // feet in the table of all moves
	read    int // of dials, as they were read
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
			f.set(lines[n:])
			continue
		}
		for c := range tr.Couplings { // over what its instruments show
			if line == tr.Couplings[c].Name || strings.HasPrefix(line, tr.Couplings[c].Name+": ") {
				coupling = c
			}
		}
		if m := workedSums.FindStringSubmatch(line); m != nil {
			r := f.at(coupling)
			fine, _ := f.decimals()
			u := tr.Units.Move()
			f.checked++
			assert.Equal(t, []string{withSign(r.V.Offset/u, fine), withSign(r.H.Offset/u, fine), withSign(r.V.Angle, 3),
				withSign(r.H.Angle, 3)}, m[1:])
		}
		if !strings.HasPrefix(line, "| ") || strings.HasPrefix(line, "| coupling |") || strings.HasPrefix(line, "| dial") ||
			strings.HasPrefix(line, "| foot") {
			continue
		}
		cells := strings.Split(strings.Trim(line, "| "), " | ")
		first := strings.Trim(cells[0], "* ")
		instrument := ""
		if m := anInstrument.FindStringSubmatch(first); m != nil {
			instrument = m[1]
		}
		if stages == 0 && len(cells) == 5 && len(first) > 0 && strings.Trim(first, "0123456789, ") == "" {
			f.listed += len(strings.Split(first, ", "))
		}
		switch c := couplingOf(tr, cells[0]); {
		case c >= 0:
			coupling = c
			r := f.at(c)
			f.says(cells[1], f.word(r.V.Offset, "high", "low")+", "+f.slope(r.V.Angle, "slopes up", "slopes down"))
			f.says(cells[3], f.word(r.H.Offset, "left", "right")+", "+f.slope(r.H.Angle, "points left", "points right"))
		case strings.HasPrefix(instrument, "at x = ") && f.machine >= 0 && len(cells) == 5:
			x := mustParse(t, strings.TrimPrefix(instrument, "at x = ")) * tr.Units.Length()
			r := f.at(coupling)
			on := (x - tr.Couplings[coupling].X) / 1000
			f.says(cells[1], f.word(r.V.Offset+on*r.V.Angle, "high", "low"))
			f.says(cells[3], f.word(r.H.Offset+on*r.H.Angle, "left", "right"))
		case strings.HasPrefix(instrument, "at x = "):
		case instrument != "" && len(cells) == 7:
			f.dial(coupling, cells)
		case first == "shaft ends":
			step, d := 0.05, 2 // what a crew reads, mm
			if tr.Units == train.Inches {
				step, d = 0.002, 3
			}
			gap := f.at(coupling).Gap / tr.Units.Length()
			should, _, _ := strings.Cut(strings.Trim(cells[1], "*"), ",")
			f.says("**"+should+"**", fmt.Sprintf("%.*f %s apart", d, math.Round(gap/step)*step, tr.Units))
		}
	}
	require.Greater(t, stages, 0)
	assert.Greater(t, f.checked, 4*stages)
	assert.Equal(t, plan.moved(), f.listed, "the table of all moves")
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

// couplingOf is the coupling that a cell names, with what it may be off by behind it; -1: none.
func couplingOf(tr *train.Train, cell string) int {
	return slices.IndexFunc(tr.Couplings, func(k train.Coupling) bool {
		return cell == "**"+k.Name+"**" || strings.HasPrefix(cell, "**"+k.Name+": ")
	})
}

// withSign is a number with its sign, plus too.
func withSign(v float64, decimals int) string {
	s := fmt.Sprintf("%+.*f", decimals, v)
	if strings.Trim(s, "+-0.") == "" {
		return s[1:]
	}
	return s
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
// there; before the first stage against what it read there, where it did, cold.
func (f *follower) dial(c int, cells []string) {
	k := &f.tr.Couplings[c]
	r := f.at(c)
	print := func(v float64, decimals int) string {
		s := strconv.FormatFloat(v/f.tr.Units.Move(), 'f', decimals, 64)
		if strings.Trim(s, "-0.") == "" {
			s = strings.TrimPrefix(s, "-")
		}
		return s
	}
	// As many digits as any reading of the coupling, from a dial's own up to those of an
	// offset.
	fine, digits := f.decimals()
	for i := range k.Dials {
		for _, v := range k.Dials[i].Values {
			for digits < fine && math.Abs(v-mustParse(f.t, print(v, digits))*f.tr.Units.Move()) > 1e-9 {
				digits++
			}
		}
	}
	var all [][]string
	for i, d := range slices.Concat(k.Dials, k.Targets) {
		if d.Kind == train.OffsetDial {
			continue
		}
		var want []string
		for n, v := range readings.Target(&d, k.X, r.Misalignment, []float64{0, 90, 180, 270})[1:] {
			s := print(v, digits)
			if f.machine < 0 {
				if zero, read := slices.Index(d.Angles, 0), slices.Index(d.Angles, float64(90*(n+1))); i < len(k.Dials) &&
					zero >= 0 && read >= 0 && k.Taken == (train.Share{}) {
					s = print(d.Values[read]-d.Values[zero], digits)
					f.read++
				} else {
					s = "(" + s + ")"
				}
			}
			want = append(want, "**"+s+"**")
		}
		all = append(all, want)
	}
	f.checked++
	assert.Contains(f.t, all, []string{cells[1], cells[3], cells[5]})
}

func mustParse(t *testing.T, s string) float64 {
	v, err := strconv.ParseFloat(s, 64)
	require.NoError(t, err)
	return v
}

// set does what a stage's table of feet says, and holds its dials against where
// true geometry then has the feet.
func (f *follower) set(lines []string) {
	m := &f.tr.Machines[f.machine]
	u := f.tr.Units.Move()
	along := 0.0
	var heads []string
	var rows [][]string
	for _, line := range lines[1:] {
		if strings.HasPrefix(line, "#") || heads != nil && !strings.HasPrefix(line, "|") {
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
		cells := strings.Split(strings.TrimSuffix(strings.TrimPrefix(line, "| "), " |"), " | ")
		if strings.HasPrefix(line, "| foot") {
			heads = cells
		} else if heads != nil && !strings.HasPrefix(line, "|--") {
			rows = append(rows, cells)
		}
	}
	feet := func(cell string) []int { // the numbers of the drawing, and the names
		name := strings.TrimSuffix(strings.TrimLeft(cell, "0123456789, "), ", each")
		var out []int
		number := 1
		for i := range f.machine {
			number += len(f.tr.Machines[i].Feet)
		}
		for k := range m.Feet {
			if n := m.Feet[k].Name; n == name || n == name+" left" || n == name+" right" {
				assert.Regexp(f.t, fmt.Sprintf(`(^|[ ])%d[, ]`, number+k), cell)
				out = append(out, k)
			}
		}
		return out
	}
	column := func(head string) int { // what its dials may be off by stands behind it
		return slices.IndexFunc(heads, func(h string) bool { return h == head || strings.HasPrefix(h, head+"\u00a0±") })
	}
	covered := 0
	left := map[float64]float64{} // by the station of the feet
	for _, row := range rows {
		for _, k := range feet(row[0]) {
			covered++
			if c := column("shims"); c > 0 {
				f.moves[f.machine][k].Up += amount(f.t, strings.Trim(row[c], "*")) * u
			}
			if c := column("side"); c > 0 && !strings.HasPrefix(row[c], "as foot ") {
				left[m.Feet[k].X] = amount(f.t, strings.Trim(row[c], "*")) * u
			}
		}
	}
	require.Equal(f.t, len(m.Feet), covered, "every foot of %s has a row", m.Name)
	for k := range m.Feet {
		f.moves[f.machine][k].Left += left[m.Feet[k].X]
		f.moves[f.machine][k].Axial += along
	}
	after := f.tr.Check(f.moves)
	for _, row := range rows {
		for _, k := range feet(row[0]) {
			was, is := f.before.Machines[f.machine].Feet[k], after.Machines[f.machine].Feet[k]
			if c := column("dial"); c > 0 {
				f.goes(row[c], is.Up-was.Up, "up", "down")
			}
			if c := column("along"); c > 0 && row[c] != "" {
				f.goes(row[c], is.Axial-was.Axial, "on", "back")
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
	if words == "no change" || strings.Trim(words, "0.") == "" {
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
