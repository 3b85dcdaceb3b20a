package trainfile

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// One mistake made at every machine does not push the others off the screen for good: what is
// not shown is counted, and errors leave room for warnings.
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
	assert.Equal(t, inFull, strings.Count(out, ": error: "))
	assert.True(t, strings.HasSuffix(out, fmt.Sprintf("\n%d more errors are not shown\n", errors-inFull)), out)
	assert.Contains(t, report[:inFull+1].String(), "\n1 more error is not shown\n")
	assert.NotContains(t, report[:inFull].String(), "shown")
}
