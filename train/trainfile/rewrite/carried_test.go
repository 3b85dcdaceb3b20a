package rewrite

import (
	"math"
	"math/rand/v2"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"leastmove/train/trainfile"
)

// thickest is what a file may state at most of a pack, of lower and of raise, in mm.
const thickest = 300

// However a file that is taken is written: it can be carried over without its readings,
// and with moves made that its feet have room for; then it is taken again, and has the
// packs that the moves leave.
func FuzzCarried(f *testing.F) {
	whole, err := os.ReadFile("../testdata/whole.toml")
	require.NoError(f, err)
	f.Add(string(whole), uint64(1))
	for k, feet := range []string{
		"[[machine.foot]]\nname = \"x\"\nx = 1000\nspread = 400\nshim = 3.0 # c\nleft.shim = " +
			"4\n[machine.foot.right.travel]\nleft = 1\n" + otherPair,
		"foot = [{ name = \"x\", x = 1000, spread = 400, left = { }, right.pieces = [1, 2], bolt = 22, hole = 24, soft " +
			"= 0.1 },\n # c\n{ name = \"z\", x = 1200, y = 1, cut = 1, shim = 1, }, { name = \"y\", x = 2000, y = 0 } ]\n",
		"level = {\n roll = 1, # c\n found.pitch = 0 }\n[[machine.foot]]\nname = \"x\"\nx = 1000\nspread = 400\npieces " +
			"= [\n1,\n2]\nleft = { soft = 0.1, \"shim\" = 1 }\n\"right\".\"soft\" = 1\n" + otherPair,
		"[machine.level.found]\nroll = 1\n[[machine.foot]]\n\"name\" = \"x\"\nx = 1000\nspread = 400\nshim = 1\npieces " +
			"= [1]\n[machine.foot.travel]\nleft = 1\nright = 1\n[machine.foot.left]\n[machine.foot.right]\n" + otherPair,
	} {
		text := strings.NewReplacer("UNITS", `"mm"`, "STEP", "0.1", "MACHINE\n", feet).Replace(formed)
		tr, report := trainfile.Read("seed.toml", []byte(text), options)
		require.NotNil(f, tr, report)
		f.Add(text, uint64(k))
		f.Add(strings.ReplaceAll(strings.ReplaceAll(text, "spread = 400", "spread = 40"), "\n", "\r\n"), uint64(k))
	}
	f.Fuzz(func(t *testing.T, text string, seed uint64) {
		was, _ := trainfile.Read("fuzz.toml", []byte(text), options)
		if was == nil || len(was.Machines) > 10 {
			return
		}
		_, err := WithoutReadings([]byte(text))
		require.NoError(t, err)
		moves := inLimits(was, rand.New(rand.NewPCG(seed, 2)))
		now := was.Made(moves)
		out, _, err := WithMoves([]byte(text), was, now)
		require.NoError(t, err)
		for i := range now.Machines {
			for f := range now.Machines[i].Feet {
				if now.Machines[i].Feet[f].Pack > thickest || now.Machines[i].Feet[f].Lower > thickest ||
					now.Machines[i].Feet[f].Raise > thickest && !math.IsInf(now.Machines[i].Feet[f].Raise, 1) {
					return
				}
			}
		}
		corrected, err := SoftFootCorrected([]byte(out))
		require.NoError(t, err)
		is, report := trainfile.Read("fuzz.toml", []byte(corrected), options)
		require.NotNil(t, is, "%s\n%s", report.String(), out)
		for i := range now.Machines {
			for f := range now.Machines[i].Feet {
				want, got := now.Machines[i].Feet[f].Pack, is.Machines[i].Feet[f].Pack
				require.Equal(t, math.IsNaN(want), math.IsNaN(got))
				if !math.IsNaN(want) {
					require.InDelta(t, want, got, 1e-3)
				}
			}
		}
	})
}
