package train_test

import (
	"math"
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/bolts"
	"leastmove/train/trainfile"
)

// By hand: a motor that grows 0.12 all along and a pump that does not. To stand level
// when running, 0.03 high as wanted, the pump must be 0.15 high when cold. A coupling
// that is set so stands as wanted by true geometry, on every example.
func TestColdIsWantedWhenRunning(t *testing.T) {
	options := trainfile.Options{ClearanceHole: bolts.ClearanceHole, Thread: bolts.Thread, Minor: bolts.Minor}
	text := `title = "two (invented)"
units = "mm"
[[machine]]
name = "motor"
height = 300
hold = true
[[machine.growth]]
v = 0.12
[[machine]]
name = "pump"
height = 300
hold = true
[[coupling]]
name = "main"
from = "motor"
to = "pump"
x = 500
limit = { offset = 0.1, angle = 0.5 }
found = { v = { offset = 5, angle = 1 }, h = { offset = 0, angle = 0 } }
wanted = { v = { offset = 0.03 } }
`
	tr, report := trainfile.Read("two.toml", []byte(text), options)
	require.NotNil(t, tr, report.String())
	cold := tr.Cold()[0]
	assert.InDelta(t, 0.15, cold.V.Offset, 1e-9)
	assert.InDelta(t, 0, cold.V.Angle, 1e-9)
	assert.True(t, math.IsNaN(cold.Gap), "none is wanted")

	for _, name := range []string{"turbine", "reverse-dials", "five-machines",
		"survey"} {
		src, err := os.ReadFile("../examples/" + name + "/before.toml")
		require.NoError(t, err)
		tr, report := trainfile.Read(name, src, options)
		require.NotNil(t, tr, report.String())
		for i, r := range tr.Cold() {
			c := &tr.Couplings[i]
			c.Found, c.Taken.Growth, c.Taken.Run = r.Misalignment, 0, 0
		}
		for i, conditions := range tr.Check(tr.Stay()).Couplings {
			got, want := conditions[0], tr.Couplings[i].Wanted
			require.False(t, math.IsNaN(got.V.Offset))
			assert.InDelta(t, want.V.Offset, got.V.Offset, 1e-9, name)
			assert.InDelta(t, want.V.Angle, got.V.Angle, 1e-9, name)
			assert.InDelta(t, want.H.Offset, got.H.Offset, 1e-9, name)
			assert.InDelta(t, want.H.Angle, got.H.Angle, 1e-9, name)
		}
	}
}
