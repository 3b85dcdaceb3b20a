package robust

import (
	"context"
	"fmt"
	"math"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/optimize"
	"leastmove/testdata/families"
	"leastmove/testdata/trains"
	"leastmove/train"
)

// allStated is the text of a drawn train with growth and journal shifts of every machine and shaft, and [errors].
func allStated(family string, seed uint64) string {
	text := "\n" + families.TOML(family, seed)
	parts := strings.Split(text, "\n[[machine]]\n")
	for i := 1; i < len(parts); i++ {
		own, rest, more := strings.Cut(parts[i], "\n[[coupling]]\n")
		shafts := strings.Split(own, "\n[[machine.shaft]]\n")
		for s := 1; s < len(shafts); s++ {
			if !strings.Contains(shafts[s], "run = ") {
				shafts[s] = "run = { v = 0.02 }\n" + shafts[s]
			}
		}
		own = strings.Join(shafts, "\n[[machine.shaft]]\n")
		if len(shafts) == 1 {
			own = "run = { v = 0.03, h = 0.01 }\n" + own
		}
		if !strings.Contains(own, "[[machine.growth]]") && !strings.Contains(own, "rise =") {
			own += "\n[[machine.growth]]\nv = 0.1\na = 0.0\n"
		}
		if parts[i] = own; more {
			parts[i] += "\n[[coupling]]\n" + rest
		}
	}
	return strings.Join(parts, "\n[[machine]]\n") + "\n[errors]\noffset = 0.01\nangle = 0.02\nplacing = 0.01\ngrowth " +
		"= 0.1\ngrowth_least = 0.005\n"
}

// Taking a line of growth, of journal shifts or of a limited distance between shaft ends out of a file never raises the
// chance: none is given then.
func TestLessDataIsNoMoreCertain(t *testing.T) {
	line := regexp.MustCompile(`(?m)^(v = .*|run = \{.*|gap = .*)$`)
	out, gaps := 0, 0
	for n := range uint64(50) {
		family := families.Names()[int(n)%len(families.Names())]
		text := allStated(family, 400+n)
		name := fmt.Sprintf("%s-%d", family, 400+n)
		whole := MonteCarlo(context.Background(), stay(trains.Read(t, name, text)), 200)
		require.NotNil(t, whole, name)
		for _, at := range line.FindAllStringIndex(text, -1) {
			before := text[:at[0]]
			head := before[strings.LastIndex(before, "\n["):]
			gap := strings.HasPrefix(text[at[0]:], "gap") && !strings.HasPrefix(head, "\n[coupling.limit]")
			if !gap && !strings.HasPrefix(head, "\n[[machine") { // of a coupling or a condition
				continue
			}
			out++
			if gap {
				gaps++
			}
			less := MonteCarlo(context.Background(), stay(trains.Read(t, name, before+text[at[1]:])), 200)
			assert.Nil(t, less, "%s without %s", name, text[at[0]:at[1]])
		}
	}
	assert.Greater(t, out, 150, "lines taken out")
	assert.Greater(t, gaps, 10, "distances taken out")
}

