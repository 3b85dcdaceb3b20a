package trainfile

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Lines of a file without readings that are left to be filled in are told, once, at the first of
// them: a file with all that must be stated may still lack what need not be.
func TestUnread(t *testing.T) {
	const train = `title = "t"
units = "mm"
[[machine]]
name = "a"
height = 300
hold = true
[[machine]]
name = "b"
height = 300
[[machine.foot]]
name = "x"
x = 1000
spread = 400
SOFT
[[machine.foot]]
name = "y"
x = 2000
spread = 400
[[coupling]]
name = "c"
from = "a"
to = "b"
x = 500
limit = { offset = 0.1, angle = 1.0 }
[coupling.found]
v = { offset = 0.1, angle = 0.2 }
h = { offset = 0.1, angle = 0.2 }
TAKEN
`
	for name, c := range map[string]struct{ soft, taken, want string }{
		"none left": {"soft = 0.02", "taken = { growth = 0.3 }", ""},
		"one": {"  # TO READ: soft = ", "", "14:3: warning: this line is still to be filled in, and " +
			"counts for nothing"},
		"two": {"# TO READ: soft = ", "# TO READ: taken = { growth = }",
			"14:1: warning: this line and 1 more like it are still to be filled in, and count for nothing"},
		"words that mean it": {"# look for # TO READ: in the file", "", ""},
	} {
		t.Run(name, func(t *testing.T) {
			tr, report := Read("t.toml", []byte(strings.NewReplacer("SOFT", c.soft, "TAKEN", c.taken).Replace(train)), Options{})
			require.NotNil(t, tr, report)
			if c.want == "" {
				assert.NotContains(t, report.String(), "to be filled in")
				return
			}
			assert.Contains(t, report.String(), c.want)
			assert.Equal(t, 1, strings.Count(report.String(), "to be filled in"))
		})
	}
}
