package main

import (
	"os/exec"
	"slices"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Imports go one way: cmd → optimize → bolts, train. What a package must never
// reach, directly or not, stands beside it.
func TestImportsGoOneWay(t *testing.T) {
	for from, never := range map[string][]string{
		"leastmove/train":           {"leastmove/optimize", "leastmove/bolts", "leastmove/cmd"},
		"leastmove/train/trainfile": {"leastmove/optimize", "leastmove/bolts", "leastmove/cmd"},
		"leastmove/train/trainfile/tree": {"leastmove/optimize", "leastmove/bolts", "leastmove/cmd",
			"leastmove/train/readings", "leastmove/train/trainfile/rewrite"},
		"leastmove/train/trainfile/rewrite": {"leastmove/optimize", "leastmove/bolts", "leastmove/cmd",
			"leastmove/train/readings"},
		"leastmove/train/readings": {"leastmove/optimize", "leastmove/bolts", "leastmove/cmd",
			"leastmove/train/trainfile"},
		"leastmove/bolts": {"leastmove/train", "leastmove/optimize", "leastmove/cmd"},
		"leastmove/cmd/internal/doc": {"leastmove/train", "leastmove/bolts", "leastmove/optimize",
			"leastmove/cmd/internal/words", "leastmove/cmd/internal/pages"},
		"leastmove/cmd/internal/words": {"leastmove/optimize", "leastmove/train/trainfile", "leastmove/train/readings",
			"leastmove/cmd/internal/pages"},
		"leastmove/optimize": {"leastmove/cmd", "leastmove/train/trainfile", "leastmove/optimize/robust",
			"leastmove/optimize/infeasible", "leastmove/optimize/ways", "leastmove/optimize/staging",
			"leastmove/optimize/diagnose"},
		"leastmove/optimize/robust": {"leastmove/cmd", "leastmove/train/trainfile", "leastmove/optimize/infeasible",
			"leastmove/optimize/ways"},
		"leastmove/optimize/infeasible": {"leastmove/cmd", "leastmove/train/trainfile", "leastmove/optimize/robust",
			"leastmove/optimize/ways"},
		"leastmove/optimize/ways": {"leastmove/cmd", "leastmove/train/trainfile", "leastmove/optimize/staging"},
		"leastmove/optimize/diagnose": {"leastmove/cmd", "leastmove/train/trainfile", "leastmove/optimize/bnb",
			"leastmove/optimize/socp"},
		"leastmove/optimize/mip": {"leastmove/train", "leastmove/bolts", "leastmove/optimize/socp",
			"leastmove/optimize/bnb"},
		"leastmove/optimize/socp": {"leastmove/train", "leastmove/bolts", "leastmove/optimize/mip",
			"leastmove/optimize/bnb"},
		"leastmove/optimize/simplex": {"leastmove/train", "leastmove/bolts", "leastmove/optimize/mip",
			"leastmove/optimize/socp", "leastmove/optimize/bnb"},
		"leastmove/optimize/certify": {"leastmove/train", "leastmove/bolts", "leastmove/optimize/socp",
			"leastmove/optimize/bnb"},
		"leastmove/optimize/bnb": {"leastmove/train", "leastmove/bolts"},
	} {
		deps := reached(t, from)
		require.Contains(t, deps, from)
		for _, n := range never {
			assert.False(t, slices.ContainsFunc(deps, func(d string) bool {
				return d == n || strings.HasPrefix(d, n+"/") &&
					n != "leastmove/train"
			}),
				"%s reaches %s", from, n)
		}
	}
}

// imports are what each package of the program imports, as go list says it in one call.
var imports = sync.OnceValues(func() (map[string][]string, error) {
	out, err := exec.Command("go", "list", "-f", `{{.ImportPath}}{{range .Imports}} {{.}}{{end}}`,
		"leastmove/...").Output()
	all := map[string][]string{}
	for _, line := range strings.Split(strings.TrimSpace(string(out)), "\n") {
		words := strings.Fields(line)
		all[words[0]] = words[1:]
	}
	return all, err
})

// reached are a package and the packages of the program that it imports, directly or not.
func reached(t *testing.T, from string) []string {
	t.Helper()
	all, err := imports()
	require.NoError(t, err)
	require.Contains(t, all, from)
	out := []string{from}
	for n := 0; n < len(out); n++ {
		for _, path := range all[out[n]] {
			if all[path] != nil && !slices.Contains(out, path) {
				out = append(out, path)
			}
		}
	}
	return out
}

// Of the program only package view asks the solver and the readings; pages say what is in a
// view and know nothing else; figures draw it, and documents for programs are filled from it.
func TestOnlyViewAsksTheSolver(t *testing.T) {
	const cmd = "leastmove/cmd/internal/"
	below := func(path string, rooms ...string) bool {
		return slices.ContainsFunc(rooms, func(room string) bool { return path == room || strings.HasPrefix(path, room+"/") })
	}
	all, err := imports()
	require.NoError(t, err)
	looked := 0
	for from, paths := range all {
		if !below(from, "leastmove/cmd") {
			continue
		}
		looked++
		for _, path := range paths {
			form := from == cmd+"planjson" && below(path, cmd+"pages", cmd+"cli", cmd+"chart")
			solver := from != cmd+"view" && below(path, "leastmove/optimize", "leastmove/train/readings")
			other := from == cmd+"pages" && below(path, "leastmove") && !below(path, cmd+"view", cmd+"words", cmd+"doc")
			assert.False(t, solver || other || form, "%s must not import %s", from, path)
		}
	}
	assert.Greater(t, looked, 8)
}