// Fewer readings never make the errors of what was found smaller: exact readings of one true misalignment, with the
// errors of their instruments, one taken away after the other.
func TestFewerReadingsAreNoMoreCertain(t *testing.T) {
	const head = trains.Alone + "\n"
	text := head[:strings.Index(head, "found = ")]
	for _, x := range []float64{1400, 1450, 1550, 1600} {
		text += fmt.Sprintf("[[coupling.reading]]\nkind = \"offset\"\nx = %g\nv = %g\nh = %g\nerror = 0.01\n",
			x, 0.03+0.04*(x-1500)/1000, -0.01+0.05*(x-1500)/1000)
	}
	text += "[errors]\noffset = 0.001\nangle = 0.001\nplacing = 0\ngrowth = 0\ngrowth_least = 0\n"
	all := strings.Split(text, "[[coupling.reading]]")
	of := func(parts []string) *optimize.Plan {
		return stay(trains.Stated(trains.Read(t, "read", strings.Join(parts, "[[coupling.reading]]"))))
	}
	whole := of(all)
	require.Equal(t, train.BasisResiduals, whole.Train.Couplings[0].Fit.Basis)
	size := func(e [2]train.Tilt) float64 { return math.Hypot(e[0].Offset, math.Hypot(e[0].Angle, e[1].Angle)) }
	for out := 1; out < len(all)-1; out++ { // the last one has [errors] behind it
		less := of(append(append([]string{}, all[:out]...), all[out+1:]...))
		v, h := less.Train.FoundErrors(0)
		was, wasH := whole.Train.FoundErrors(0)
		assert.Greater(t, size(v), size(was), "reading %d", out)
		assert.Greater(t, size(h), size(wasH), "reading %d", out)
		assert.LessOrEqual(t, MonteCarlo(context.Background(), less, 20_000).Within,
			MonteCarlo(context.Background(), whole, 20_000).Within, "reading %d", out)
	}
}

// The same of drawn trains whose couplings were found in line by four readings each: without one of them the errors of
// offset and angle are no smaller, and the chance is no larger, but for the noise of its draws.
func TestReadingsTakenOutOfDrawnTrains(t *testing.T) {
	found := regexp.MustCompile(`(?ms)^\[coupling\.found\]\nv = .*?\nh = .*?\n`)
	plane := regexp.MustCompile(`(?m)^x = (\S+)\n(flex = .*\n)?\[coupling\.limit\]`)
	grown := regexp.MustCompile(`(?m)^(\[\[machine\.growth\]\]\nx = .*\n)v = .*\nh = .*\n`)
	wanted := regexp.MustCompile(`(?m)^(\[coupling\.wanted\]\n)v = .*\nh = .*\n`)
	const draws, noise = 2000, 0.03
	out, fell := 0, 0
	for n := range uint64(trains.Draws(8, 50)) {
		family := []string{"plain", "spacer", "held", "tight", "each", "effort", "two"}[n%7]
		text := allStated(family, 500+n)
		name := fmt.Sprintf("%s-%d", family, 500+n)
		text = found.ReplaceAllString(text, "[coupling.found]\n")
		text = grown.ReplaceAllString(text, "${1}v = 0\nh = 0\n") // in line when running, or the chance is nothing
		text = wanted.ReplaceAllString(text, "${1}v = { offset = 0, angle = 0 }\nh = { offset = 0, angle = 0 }\n")
		text = regexp.MustCompile(`\[coupling\.found\]\n(taken = .*\n)?`).ReplaceAllString(text, "")
		at, reading := plane.FindAllStringSubmatch(text, -1), 0
		parts := strings.Split(text, "\n[[coupling]]\n")
		require.Len(t, parts, len(at)+1, name)
		one := func(c, n int) string {
			var x float64
			_, err := fmt.Sscan(at[c][1], &x)
			require.NoError(t, err)
			return fmt.Sprintf("\n[[coupling.reading]]\nkind = \"offset\"\nx = %g\nv = 0\nh = 0\nerror = 0.06\n",
				x+[]float64{-200, -50, 60, 210}[n])
		}
		with := func(without int) *optimize.Plan {
			text, reading = parts[0], 0
			for c, part := range parts[1:] {
				limits, rest, _ := strings.Cut(part, "\n\n")
				text += "\n[[coupling]]\n" + limits + "\n"
				for n := range 4 {
					if reading++; reading-1 != without {
						text += one(c, n)
					}
				}
				text += "\n" + rest
			}
			return stay(trains.Read(t, name, text))
		}
		whole := with(-1)
		chance := MonteCarlo(context.Background(), whole, draws)
		require.NotNil(t, chance, name)
		for k := range reading {
			out++
			less := with(k)
			v, h := less.Train.FoundErrors(k / 4)
			was, wasH := whole.Train.FoundErrors(k / 4)
			angle := func(e [2]train.Tilt) float64 { return math.Hypot(e[0].Angle, e[1].Angle) }
			for _, e := range [][2]float64{{v[0].Offset, was[0].Offset}, {angle(v), angle(was)}, {h[0].Offset, wasH[0].Offset},
				{angle(h), angle(wasH)}} {
				assert.GreaterOrEqual(t, e[0], e[1]*(1-1e-9), "%s without reading %d", name, k)
			}
			c := MonteCarlo(context.Background(), less, draws)
			assert.LessOrEqual(t, c.Within, chance.Within+noise, "%s without reading %d", name, k)
			if c.Within < chance.Within {
				fell++
			}
		}
	}
	assert.Greater(t, out, 30)
	assert.Positive(t, fell, "some lower the chance")
}

