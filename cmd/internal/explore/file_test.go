package explore_test

import (
	"net/http"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/cmd/internal/cli"
)

// The page follows the file, shows its faults at their lines, and never writes over what
// someone else wrote.
func TestFileIsFollowedAndWritten(t *testing.T) {
	file := pair(t)
	s := serve(t, file)
	s.settled()
	text, err := os.ReadFile(file)
	require.NoError(t, err)
	s.ask("what", "values", "machine.1.foot.0.hole", "40")
	until := s.until
	save := func(text string) { require.NoError(t, os.WriteFile(file, []byte(text), 0o644)) }

	save(strings.Replace(string(text), "title", "titel", 1))
	page := until("can't be used as it was saved last")
	assert.Contains(t, page, "did you mean &#34;title&#34;?")
	assert.Contains(t, page, `<p id="said">pair.toml can&#39;t be used as it was saved last. Of the one before: `)
	assert.Contains(t, page, "hole 40", "the last train that could be used stays")
	save(strings.Repeat("\x00\xffnoise", 600_000)) // 4 MiB
	until("at most 4194304 are read")
	require.NoError(t, os.Remove(file))
	assert.Contains(t, until("there is no file"), `<p id="said">pair.toml can&#39;t be read now. Of the one before: `)
	save(strings.Replace(string(text), "(invented example)", "(looked at)", 1))
	page = until("(looked at)")
	assert.NotContains(t, page, "can't be used")
	s.settled()

	code, page := s.post("save", nil)
	assert.Equal(t, http.StatusOK, code)
	assert.Contains(t, page, "pair.toml is written.")
	now, err := os.ReadFile(file)
	require.NoError(t, err)
	was := strings.Split(strings.Replace(string(text), "(invented example)", "(looked at)", 1), "\n")
	is := strings.Split(string(now), "\n")
	require.Len(t, is, len(was))
	changed := 0
	for n := range was {
		if was[n] != is[n] {
			changed++
			assert.Contains(t, is[n], "hole   = 40 # as drilled")
		}
	}
	assert.Equal(t, 1, changed)
}

func TestChangedFileIsNotWrittenOver(t *testing.T) {
	file := example(t, "turbine")
	x := cli.Explored(file)
	text, err := x.Load()
	require.NoError(t, err)
	other := append([]byte("# by someone else\n"), text...)
	require.NoError(t, os.WriteFile(file, other, 0o644))
	assert.ErrorContains(t, x.Save([]byte("new"), text), "was changed meanwhile")
	now, err := os.ReadFile(file)
	require.NoError(t, err)
	assert.Equal(t, string(other), string(now))
	require.NoError(t, x.Save([]byte("new"), other))
}
