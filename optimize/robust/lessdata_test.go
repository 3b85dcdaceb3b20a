package robust

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"regexp"
	"slices"
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
	drawn := trains.Draws(20, 50)
	for n := range uint64(drawn) {
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
	assert.Greater(t, out, 3*drawn, "lines taken out")
	assert.Greater(t, gaps, drawn/5, "distances taken out")
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
	require.Equal(t, 4, whole.Train.Couplings[0].Fit.Freedom)
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

// The same of drawn trains whose couplings were read in line, but for the noise of readings as good as they are said to
// be: by offsets at four planes, or by the rims of both hubs at 12, 3, 6 and 9. Where all agreed, without any one of
// the readings the errors of offset and angle are no smaller, and the chance, at the same moves and from the same
// misalignment, is no larger, but for the noise of its draws.
func TestReadingsTakenOutOfDrawnTrains(t *testing.T) {
	const draws, noise = 2000, 0.03
	r := rand.New(rand.NewPCG(14, 18))
	out, fell, contradict := map[bool]int{}, map[bool]int{}, 0
	for n := range uint64(trains.Draws(8, 50)) {
		family := []string{"plain", "spacer", "held", "tight", "each", "effort", "two"}[n%7]
		rims := n%2 == 1
		name, head, couplings := inLine(t, family, 500+n)
		var all [][]string // of each coupling, what was read: of rims one hub after the other
		for _, c := range couplings {
			all = append(all, read(r, c, rims))
		}
		with := func(coupling, without int) *optimize.Plan {
			text := head
			for c := range couplings {
				own := slices.Clone(all[c])
				if c == coupling {
					own[without] = ""
				}
				text += couplings[c].text(own, rims)
			}
			return stay(trains.Read(t, name, text))
		}
		whole := with(-1, 0)
		chance := MonteCarlo(context.Background(), whole, draws)
		require.NotNil(t, chance, name)
		for c := range couplings {
			if whole.Train.Couplings[c].Fit.Spread > 1 {
				contradict++ // what contradicts the errors, left out, leaves nothing that does
				continue
			}
			for k := range all[c] {
				out[rims]++
				less := with(c, k)
				for i := range less.Train.Couplings {
					less.Train.Couplings[i].Found = whole.Train.Couplings[i].Found
				}
				less.Planned = less.Train.Check(less.Moves)
				v, h := less.Train.FoundErrors(c)
				was, wasH := whole.Train.FoundErrors(c)
				angle := func(e [2]train.Tilt) float64 { return math.Hypot(e[0].Angle, e[1].Angle) }
				for _, e := range [][2]float64{{v[0].Offset, was[0].Offset}, {angle(v), angle(was)},
					{h[0].Offset, wasH[0].Offset}, {angle(h), angle(wasH)}} {
					assert.GreaterOrEqual(t, e[0], e[1]*(1-1e-6), "%s, coupling %d without reading %d", name, c, k)
				}
				p := MonteCarlo(context.Background(), less, draws)
				assert.LessOrEqual(t, p.Within, chance.Within+noise, "%s, coupling %d without reading %d", name, c, k)
				if p.Within < chance.Within {
					fell[rims]++
				}
			}
		}
	}
	for _, rims := range []bool{false, true} {
		assert.Greater(t, out[rims], 30)
		assert.Positive(t, fell[rims], "some lower the chance")
	}
	assert.Less(t, contradict, out[true]/16, "one set of eight in twenty")
}

// A readCoupling is the text of a drawn coupling before and after its readings.
type readCoupling struct {
	before, after string
	from, to      string
	x             float64
}

// inLine is the text of a drawn train in line when running, without what its couplings were found to have.
func inLine(t *testing.T, family string, seed uint64) (name, head string, out []readCoupling) {
	text, name := allStated(family, seed), fmt.Sprintf("%s-%d", family, seed)
	text = regexp.MustCompile(`(?m)^\[coupling\.found\]\n([a-z]+ = .*\n)*`).ReplaceAllString(text, "")
	text = regexp.MustCompile(`(?m)^(\[\[machine\.growth\]\]\nx = .*\n)v = .*\nh = .*\n`).
		ReplaceAllString(text, "${1}v = 0\nh = 0\n")
	text = regexp.MustCompile(`(?m)^(\[coupling\.wanted\]\n)v = .*\nh = .*\n`).
		ReplaceAllString(text, "${1}v = { offset = 0, angle = 0 }\nh = { offset = 0, angle = 0 }\n")
	key := func(part, pattern string) string {
		found := regexp.MustCompile(`(?m)^` + pattern + `$`).FindStringSubmatch(part)
		require.NotNil(t, found, "%s: %s in %s", name, pattern, part)
		return found[1]
	}
	parts := strings.Split(text, "\n[[coupling]]\n")
	for _, part := range parts[1:] {
		limits, rest, _ := strings.Cut(part, "\n\n")
		c := readCoupling{before: "\n[[coupling]]\n" + limits + "\n", after: "\n" + rest, from: key(part, `from = (.*)`),
			to: key(part, `to = (.*)`)}
		_, err := fmt.Sscan(key(part, `x = (.*)`), &c.x)
		require.NoError(t, err)
		out = append(out, c)
	}
	return name, parts[0], out
}

// read are readings of a coupling in line: offsets at four planes, or a rim on each hub at four positions, as entries
// of a clock.
func read(r *rand.Rand, c readCoupling, rims bool) []string {
	var out []string
	if rims {
		for n := range 8 {
			out = append(out, fmt.Sprintf("%d = %.4f,", []int{12, 3, 6, 9}[n%4], 0.03*r.NormFloat64()))
		}
		return out
	}
	for _, from := range []float64{-200, -50, 60, 210} {
		out = append(out, fmt.Sprintf("[[coupling.reading]]\nkind = \"offset\"\nx = %g\nv = 0\nh = 0\nerror = 0.06\n",
			c.x+from))
	}
	return out
}

// text is a coupling with these readings.
func (c readCoupling) text(readings []string, rims bool) string {
	if !rims {
		return c.before + strings.Join(readings, "") + c.after
	}
	text := c.before
	for hub, on := range []string{c.from, c.to} {
		text += fmt.Sprintf("[[coupling.reading]]\nkind = \"rim\"\non = %s\nx = %g\nsag = 0\nerror = 0.0588\n"+
			"clock = { %s }\n", on, c.x-200+400*float64(hub), strings.Trim(strings.Join(readings[4*hub:4*hub+4], " "), ", "))
	}
	return text + c.after
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
