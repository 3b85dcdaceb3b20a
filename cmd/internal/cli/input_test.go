package cli

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"leastmove/cmd/internal/view"
	"leastmove/train/trainfile"
)

// A warning names its file where that is the file of bands, and not the train file.
func TestWarningsNameTheFileOfBands(t *testing.T) {
	src := &source{plant: "plant.toml", warned: trainfile.Report{
		{File: "plant.toml", Line: 3, Message: "a band"}, {File: "train.toml", Line: 4, Column: 2, Message: "m", Hint: "h"},
	}}
	want := []view.Warning{{File: "plant.toml", Line: 3, Message: "a band"}, {Line: 4, Column: 2, Message: "m", Hint: "h"}}
	assert.Equal(t, want, src.warnings())
	src.plant = ""
	assert.Empty(t, src.warnings()[0].File, "there is no file of bands")
}
