// Package outside finds the outside programs that judge results in tests: Chromium, poppler,
// mandoc, solvers. A bare machine leaves their checks out and says so; with
// LEASTMOVE_REFEREES=required, as .ci/run sets it, a test that would leave some out fails.
package outside

import (
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
)

// Missing ends a test for want of what the words say is missing.
func Missing(t testing.TB, words string) {
	t.Helper()
	if os.Getenv("LEASTMOVE_REFEREES") == "required" {
		require.FailNow(t, "the referees are required", words)
	}
	t.Skip("left out: " + words)
}

// Program is where an outside program is, by the first of its names that is there.
func Program(t testing.TB, names ...string) string {
	t.Helper()
	for _, name := range names {
		if path, err := exec.LookPath(name); err == nil {
			return path
		}
	}
	Missing(t, names[0]+" is not installed")
	return ""
}

// Poppler is what a tool of poppler says of a PDF.
func Poppler[PDF string | []byte](t testing.TB, pdf PDF, tool string, flags ...string) string {
	t.Helper()
	program := Program(t, tool)
	path := filepath.Join(t.TempDir(), "file.pdf")
	require.NoError(t, os.WriteFile(path, []byte(pdf), 0o666))
	out, err := exec.Command(program, append(flags, path, "-")...).Output()
	require.NoError(t, err)
	return string(out)
}
