package bolts

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A tried pack is the best of one height, in whole hundredths of a mm or whole
// mils, by trying every pack there is.
type tried struct {
	handled int
	pack    []int // ascending
}

// everyPack tries every pack of at most so many pieces of stock and of the pack
// now: no dynamic programming, no floats.
func everyPack(stock, now []int, most int) map[int]tried {
	have := map[int]int{}
	for _, p := range now {
		have[p]++
	}
	sizes := slices.Concat(stock, now)
	slices.Sort(sizes)
	sizes = slices.Compact(sizes)
	best := map[int]tried{}
	var pack []int
	var grow func(from int)
	grow = func(from int) {
		height, in, kept := 0, 0, 0
		count := map[int]int{}
		for _, p := range pack {
			height += p
			if count[p]++; count[p] <= have[p] {
				kept++
			} else if in++; !slices.Contains(stock, p) {
				return // a piece that is in no stock, once too often
			}
		}
		handled := in + len(now) - kept
		b, ok := best[height]
		if !ok || handled < b.handled || handled == b.handled && (len(pack) < len(b.pack) || len(pack) == len(b.pack) &&
			slices.Compare(pack, b.pack) > 0) {
			best[height] = tried{handled, slices.Clone(pack)}
		}
		if len(pack) == most {
			return
		}
		for i := from; i < len(sizes); i++ {
			pack = append(pack, sizes[i])
			grow(i)
			pack = pack[:len(pack)-1]
		}
	}
	grow(0)
	return best
}

func thick(pieces []int, unit float64) []float64 {
	out := make([]float64, len(pieces))
	for i, p := range pieces {
		out[i] = float64(p) * unit
	}
	return out
}

// inWhole are thicknesses in whole units, ascending.
func inWhole(t *testing.T, pieces []float64, unit float64) []int {
	t.Helper()
	out := make([]int, len(pieces))
	for i, p := range pieces {
		out[i] = int(math.Round(p / unit))
		require.InDelta(t, float64(out[i])*unit, p, 1e-9)
	}
	slices.Sort(out)
	return out
}

func TestChangeAgainstEveryPack(t *testing.T) {
	metric := []int{5, 10, 20, 25, 50, 70, 100, 200, 300}
	inch := []int{1, 2, 3, 4, 5, 10, 15, 20, 25, 50, 75, 100, 125}
	const hundredth, mil = 0.01, 0.0254
	for _, c := range []struct {
		name       string
		stock, now []int
		most       int
		unit       float64
		step, high int // targets
	}{
		{"nothing under the foot", metric, nil, UsualPieces, hundredth, 5, 1000},
		{"one piece", metric, []int{300}, UsualPieces, hundredth, 5, 1000},
		{"a plate that no stock has", metric, []int{500}, UsualPieces, hundredth, 5, 1000},
		{"three pieces, one twice", metric, []int{200, 50, 50}, UsualPieces, hundredth, 5, 1000},
		{"a measured pack, off every step", metric, []int{297, 51}, UsualPieces, hundredth, 1, 1000},
		{"full", metric, []int{300, 100, 20, 10, 5}, UsualPieces, hundredth, 5, 1000},
		{"seven pieces, too many", metric, []int{100, 50, 50, 20, 10, 10, 5}, UsualPieces, hundredth, 5, 1000},
		{"at most three", metric, []int{200, 70, 10}, 3, hundredth, 5, 1000},
		{"one piece and no more", metric, []int{200, 70, 10}, 1, hundredth, 5, 1000},
		{"inch", inch, []int{125, 50, 3}, 4, mil, 1, 400},
		{"inch, four alike", inch, []int{20, 20, 20, 20}, UsualPieces, mil, 1, 400},
	} {
		t.Run(c.name, func(t *testing.T) {
			want := everyPack(c.stock, c.now, c.most)
			shims := NewShimStock(thick(c.stock, c.unit), c.most)
			now, stands := thick(c.now, c.unit), 0
			for _, p := range c.now {
				stands += p
			}
			made, steps := 0, []int{}
			for h := 0; h <= c.high; h += c.step {
				got, ok := shims.Change(now, float64(h-stands)*c.unit)
				if h == stands {
					require.True(t, ok)
					assert.Equal(t, Change{Then: slices.Clone(now)}, got, "it stays")
					steps = append(steps, 0)
					continue
				}
				w, can := want[h]
				require.Equal(t, can, ok, "height %d", h)
				if !ok {
					continue
				}
				made++
				steps = append(steps, h-stands)
				require.Equal(t, w.handled, len(got.Out)+len(got.In), "height %d", h)
				require.Equal(t, fmt.Sprint(w.pack), fmt.Sprint(inWhole(t, got.Then, c.unit)), "height %d", h)
				both := slices.Concat(c.now, inWhole(t, got.In, c.unit))
				slices.Sort(both)
				all := append(inWhole(t, got.Then, c.unit), inWhole(t, got.Out, c.unit)...)
				slices.Sort(all)
				require.Equal(t, both, all, "now and in are then and out")
			}
			assert.Greater(t, made, 5)
			got := slices.DeleteFunc(shims.Steps(now, 0, c.unit), func(n int) bool {
				return n+stands > c.high || n != 0 && (n+stands)%c.step != 0
			})
			assert.Equal(t, steps, got, "the steps are the heights that can be made")
		})
	}
}

