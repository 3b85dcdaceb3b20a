package pages

import (
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/cmd/internal/words"
	"leastmove/train/trainfile"
)

// A machine on chocks is named as such, and steps of a machine's own are said beside those of the train.
func TestChocksInWords(t *testing.T) {
	src, err := os.ReadFile("testdata/mm.toml")
	require.NoError(t, err)
	text := strings.Replace(string(src), "name   = \"compressor\"", "name = \"compressor\"\nstep = 0", 1)
	text = strings.Replace(text, "name   = \"gear\"", "name = \"gear\"\nstep = 0.025", 1)
	tr, report := trainfile.Read("mm.toml", []byte(text), trainfile.Options{})
	require.NotNil(t, tr, report)
	w := words.FormatterOf(tr)
	assert.Equal(t, 3, w.MoveDecimals, "as many as the finest step needs")
	assert.Equal(t, "compressor is on chocks or wedges: what is said of its shims is their height, to any size",
		w.Stepless(2))
	assert.Empty(t, w.Stepless(1))
	assert.Equal(t, "0.050 mm (gear 0.025 mm, compressor 0.010 mm)", w.Steps())
}
