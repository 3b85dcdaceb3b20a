package chart

import (
	"os"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/bolts"
	"leastmove/cmd/internal/view"
	"leastmove/optimize"
	"leastmove/optimize/ways"
	"leastmove/testdata/families"
	"leastmove/testdata/trains"
	"leastmove/train/trainfile"
)

// In every figure of a train, on paper and for a narrow screen, every label is within the drawing, none is cut and none
// lies on another.
func TestFiguresAreLegible(t *testing.T) {
	files := map[string]string{}
	for _, name := range []string{"reverse-dials", "base-bound", "turbine", "five-machines", "survey"}[:trains.Draws(2,
		5)] {
		text, err := os.ReadFile("../../../examples/" + name + "/before.toml")
		require.NoError(t, err)
		files[name] = string(text)
	}
	if trains.Draws(0, 1) > 0 {
		files["seven"], files["eight"] = families.TOML("long", 5), families.TOML("long", 501)
		for _, name := range families.Names() {
			files[name] = families.TOML(name, 77)
		}
	}
	for name, text := range files {
		t.Run(name, func(t *testing.T) {
			tr, faults := trainfile.Read(name, []byte(text), trainfile.Options{ClearanceHole: bolts.ClearanceHole,
				Thread: bolts.Thread, Minor: bolts.Minor})
			require.NotNil(t, tr, "%v", faults)
			p, err := ways.Make(t.Context(), tr, optimize.Options{Brief: true, Solves: 400})
			require.NoError(t, err)
			f := view.FiguresOf(p)
			for _, figure := range Figures() {
				for _, d := range Of(figure, f) {
					legible(t, d)
					if d.narrow != nil {
						legible(t, *d.narrow)
					}
				}
			}
		})
	}
}

// legible holds the labels of a drawing against each other and against its edges.
func legible(t *testing.T, d Drawing) {
	t.Helper()
	const fair = 1 // point
	all := readBack(t, d, true).labels
	if d.Width < usualWidth { // such a page says itself what it shows
		all = slices.DeleteFunc(all, func(l label) bool { return l.words == d.Title })
	}
	right := func(l label) float64 { return l.x + float64(wide(l.size, l.words)) }
	for n, a := range all {
		assert.NotContains(t, a.words, "…", d.Title)
		assert.GreaterOrEqual(t, a.x, -float64(fair), "%s: %s", d.Title, a.words)
		assert.LessOrEqual(t, right(a), float64(d.Width)+fair, "%s: %s", d.Title, a.words)
		assert.GreaterOrEqual(t, a.y, -float64(fair), "%s: %s", d.Title, a.words)
		assert.LessOrEqual(t, a.y+0.7*a.size, float64(d.Height)+fair, "%s: %s", d.Title, a.words)
		for _, b := range all[n+1:] {
			apart := right(a) < b.x+fair || right(b) < a.x+fair || a.y+0.7*a.size < b.y+fair || b.y+0.7*b.size < a.y+fair
			assert.True(t, apart, "%s (%g wide): %q lies on %q", d.Title, float64(d.Width), a.words, b.words)
		}
	}
}
