package chart

import (
	"bytes"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/cmd/internal/view"
)

// What is drawn has the sides by the site's own words, and the signs that the model has: a shaft that
// slopes up opens the gap at the bottom.
func TestSigns(t *testing.T) {
	all := Signs(view.FiguresOf(plannedOf(t, "turbine")))
	require.Len(t, all, 1)
	for _, d := range []Drawing{all[0], *all[0].narrow} {
		var words []string
		at := map[string]label{}
		for _, l := range readBack(t, d).labels {
			words = append(words, l.words)
			at[l.words] = l
		}
		for _, one := range []string{"left: north, y +", "right: south, y −", "12", "3", "6", "9", "plunger pushed in: +",
			"a rim, on = to, reads −2 h at 6,", "narrower at the top", "wider at the bottom"} {
			assert.Contains(t, words, one)
		}
		// From above the left side is up where the train runs to the right; 3 is right, 12 up. y is up.
		assert.Greater(t, at["left: north, y +"].y, at["right: south, y −"].y)
		assert.Less(t, at["9"].x, at["3"].x)
		assert.Greater(t, at["12"].y, at["6"].y)
		assert.Less(t, at["first machine"].x, at["last machine"].x)
		assert.Greater(t, at["narrower at the top"].y, at["wider at the bottom"].y)
		for _, l := range at {
			assert.LessOrEqual(t, l.x+float64(wide(small, l.words)), float64(d.Width), l.words)
			assert.GreaterOrEqual(t, l.x, 0.0, l.words)
		}
	}
	plain, err := Signs(view.FiguresOf(plannedOf(t, "five-machines")))[0].Sized("svg", Size{})
	require.NoError(t, err)
	assert.True(t, bytes.Contains(plain, []byte(">left, y +<")), "no words of its own")
}
