package pages

import (
	"bytes"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/cmd/internal/view"
)

// Checks of readings that failed come before what the file is read as, those of a survey too; feet that are base-bound
// or bolt-bound come before the room of all feet.
func TestCheckSaysFirstWhatIsWrong(t *testing.T) {
	page := func(file string) string {
		var b bytes.Buffer
		require.NoError(t, CheckText(&b, view.CheckOf(read(t, file)), Page{}))
		return flat(b.String())
	}
	before := func(s, first, then string) {
		require.Contains(t, s, first)
		require.Contains(t, s, then)
		assert.Less(t, strings.Index(s, first), strings.Index(s, then), first)
	}
	before(page("read.toml"), `main: the rim dial on "motor" at x = 1150 does not close its ring`, "As read: confirm this")
	before(page("surveyed.toml"), `survey: round the train, from coupling "first" to "second"`, "As read: confirm this")
	assert.NotContains(t, page("mm.toml"), "CHECKS OF READINGS FAILED")

	s := page("../../../../examples/base-bound/before.toml")
	before(s, "turbine steam end left: nearly base-bound", "How far each foot can still go")
}