// By hand, from 2 + 0.5 + 0.25 with 0.05 to 1 mm at hand and four pieces.
func TestChangeByHand(t *testing.T) {
	shims := NewShimStock([]float64{0.05, 0.1, 0.2, 0.25, 0.5, 1}, 4)
	now := []float64{2, 0.25, 0.5}
	for _, c := range []struct {
		why  string
		then float64
		want Change
	}{
		{"as it is", 2.75, Change{Then: []float64{2, 0.25, 0.5}}},
		{"out with one", 2.25, Change{Then: []float64{2, 0.25}, Out: []float64{0.5}, In: []float64{}}},
		{"in with one, the thinnest in the middle", 2.8, Change{Then: []float64{2, 0.25, 0.05, 0.5}, Out: []float64{},
			In: []float64{0.05}}},
		{"0.3 in would be two, which are one too many: one of 0.5 and one of 0.05 for that of 0.25", 3.05,
			Change{Then: []float64{2, 0.5, 0.05, 0.5}, Out: []float64{0.25}, In: []float64{0.5, 0.05}}},
		{"0.25 stays, so one goes in", 0.3, Change{Then: []float64{0.25, 0.05}, Out: []float64{2, 0.5}, In: []float64{0.05}}},
		{"empty", 0, Change{Then: []float64{}, Out: []float64{2, 0.5, 0.25}, In: []float64{}}},
	} {
		got, ok := shims.Change(now, c.then-2.75)
		require.True(t, ok, c.why)
		assert.Equal(t, c.want, got, c.why)
	}
	got, ok := shims.Change(nil, 0.3)
	require.True(t, ok)
	assert.Equal(t, []float64{0.2, 0.1}, got.Then, "not 0.25 and 0.05: none of the thinnest")
	_, ok = shims.Change(now, 0.02)
	assert.False(t, ok, "nothing at hand comes to 0.02")
	_, ok = shims.Change(now, 6.25)
	assert.False(t, ok, "2 and three of 1 are 5, not 9")
	_, ok = shims.Change(now, -2.8)
	assert.False(t, ok, "0.05 less than nothing")
}

// 0.1 and 0.2 are 0.3, and 3 mil and 4 mil are 7, in binary fractions or not.
func TestHeightsAreWholeNumbers(t *testing.T) {
	got, ok := NewShimStock([]float64{0.1, 0.2}, 3).Change([]float64{0.1, 0.1, 0.1}, 0.1+0.2)
	require.True(t, ok)
	assert.Equal(t, []float64{0.2, 0.2, 0.2}, got.In)
	got, ok = NewShimStock([]float64{3 * 0.0254, 4 * 0.0254}, 2).Change(nil, 7*0.0254)
	require.True(t, ok)
	assert.Equal(t, []float64{0.1016, 0.0762}, got.In)
	assert.Equal(t, []float64{0, 0.1, 0.2, 0.3, 0.4}, inMillimetres(NewShimStock([]float64{0.1, 0.2}, 2).heights(nil)))
}

