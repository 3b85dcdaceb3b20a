package explore_test

import (
	"encoding/json"
	"html"
	"net/http"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

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

func jsonOf(t *testing.T, v any) string {
	text, err := json.Marshal(v)
	require.NoError(t, err)
	return string(text)
}
