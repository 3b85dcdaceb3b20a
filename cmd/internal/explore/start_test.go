package explore_test

import (
	"bufio"
	"io"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"runtime"
	"strings"
	"syscall"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/cmd/internal/cli"
	"leastmove/testdata/families"
)

func TestSecondStartSaysSo(t *testing.T) {
	file := example(t, "base-bound")
	s := serve(t, file)
	code, out, said := run("explore", file, "--no-open")
	assert.Zero(t, code)
	assert.Equal(t, s.address, strings.TrimSpace(out))
	assert.Contains(t, said, "open already")
	s.end()
	next := start(t, file)
	assert.NotEqual(t, s.address, next.address)
}

// servedAlone names a variable of the environment: a train file that this program serves as the command does.
const servedAlone = "LEASTMOVE_EXPLORED"

// Ctrl-C and a request to end are the ways to end: no error, in the middle of a search too, and the note of the
// address is taken away.
func TestSignalsEndIt(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("a process is sent no signals there")
	}
	file := filepath.Join(t.TempDir(), "long.toml")
	require.NoError(t, os.WriteFile(file, []byte(families.TOML("long", 5)), 0o644))
	for _, signal := range []os.Signal{os.Interrupt, syscall.SIGTERM} {
		notes := t.TempDir()
		c := exec.Command(os.Args[0])
		c.Env = append(os.Environ(), servedAlone+"="+file, "XDG_CACHE_HOME="+notes)
		out, err := c.StdoutPipe()
		require.NoError(t, err)
		require.NoError(t, c.Start())
		address, err := bufio.NewReader(out).ReadString('\n')
		require.NoError(t, err)
		r, err := http.Get(strings.TrimSpace(address)) // a page, and the search for it
		require.NoError(t, err)
		r.Body.Close()
		require.NoError(t, c.Process.Signal(signal))
		assert.NoError(t, c.Wait(), signal)
		left, err := filepath.Glob(filepath.Join(notes, "leastmove", "*"))
		require.NoError(t, err)
		assert.Empty(t, left)
	}
}

// A question has a limit of time; then what is known is its answer, and the next one has its own.
func TestQuestionHasALimitOfTime(t *testing.T) {
	file := filepath.Join(t.TempDir(), "long.toml")
	require.NoError(t, os.WriteFile(file, []byte(families.TOML("long", 5)), 0o644))
	t.Setenv("XDG_CACHE_HOME", t.TempDir())
	s := start(t, file, "--time-limit", "100ms")
	for _, use := range []string{"", "60"} {
		assert.Contains(t, s.ask("what", "aim", "use", use), "Stopped: this is what was known by then.")
	}
	// In the headline, in each column of the table and in what is handed on.
	_, table := s.get("export/cases")
	page := s.settled()
	assert.Regexp(t, `<p id="said">[^<]*\(search stopped`, page)
	for _, of := range []string{page, table} {
		verdicts := column(t, of, "verdict")
		assert.Len(t, verdicts, 2)
		for _, v := range verdicts {
			assert.Contains(t, v, "(search stopped")
		}
	}
	assert.Equal(t, 4, strings.Count(table, "(search stopped"), "in the table and over the moves of each")
	code, _, said := run("explore", file, "--no-open", "--time-limit", "0s")
	assert.Equal(t, 2, code)
	assert.Contains(t, said, "it is above 0")
}

// Several trains in one start have an address each; one that is open already is said, and the others are served.
func TestSeveralTrains(t *testing.T) {
	one, two := example(t, "base-bound"), example(t, "turbine")
	s := serve(t, one)
	in, out := io.Pipe()
	ended := make(chan int, 1)
	go func() {
		ended <- cli.Run([]string{"explore", one, two, "--no-open"}, strings.NewReader(""), out, io.Discard)
		out.Close()
	}()
	lines := bufio.NewReader(in)
	first, err := lines.ReadString('\n')
	require.NoError(t, err)
	assert.Equal(t, s.address, strings.TrimSpace(first))
	second, err := lines.ReadString('\n')
	require.NoError(t, err)
	other := &served{t: t, address: strings.TrimSpace(second), done: ended}
	other.origin = regexp.MustCompile(`^http://[^/]*`).FindString(other.address)
	other.open()
	assert.Contains(t, other.settled(), "turbine.toml")
	other.end()
	s.open()
	assert.Contains(t, s.settled(), "base-bound.toml")
}
