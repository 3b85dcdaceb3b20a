package trainfile

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/train"
)

// What a machine has in place of the train's rules, key by key; step = 0 is any size that a dial shows, 0.01 mm.
func TestShimRulesOfAMachine(t *testing.T) {
	const shims = "[shims]\nstep = 0.05\nkeep = 1.0\nstock = [1.0, 0.5]\nmax_pieces = 5\n"
	ofTrain := train.Shims{Step: 0.05, Keep: 1, Stock: []float64{0.5, 1}, MaxPieces: 5}
	for name, c := range map[string]struct {
		machine string
		want    train.Shims
	}{
		"none of its own": {"", ofTrain},
		"the same":        {"step = 0.05\nstock = [0.5, 1.0]\nmax_pieces = 5\n", ofTrain},
		"a step":          {"step = 0.1\n", train.Shims{Step: 0.1, Keep: 1, Stock: []float64{0.5, 1}, MaxPieces: 5}},
		"a stock": {"stock = [2.0, 0.1, 2.0]\n", train.Shims{Step: 0.05, Keep: 1, Stock: []float64{0.1, 2},
			MaxPieces: 5}},
		"pieces":           {"max_pieces = 3\n", train.Shims{Step: 0.05, Keep: 1, Stock: []float64{0.5, 1}, MaxPieces: 3}},
		"chocks or wedges": {"step = 0\n", train.Shims{Step: 0.01, Keep: 1, Stepless: true}},
	} {
		text := strings.Replace(sound(t), "[[machine]]", shims+"[[machine]]", 1)
		text = strings.Replace(text, "at     = 1500\n", "at     = 1500\n"+c.machine, 1)
		got, report := Read(name, []byte(text), Options{})
		require.NotNil(t, got, "%s:\n%v", name, report)
		assert.Equal(t, c.want, got.ShimsOf(1), name)
		assert.Equal(t, ofTrain, got.ShimsOf(0), "%s: the other machine", name)
		assert.NotContains(t, report.String(), "step", name)
	}
	for wrong, says := range map[string]string{
		"step = 0\nstock = [1.0]\n":  "stock says nothing of a machine on chocks or wedges (step = 0)",
		"step = 0\nmax_pieces = 3\n": "max_pieces says nothing of a machine on chocks or wedges (step = 0)",
		"step = -0.1\n":              "step is -0.1 mm",
	} {
		text := strings.Replace(sound(t), "at     = 1500\n", "at     = 1500\n"+wrong, 1)
		got, report := Read("wrong", []byte(text), Options{})
		assert.Nil(t, got, wrong)
		assert.Contains(t, report.String(), says)
	}
}

// In an inch file a dial shows half a mil.
func TestChocksInInches(t *testing.T) {
	text := strings.Replace(geared(t), "at     = 106", "at     = 106\nstep = 0", 1)
	got, report := Read("geared.toml", []byte(text), options)
	require.NotNil(t, got, report)
	assert.InDelta(t, 0.5*train.Mil, got.ShimsOf(2).Step, 1e-12)
	assert.True(t, got.ShimsOf(2).Stepless)
	assert.False(t, got.ShimsOf(1).Stepless)
}
