package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/cmd/internal/cli"
	"leastmove/testdata/outside"
)

// Every man page is one that mandoc has nothing to say against.
func TestManPagesAreClean(t *testing.T) {
	mandoc := outside.Program(t, "mandoc")
	pages, err := manual(cli.Command(), "v1.2.3", at)
	require.NoError(t, err)
	folder := t.TempDir()
	for _, p := range pages {
		file := filepath.Join(folder, filepath.Base(p.name))
		require.NoError(t, os.WriteFile(file, p.text, 0o666))
		said, _ := exec.Command(mandoc, "-T", "lint", "-W", "warning", file).CombinedOutput()
		assert.Empty(t, string(said), p.name)
		text, err := exec.Command(mandoc, "-T", "utf8", file).Output()
		require.NoError(t, err, p.name)
		assert.Greater(t, strings.Count(string(text), "\n"), 10, p.name)
	}
}
