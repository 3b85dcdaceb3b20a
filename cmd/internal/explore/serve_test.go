package explore_test

import (
	"bufio"
	"bytes"
	"io"
	"net/http"
	"net/url"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/cmd/internal/cli"
	"leastmove/testdata/trains"
)

// patience is how long a test waits for what has to come: far longer than it takes.
const patience = time.Minute

// example is a copy of a train file of the examples.
func example(t testing.TB, name string) string {
	text, err := os.ReadFile("../../../examples/" + name + "/before.toml")
	require.NoError(t, err)
	path := filepath.Join(t.TempDir(), name+".toml")
	require.NoError(t, os.WriteFile(path, text, 0o644))
	return path
}

// pair is a copy of a small train file, with some of its text replaced: old, new, and so on.
func pair(t testing.TB, replaced ...string) string {
	text, err := os.ReadFile("testdata/pair.toml")
	require.NoError(t, err)
	for n := 0; n < len(replaced); n += 2 {
		require.Contains(t, string(text), replaced[n])
	}
	path := filepath.Join(t.TempDir(), "pair.toml")
	require.NoError(t, os.WriteFile(path, []byte(strings.NewReplacer(replaced...).Replace(string(text))), 0o644))
	return path
}

// pairOrTurbine is the file of two machines, and with all settings that of the turbine.
func pairOrTurbine(t *testing.T) string {
	t.Helper()
	if trains.Everything() {
		return example(t, "turbine")
	}
	return pair(t)
}

// run is the program, with what it wrote.
func run(args ...string) (code int, stdout, stderr string) {
	var out, err bytes.Buffer
	code = cli.Run(args, strings.NewReader(""), &out, &err)
	return code, out.String(), err.String()
}

// A served is a page that is served until the test ends.
type served struct {
	t       testing.TB
	address string // of the train
	origin  string
	desk    string
	done    chan int
	once    sync.Once
}

// serve starts the program on a train file.
func serve(t testing.TB, file string) *served {
	t.Setenv("XDG_CACHE_HOME", t.TempDir())
	return start(t, file)
}

func start(t testing.TB, file string, flags ...string) *served {
	in, out := io.Pipe()
	s := &served{t: t, done: make(chan int, 1)}
	go func() {
		s.done <- cli.Run(append([]string{"explore", file, "--no-open"}, flags...), strings.NewReader(""), out, io.Discard)
		out.Close()
	}()
	line, err := bufio.NewReader(in).ReadString('\n')
	require.NoError(t, err)
	s.address = strings.TrimSpace(line)
	at, err := url.Parse(s.address)
	require.NoError(t, err)
	s.origin = "http://" + at.Host
	s.open()
	t.Cleanup(s.end)
	return s
}

// open opens a desk of its own, as a new page of the browser does.
func (s *served) open() string {
	r, err := http.Get(s.address)
	require.NoError(s.t, err)
	defer r.Body.Close()
	require.Equal(s.t, http.StatusOK, r.StatusCode)
	s.desk = r.Request.URL.String()
	return s.desk
}

func (s *served) end() {
	s.once.Do(func() {
		s.post("end", nil)
		select {
		case code := <-s.done:
			assert.Zero(s.t, code)
		case <-time.After(patience):
			s.t.Error("the program does not end")
		}
	})
}

// post sends a form as the page does.
func (s *served) post(to string, form url.Values) (int, string) {
	r, err := http.NewRequest("POST", s.desk+to, strings.NewReader(form.Encode()))
	require.NoError(s.t, err)
	r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	r.Header.Set("Origin", s.origin)
	r.Header.Set("X-Part", "1")
	return s.send(r)
}

func (s *served) send(r *http.Request) (int, string) {
	got, err := http.DefaultClient.Do(r)
	require.NoError(s.t, err)
	defer got.Body.Close()
	body, err := io.ReadAll(got.Body)
	require.NoError(s.t, err)
	return got.StatusCode, string(body)
}

func (s *served) get(path string) (int, string) {
	r, err := http.NewRequest("GET", s.desk+path, nil)
	require.NoError(s.t, err)
	return s.send(r)
}

// ask sends a question and waits for its answer.
func (s *served) ask(pairs ...string) string {
	form := url.Values{}
	for n := 0; n < len(pairs); n += 2 {
		form.Set(pairs[n], pairs[n+1])
	}
	code, body := s.post("do", form)
	require.Equal(s.t, http.StatusOK, code, body)
	return s.settled()
}

// sought says that a case is looked for.
var sought = regexp.MustCompile(`aria-busy|searching\)?</td>`)

// settled is the page when nothing is looked for any more, in no case.
func (s *served) settled() string {
	for end := time.Now().Add(patience); time.Now().Before(end); time.Sleep(20 * time.Millisecond) {
		code, body := s.get("part")
		require.Equal(s.t, http.StatusOK, code, body)
		if !sought.MatchString(body) {
			return body
		}
	}
	require.Fail(s.t, "no answer")
	return ""
}

// until is the page when it says something.
func (s *served) until(says string) string {
	s.t.Helper()
	for end := time.Now().Add(patience); time.Now().Before(end); time.Sleep(20 * time.Millisecond) {
		if _, page := s.get("part"); strings.Contains(page, says) {
			return page
		}
	}
	_, page := s.get("part")
	require.Contains(s.t, page, says)
	return ""
}
