package trainfile

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Soft foot that packs may leave, where the file does not state it: half a step of 0.05 with the feet at two stations,
// one step with a third, as whole steps leave some there. [shims] goes before both, the machine's own before that.
func TestFlatByHand(t *testing.T) {
	const foot = "[[machine.foot]]\nname = \"middle\"\nx = 500\nspread = 300\n"
	for name, c := range map[string]struct {
		shims, machine, foot string
		want                 float64
	}{
		"two stations":   {want: 0.025},
		"three stations": {foot: foot, want: 0.05},
		"a finer step":   {shims: "[shims]\nstep = 0.02\n", want: 0.01},
		"of the train":   {shims: "[shims]\nflat = 0.03\n", foot: foot, want: 0.03},
		"of the machine": {shims: "[shims]\nflat = 0.03\n", machine: "flat = 0.0\n", want: 0},
	} {
		text := strings.Replace(sound(t), "[[machine]]", c.shims+"[[machine]]", 1)
		text = strings.Replace(text, "at     = 1500\n", "at     = 1500\n"+c.machine, 1)
		text = strings.Replace(text, "[[coupling]]", c.foot+"[[coupling]]", 1)
		got, report := Read(name, []byte(text), Options{})
		require.NotNil(t, got, "%s:\n%v", name, report)
		assertNear(t, c.want, got.Machines[1].Flat, name)
	}
}

// A gap that is measured as 0 is none; one that is not stated is not known. At a foot of a pair its own word goes
// first.
func TestSoftFootNotStated(t *testing.T) {
	for soft, want := range map[string][2]bool{
		"":                               {true, true},
		"soft = 0.0\n":                   {false, false},
		"left = { soft = 0.0 }\n":        {false, true},
		"right = { shim = 2.0 }\n":       {true, true},
		"soft = 0\nleft = { cut = 0 }\n": {false, false},
	} {
		text := strings.Replace(sound(t), "[[machine.foot]]\n", "[[machine.foot]]\n"+soft, 1)
		got, report := Read("soft", []byte(text), Options{})
		require.NotNil(t, got, "%s:\n%v", soft, report)
		feet := got.Machines[0].Feet
		assert.Equal(t, want, [2]bool{feet[0].SoftUnknown, feet[1].SoftUnknown}, soft)
	}
}
