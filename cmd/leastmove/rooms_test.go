package main

import (
	"os/exec"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Imports go one way: cmd → optimize → bolts, train. What a package must never
// reach, directly or not, stands beside it.
func TestImportsGoOneWay(t *testing.T) {
	for from, never := range map[string][]string{
		"leastmove/train":            {"leastmove/optimize", "leastmove/bolts", "leastmove/cmd"},
		"leastmove/train/trainfile":  {"leastmove/optimize", "leastmove/bolts", "leastmove/cmd"},
		"leastmove/train/readings":   {"leastmove/optimize", "leastmove/bolts", "leastmove/cmd", "leastmove/train/trainfile"},
		"leastmove/bolts":            {"leastmove/train", "leastmove/optimize", "leastmove/cmd"},
		"leastmove/optimize":         {"leastmove/cmd", "leastmove/train/trainfile"},
		"leastmove/optimize/after":   {"leastmove/cmd", "leastmove/train/trainfile", "leastmove/optimize/search", "leastmove/optimize/conic"},
		"leastmove/optimize/lattice": {"leastmove/train", "leastmove/bolts", "leastmove/optimize/conic", "leastmove/optimize/search"},
		"leastmove/optimize/conic":   {"leastmove/train", "leastmove/bolts", "leastmove/optimize/lattice", "leastmove/optimize/search"},
		"leastmove/optimize/certify": {"leastmove/train", "leastmove/bolts", "leastmove/optimize/conic", "leastmove/optimize/search"},
		"leastmove/optimize/search":  {"leastmove/train", "leastmove/bolts"},
	} {
		out, err := exec.Command("go", "list", "-deps", from).Output()
		require.NoError(t, err)
		deps := strings.Fields(string(out))
		require.Contains(t, deps, from)
		for _, n := range never {
			assert.False(t, slices.ContainsFunc(deps, func(d string) bool { return d == n || strings.HasPrefix(d, n+"/") && n != "leastmove/train" }),
				"%s reaches %s", from, n)
		}
	}
}
