package trainfile

import (
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What is looked for stands on the line that is named: read off the file.
func TestPlacesAreLines(t *testing.T) {
	src, err := os.ReadFile("../../examples/base-bound/before.toml")
	require.NoError(t, err)
	tr, _ := Read("x", src, options)
	require.NotNil(t, tr)
	p := Locate(tr, src)
	lines := strings.Split(string(src), "\n")
	at := func(n int) string {
		require.Positive(t, n)
		return strings.TrimSpace(lines[n-1])
	}
	assert.Contains(t, at(p.Foot(0, 0, "name")), `name`)
	for i, c := range tr.Couplings {
		assert.Contains(t, at(p.Coupling(i, "name")), c.Name)
		assert.Contains(t, at(p.Coupling(i, "limit.angle")), "angle")
		assert.Contains(t, at(p.Coupling(i, "limit.gap")), "limit", "not stated: the table of limits")
	}
	for i, m := range tr.Machines {
		assert.Contains(t, at(p.Machine(i, "name")), m.Name)
		assert.Equal(t, "[[machine]]", at(p.Machine(i, "no such key")))
	}
	assert.Zero(t, p.Train("relief.hole"))
}