// A pack that starts above its height now, as a soft foot is filled first: by
// hand, 1 mm, filled by 0.1, and 0.1 or 0.5 at hand, two pieces. Heights 0, 0.1,
// 0.2, 0.5, 0.6, 1, 1.1 and 1.5.
func TestStepsFromAFill(t *testing.T) {
	shims := NewShimStock([]float64{0.1, 0.5}, 2)
	assert.Equal(t, []int{-11, -10, -9, -6, -5, -1, 0, 4}, shims.Steps([]float64{1}, 0.1, 0.1))
	assert.Equal(t, []int{-10, -9, -8, -5, -4, 0, 1, 5}, shims.Steps([]float64{1}, 0, 0.1))
	assert.Equal(t, []int{-4, -2, 0}, shims.Steps([]float64{1}, 0.1, 0.25), "0.1, 0.6 and 1.1; 1.6 would be three pieces")
}

// Of a pack of which not even the height is known it is known that something
// goes in: at most one piece less than a pack may have.
func TestPackNobodyKnows(t *testing.T) {
	shims := NewShimStock([]float64{0.1, 0.5}, 3)
	assert.Equal(t, []int{0, 1, 2, 5, 6, 10}, shims.AddSteps(0, 0.1))
	assert.Equal(t, []int{0, 1, 4, 5, 9}, shims.AddSteps(0.1, 0.1), "0.1 goes in first")
	got, ok := shims.Adds(0.6)
	require.True(t, ok)
	assert.Equal(t, []float64{0.5, 0.1}, got.In)
	_, ok = shims.Adds(0.7)
	assert.False(t, ok, "three pieces, and the pack itself")
	_, ok = shims.Adds(-0.1)
	assert.False(t, ok, "what could come out is not known")
}

// The usual stock makes any change of whole steps within some millimetres of a
// usual pack: 2.8 mm and 205 mil up, and down to nothing. The number of pieces
// is what ends it. The first step missing is that of a list of all sums.
func TestUsualStockReachesFar(t *testing.T) {
	metric := NewShimStock(UsualStock(false), UsualPieces).Steps([]float64{3, 2}, 0, 0.05)
	inch := NewShimStock(UsualStock(true), UsualPieces).Steps([]float64{125 * 0.0254, 75 * 0.0254}, 0, 0.0254)
	for name, c := range map[string]struct {
		steps    []int
		from, to int // whole steps without a gap
	}{
		"metric": {metric, -100, 56},
		"inch":   {inch, -200, 205},
	} {
		have := map[int]bool{}
		for _, n := range c.steps {
			have[n] = true
		}
		for n := c.from; n <= c.to; n++ {
			assert.True(t, have[n], "%s: %d", name, n)
		}
		assert.False(t, have[c.to+1], "%s: the first one missing", name)
	}
}

func height(pieces []float64) (mm float64) {
	for _, p := range pieces {
		mm += p
	}
	return mm
}

// The way back is open, and takes no more handling: what went in comes out.
func TestTheWayBack(t *testing.T) {
	r := rand.New(rand.NewPCG(2, 7))
	stock := UsualStock(false)
	shims := NewShimStock(stock, UsualPieces)
	for range 200 {
		now := make([]float64, 1+r.IntN(5))
		for i := range now {
			now[i] = stock[r.IntN(len(stock))]
		}
		then := 0.05 * float64(r.IntN(200))
		a, ok := shims.Change(now, then-height(now))
		if !ok {
			continue
		}
		b, ok := shims.Change(a.Then, height(now)-then)
		require.True(t, ok)
		assert.LessOrEqual(t, len(b.Out)+len(b.In), len(a.Out)+len(a.In))
	}
}
