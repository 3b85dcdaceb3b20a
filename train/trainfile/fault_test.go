package trainfile

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// One mistake made at every machine does not push the others off the screen: of those like it a few are
// told, the rest are counted.
func TestRepeatedFaults(t *testing.T) {
	var text strings.Builder
	text.WriteString("units = \"mm\"\n")
	for n := range 50 {
		fmt.Fprintf(&text, "wrong%d = 1\n", n)
	}
	_, report := Read("x.toml", []byte(text.String()), Options{})
	errors := report.Count(Error)
	require.Greater(t, errors, 50)
	out := report.String()
	assert.Equal(t, inFull, strings.Count(out, "unknown key"))
	assert.Contains(t, out, "machine is missing", "a fault of another kind is told")
	assert.True(t, strings.HasSuffix(out, fmt.Sprintf("\n%d more errors like these are not shown\n", 50-inFull)), out)
	assert.NotContains(t, report[:inFull].String(), "shown")
}
