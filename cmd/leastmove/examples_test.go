package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/testdata/trains"
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
	require.Len(t, files, 5, "every example keeps its plan")
	slices.Reverse(files) // those that take least first
	for _, file := range files[:trains.Draws(2, len(files))] {
		of := filepath.Join(filepath.Dir(file), "before.toml")
		args := []string{"plan", of, "--format", "json"}
		if strings.Contains(file, "base-bound") {
			args = append(args, "--relieve", "2")
		}
		w := runOnce(args...)
		require.Zero(t, w.code, file)
		var kept, made examplePlan
		text, err := os.ReadFile(file)
		require.NoError(t, err)
		require.NoError(t, json.Unmarshal(text, &kept))
		require.NoError(t, json.Unmarshal([]byte(w.out), &made))
		require.Positive(t, made.Total)
		assert.Equal(t, made.Total, kept.Total, "%s: leastmove %s makes it anew", file, strings.Join(args, " "))
		assert.Equal(t, made, kept, "%s: leastmove %s makes it anew", file, strings.Join(args, " "))
	}
}

// After the moves each story ends as its first lines and the manual say.
func TestStoriesEnd(t *testing.T) {
	went := "The moves went as planned"
	for story, says := range map[string][]string{
		"base-bound": {"The limits are met", went},
		"five-machines": {"THE LIMITS ARE NOT MET",
			"Expander at coupling end left and right: it was to go right 0.37 mm and did not go."},
		"reverse-dials": {"The limits are met", went},
		"survey": {"The limits are met",
			"High stage at drive end left and right: it was to go left 0.12 mm and went about twice that."},
		"turbine": {"THE LIMITS ARE NOT MET", "most likely: compressor at drive end left and right"},
	} {
		if story != "survey" && story != "turbine" && !trains.Everything() {
			continue
		}
		w := runOnce("verify", "../../examples/"+story+"/plan.json", "../../examples/"+story+"/after.toml")
		for _, what := range says {
			assert.Contains(t, strings.Join(strings.Fields(w.out), " "), what, story)
		}
	}
}
