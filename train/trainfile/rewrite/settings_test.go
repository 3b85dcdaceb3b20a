package rewrite

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestSettingsKeepAllElse(t *testing.T) {
	const src = `title = "t" # the title
[[machine]]
name = "a"
hold = true  # by the pipes
[[machine.foot]]
name = "in"
hole = 26    # drilled
left = { shim = 5.2 }

[[coupling]]
name = "c"
limit = { offset = 0.05, angle = 0.5 } # ours
[coupling.found]
v = { offset = 1, angle = 2 }
`
	text, err := Open([]byte(src))
	require.NoError(t, err)
	assert.Equal(t, "26", text.Value("machine", "0", "foot", "0", "hole"))
	assert.Equal(t, "", text.Value("machine", "0", "foot", "1", "hole"))
	assert.Equal(t, 1, text.Len("machine"))
	got, err := text.With([]Setting{
		{[]string{"machine", "0", "foot", "0", "hole"}, "28"},
		{[]string{"machine", "0", "foot", "0", "left", "lower"}, "1.5"},
		{[]string{"machine", "0", "foot", "0", "raise"}, "3"},
		{[]string{"machine", "0", "growth", "0", "x"}, "0"},
		{[]string{"machine", "0", "growth", "0", "v"}, "0.1"},
		{[]string{"coupling", "0", "limit", "offset"}, "0.07"},
		{[]string{"coupling", "0", "found", "v", "angle"}, "2.5"},
	})
	require.NoError(t, err)
	assert.Equal(t, `title = "t" # the title
[[machine]]
name = "a"
hold = true  # by the pipes
growth = [{ x = 0, v = 0.1 }]
[[machine.foot]]
name = "in"
hole = 28    # drilled
left = { shim = 5.2, lower = 1.5 }
raise = 3

[[coupling]]
name = "c"
limit = { offset = 0.07, angle = 0.5 } # ours
[coupling.found]
v = { offset = 1, angle = 2.5 }
`, got)
	for _, path := range [][]string{{}, {"machine"}, {"machine", "1", "hold"}, {"machine", "0", "name", "x"},
		{"aim", "use"}} {
		_, err := text.With([]Setting{{path, "1"}})
		assert.Error(t, err, path)
	}
}
