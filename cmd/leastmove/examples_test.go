package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// An examplePlan is what the test reads of a plan that is kept beside its train.
type examplePlan struct {
	Total    float64
	Machines []struct{ Feet []struct{ Up, Left float64 } }
}

// The plan that is kept beside a train is the one that is made of it.
func TestPlansAreOfTheirTrains(t *testing.T) {
	files, err := filepath.Glob("../../examples/*/plan.json")
	require.NoError(t, err)
	require.Len(t, files, 4, "every example that has a plan keeps it")
	for _, file := range files {
		train := filepath.Join(filepath.Dir(file), "before.toml")
		w := runOnce("plan", train, "--format", "json")
		require.Zero(t, w.code, file)
		var kept, made examplePlan
		text, err := os.ReadFile(file)
		require.NoError(t, err)
		require.NoError(t, json.Unmarshal(text, &kept))
		require.NoError(t, json.Unmarshal([]byte(w.out), &made))
		require.Positive(t, made.Total)
		assert.Equal(t, made, kept, "%s: leastmove plan %s --format json makes it anew", file, train)
	}
}
