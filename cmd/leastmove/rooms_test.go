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
		"leastmove/train":                   {"leastmove/optimize", "leastmove/bolts", "leastmove/cmd"},
		"leastmove/train/trainfile":         {"leastmove/optimize", "leastmove/bolts", "leastmove/cmd"},
		"leastmove/train/trainfile/tree":    {"leastmove/optimize", "leastmove/bolts", "leastmove/cmd", "leastmove/train/readings", "leastmove/train/trainfile/rewrite"},
		"leastmove/train/trainfile/rewrite": {"leastmove/optimize", "leastmove/bolts", "leastmove/cmd", "leastmove/train/readings"},
		"leastmove/train/readings":          {"leastmove/optimize", "leastmove/bolts", "leastmove/cmd", "leastmove/train/trainfile"},
		"leastmove/bolts":                   {"leastmove/train", "leastmove/optimize", "leastmove/cmd"},
		"leastmove/cmd/internal/doc":        {"leastmove/train", "leastmove/bolts", "leastmove/optimize", "leastmove/cmd/internal/words", "leastmove/cmd/internal/pages"},
		"leastmove/cmd/internal/words": {"leastmove/optimize", "leastmove/train/trainfile", "leastmove/train/readings",
			"leastmove/cmd/internal/pages"},
		"leastmove/optimize":          {"leastmove/cmd", "leastmove/train/trainfile"},
		"leastmove/optimize/diagnose": {"leastmove/cmd", "leastmove/train/trainfile", "leastmove/optimize/bnb", "leastmove/optimize/socp"},
		"leastmove/optimize/mip":      {"leastmove/train", "leastmove/bolts", "leastmove/optimize/socp", "leastmove/optimize/bnb"},
		"leastmove/optimize/socp":     {"leastmove/train", "leastmove/bolts", "leastmove/optimize/mip", "leastmove/optimize/bnb"},
		"leastmove/optimize/certify":  {"leastmove/train", "leastmove/bolts", "leastmove/optimize/socp", "leastmove/optimize/bnb"},
		"leastmove/optimize/bnb":      {"leastmove/train", "leastmove/bolts"},
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
