package explore_test

import (
	"bufio"
	"bytes"
	"encoding/json"
	"fmt"
	"html"
	"io"
	"net/http"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"runtime"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/cmd/internal/cli"
	"leastmove/testdata/families"
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

// column are the values of a row of the table of cases.
func column(t testing.TB, page, name string) []string {
	row := regexp.MustCompile(`(?s)<tr><th scope="row">` + name + `</th>(.*?)</tr>`).FindStringSubmatch(page)
	require.NotNil(t, row, "no row %s", name)
	var out []string
	for _, c := range regexp.MustCompile(`(?s)<td[^>]*>(.*?)</td>`).FindAllStringSubmatch(row[1], -1) {
		text := html.UnescapeString(regexp.MustCompile(`<[^>]*>`).ReplaceAllString(c[1], ""))
		out = append(out, strings.ReplaceAll(text, "\u00a0", " "))
	}
	return out
}

// words are a command line as a shell takes it apart.
func words(t testing.TB, line string) []string {
	var out []string
	for _, w := range regexp.MustCompile(`'[^']*'|\S+`).FindAllString(line, -1) {
		out = append(out, strings.Trim(w, "'"))
	}
	return out
}

// byCommand runs the command that stands on the page, on the files that the page exports, and
// gives the plan of it as JSON.
func (s *served) byCommand(page string) map[string]any {
	t := s.t
	line := regexp.MustCompile(`<code>(.*?)</code>`).FindStringSubmatch(page)
	require.NotNil(t, line)
	args := words(t, html.UnescapeString(regexp.MustCompile(`<[^>]*>`).ReplaceAllString(line[1], "")))
	require.Equal(t, []string{"leastmove", "plan"}, args[:2])
	folder := t.TempDir()
	for n := 2; n < len(args); n++ {
		kind := map[bool]string{true: "toml", false: "moves"}[n == 2]
		if n == 2 || args[n-1] == "--plan" {
			code, body := s.get("export/" + kind)
			require.Equal(t, http.StatusOK, code, body)
			args[n] = filepath.Join(folder, filepath.Base(args[n]))
			require.NoError(t, os.WriteFile(args[n], []byte(body), 0o644))
		}
	}
	_, out, said := run(append(args[1:], "--format", "json")...)
	var plan map[string]any
	require.NoError(t, json.Unmarshal([]byte(out), &plan), said)
	code, body := s.get("export/json")
	require.Equal(t, http.StatusOK, code, body)
	assert.Equal(t, out, body, "plan, JSON")
	return plan
}

// What stands on the page is what the command beside it prints, for every kind of question.
func TestPageSaysWhatTheCommandPrints(t *testing.T) {
	file := pair(t)
	if trains.Everything() {
		file = example(t, "turbine")
	}
	s := serve(t, file)
	same := func(page string, at int) {
		t.Helper()
		plan := s.byCommand(page)
		total, ok := plan["total"].(float64)
		require.True(t, ok)
		assert.Contains(t, column(t, page, "total")[at], fmt.Sprintf("%.2f mm", total))
	}
	assert.Contains(t, s.settled(), fmt.Sprintf("total %.2f mm", s.byCommand(s.settled())["total"]))
	page := s.ask("what", "values", "coupling.0.limit.angle", "0.45", "machine.1.foot.0.hole", "40",
		"scale.machine.0.growth", "1.2")
	assert.Contains(t, page, "(changed)")
	assert.Contains(t, page, "growth at 0: up ", "times 1.2")
	same(page, 1)
	s.ask("what", "look", "case", "0")
	page = s.ask("what", "moves", "up.1.0", "0.85", "up.1.1", "0.65", "up.1.2", "0.6", "up.1.3", "0.4")
	assert.Contains(t, page, "IT DOES NOT HOLD")
	same(page, 2)
	if trains.Everything() {
		s.ask("what", "look", "case", "0")
		same(s.ask("what", "machine", "name", "compressor", "to", "hold"), 3)
		s.ask("what", "look", "case", "0")
		same(s.ask("what", "aim", "strategy", "least-total", "use", "50", "chance", ""), 4)
		s.ask("what", "look", "case", "0")
		same(s.ask("what", "aim", "strategy", "closest"), 5)
	}
}

func TestOptionIsTaken(t *testing.T) {
	s := serve(t, example(t, "base-bound"))
	page := s.settled()
	assert.Contains(t, page, "With an option")
	page = s.ask("what", "option", "number", "1")
	plan := s.byCommand(page)
	assert.Equal(t, "planned", plan["status"])
	assert.Contains(t, column(t, page, "total")[1], fmt.Sprintf("%.2f", plan["total"]))
}

// The gear can't be moved: what that costs. An option that releases it after all gives the plan of the file, and
// every option has a case of its own.
func TestOptionsOfAHeldMachineStandSideBySide(t *testing.T) {
	if !trains.Everything() {
		t.Skip("takes seconds: LEASTMOVE_TESTS=all")
	}
	s := serve(t, example(t, "turbine"))
	page := s.ask("what", "machine", "name", "gear", "to", "hold")
	assert.Contains(t, page, "No plan; 2 options.")
	assert.Contains(t, page, "As asked, not to be moved: gear.")
	assert.Contains(t, page, "which is held. With that", "the file has no line that holds it")
	s.ask("what", "option", "number", "1")
	s.ask("what", "look", "case", "1")
	s.ask("what", "option", "number", "2")
	code, table := s.get("export/cases") // to be handed on, when all are answered
	assert.Equal(t, http.StatusOK, code)
	page = s.settled()
	total := column(t, page, "total")
	require.Len(t, total, 4)
	assert.Equal(t, total, column(t, table, "total"))
	assert.Equal(t, "–", total[1])
	assert.Equal(t, total[0], total[3])
	assert.Contains(t, column(t, page, "asked for")[3], "option 2: release gear, which is held")
	assert.Equal(t, "planned", s.byCommand(page)["status"])
	code, table = s.get("export/cases-pdf")
	assert.Equal(t, http.StatusOK, code)
	assert.True(t, strings.HasPrefix(table, "%PDF-"))
}

func TestChangesAreTakenBackOneByOne(t *testing.T) {
	s := serve(t, pair(t))
	s.settled()
	first := column(t, s.ask("what", "machine", "name", "pump", "to", "hold"), "total")[0]
	page := s.ask("what", "aim", "use", "60", "strategy", "least-total")
	ids := regexp.MustCompile(`name="id" value="(\d+)"`).FindAllStringSubmatch(page, -1)
	require.Len(t, ids, 2)
	page = s.ask("what", "undo", "id", ids[0][1])
	assert.Contains(t, page, `<code>leastmove plan pair.toml <span class="flag">--use</span> 0.6</code>`)
	s.ask("what", "name", "name", "kept") // a case that has a name stays without a change
	page = s.ask("what", "undo", "id", ids[1][1])
	assert.Equal(t, []string{first, first}, column(t, page, "total"))
	// One that was started by a question goes with its last one, and leaves others as they are.
	s.ask("what", "look", "case", "0")
	page = s.ask("what", "aim", "use", "60")
	assert.Len(t, column(t, page, "total"), 3)
	page = s.ask("what", "aim", "use", "", "chance", "90")
	assert.Len(t, column(t, page, "total"), 3)
	assert.Contains(t, page, `<span class="flag">--assure</span> 0.9</code>`)
	page = s.ask("what", "aim", "chance", "")
	assert.Len(t, column(t, page, "total"), 2)
	// A value that is typed as the file has it is no change.
	page = s.ask("what", "values", "machine.1.foot.0.hole", "40")
	assert.Contains(t, page, "hole 40")
	page = s.ask("what", "values", "machine.1.foot.0.hole", "")
	assert.NotContains(t, page, "hole 40")
}

func TestSixCasesStandSideBySide(t *testing.T) {
	s := serve(t, pair(t))
	for n, use := range []string{"95", "90", "85", "80", "75", "60"} {
		s.ask("what", "look", "case", "0")
		page := s.ask("what", "aim", "use", use)
		s.ask("what", "name", "name", "use "+use)
		assert.Len(t, column(t, page, "total"), n+2)
	}
	page := s.settled()
	assert.Contains(t, page, "use 95")
	shares := column(t, page, "share of limit")
	assert.Len(t, shares, 7)
	assert.NotContains(t, shares, "–")
	s.ask("what", "look", "case", "0")
	page = s.ask("what", "aim", "use", "50")
	assert.Contains(t, page, "take one away first")
	assert.Len(t, column(t, page, "total"), 7)
}

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

func jsonOf(t *testing.T, v any) string {
	text, err := json.Marshal(v)
	require.NoError(t, err)
	return string(text)
}