// The errors of a fit are those of its covariance, as correlated as it says, and at least those of [errors].
// By hand: two
// offsets of ±0.01 at 100 mm on either side give ±0.01/√2 in the middle and ±0.01 × √2 / 0.2 m of angle, independent.
func TestErrorsOfReadings(t *testing.T) {
	text := trains.Alone[:strings.Index(trains.Alone, "found = ")]
	for _, x := range []string{"1400", "1600"} {
		text += "[[coupling.reading]]\nkind = \"offset\"\nx = " + x + "\nv = 0.01\nh = 0.02\nerror = 0.01\n"
	}
	tr := trains.Read(t, "two offsets", text)
	v, _ := tr.FoundErrors(0)
	assert.InDelta(t, 0.01/math.Sqrt2, v[0].Offset, 1e-4)
	assert.InDelta(t, 0, v[0].Angle, 1e-9)
	assert.InDelta(t, 0.01*math.Sqrt2/0.2, v[1].Angle, 1e-3)
	tr.Errors = train.Errors{Offset: 0.02, Angle: 0.01}
	v, _ = tr.FoundErrors(0)
	assert.Equal(t, 0.02, v[0].Offset, "[errors] where it is larger")
	assert.InDelta(t, 0.01*math.Sqrt2/0.2, v[1].Angle, 1e-3)
}

// growth_least by itself, in closed form: both machines are off by it up and sideways, and their shafts too.
func TestGrowthLeastInClosedForm(t *testing.T) {
	tr := trains.Stated(trains.Read(t, "alone", trains.Alone))
	tr.Errors.GrowthLeast = 0.02
	s := 0.02 / train.Half95 * 2 // root of four
	want := inside(0.03, s, 0.05) * inside(-0.01, s, 0.05)
	c := MonteCarlo(context.Background(), stay(tr), 200_000)
	assert.InDelta(t, want, c.Within, 4*c.Error)
	tr.Machines[0].Growth.Unknown = true
	assert.Nil(t, MonteCarlo(context.Background(), stay(tr), 1000), "growth that is not stated is unknown")
}

// A move that the crew can't place is no move: sideways moves are 0 or at least twice the error of placing.
func TestMovesThatCanBePlaced(t *testing.T) {
	text := strings.Replace(trains.Alone, "h = { offset = -0.01, angle = 0.05 }", "h = { offset = -0.06, angle = 0.05 }",
		1)
	side := func(errors string) []float64 {
		tr := trains.Read(t, "alone", text+errors)
		p, err := optimize.Make(t.Context(), tr, optimize.Options{Brief: true})
		require.NoError(t, err)
		require.NotNil(t, p.Moves)
		var out []float64
		for _, f := range p.Moves[1] {
			if f.Left != 0 {
				out = append(out, math.Abs(f.Left))
			}
		}
		return out
	}
	small := func(moves []float64, least float64) int {
		n := 0
		for _, m := range moves {
			if m < least-1e-9 {
				n++
			}
		}
		return n
	}
	require.NotZero(t, small(side(""), 0.06), "without [errors] there is no least")
	placed := side("[errors]\nplacing = 0.03\n")
	require.NotEmpty(t, placed)
	assert.Zero(t, small(placed, 0.06), "%v", placed)
	assert.Zero(t, small(side("[errors]\nangle = 0.1\n"), 0.04), "the default of placing")
}
