package main

import (
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A list that has fallen behind the code would plant nothing.
func TestEveryFaultCanBePlanted(t *testing.T) {
	require.NoError(t, os.Chdir("../.."))
	faults, err := read("testdata/planted/faults.toml")
	require.NoError(t, err)
	assert.GreaterOrEqual(t, len(faults), 30)
	for _, f := range faults {
		_, err := f.planted()
		assert.NoError(t, err, f.What)
		assert.NotEqual(t, f.Old, f.New, f.What)
	}
}
