package explore_test

import (
	"net/http"
	"net/url"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Who does not come from a page of this server, with its token, gets nothing.
func TestOnlyThePageMayAsk(t *testing.T) {
	s := serve(t, example(t, "base-bound"))
	at, err := url.Parse(s.desk)
	require.NoError(t, err)
	token := strings.Split(at.Path, "/")[1]
	require.Len(t, token, 32)
	wrong := strings.Repeat("0", 32)
	for name, c := range map[string]struct {
		method, path, host string
		header             map[string]string
		want               int
	}{
		"the page":                {"GET", at.Path, at.Host, nil, 200},
		"no token":                {"GET", "/", at.Host, nil, 403},
		"another token":           {"GET", strings.Replace(at.Path, token, wrong, 1), at.Host, nil, 403},
		"part of the token":       {"GET", "/" + token[:31] + "/1/", at.Host, nil, 403},
		"style without token":     {"GET", "/style.css", at.Host, nil, 403},
		"a name for this address": {"GET", at.Path, "rebound.example:80", nil, 421},
		"localhost":               {"GET", at.Path, "localhost:" + at.Port(), nil, 421},
		"another port":            {"GET", at.Path, "127.0.0.1:1", nil, 421},
		"a page of another site":  {"GET", at.Path, at.Host, map[string]string{"Origin": "http://other.example"}, 403},
		"a link of another site":  {"GET", at.Path, at.Host, map[string]string{"Sec-Fetch-Site": "cross-site"}, 403},
		"a page of another port":  {"GET", at.Path, at.Host, map[string]string{"Sec-Fetch-Site": "same-site"}, 403},
		"typed in":                {"GET", at.Path, at.Host, map[string]string{"Sec-Fetch-Site": "none"}, 200},
		"a form without origin":   {"POST", at.Path + "do", at.Host, nil, 403},
		"a form of a file":        {"POST", at.Path + "do", at.Host, map[string]string{"Origin": "null"}, 403},
		"a form of this page":     {"POST", at.Path + "do", at.Host, map[string]string{"Origin": s.origin}, 200},
		"end by another site": {"POST", at.Path + "end", at.Host, map[string]string{"Origin": "https://" + at.Host},
			403},
		"a method":        {"DELETE", at.Path, at.Host, nil, 405},
		"out of the page": {"GET", at.Path + "export/..%2f..%2fetc%2fpasswd", at.Host, nil, 404},
		"another train":   {"GET", "/" + token + "/2/", at.Host, nil, 404},
		"no such desk":    {"GET", "/" + token + "/1/zz/part", at.Host, nil, 410},
	} {
		r, err := http.NewRequest(c.method, s.origin+c.path, nil)
		require.NoError(t, err)
		r.Host = c.host
		for k, v := range c.header {
			r.Header.Set(k, v)
		}
		got, err := http.DefaultTransport.RoundTrip(r)
		require.NoError(t, err)
		got.Body.Close()
		if c.method == "POST" && c.want == 200 {
			c.want = http.StatusSeeOther // without the script
		}
		assert.Equal(t, c.want, got.StatusCode, name)
		policy := got.Header.Get("Content-Security-Policy")
		assert.Contains(t, policy, "default-src 'none'", name)
		assert.NotContains(t, policy, "unsafe", name)
	}
	// What is too large is not taken.
	code, _ := s.post("do", url.Values{"what": {strings.Repeat("x", 300<<10)}})
	assert.Equal(t, http.StatusBadRequest, code)
	r, err := http.NewRequest("GET", s.desk, nil)
	require.NoError(t, err)
	r.Header.Set("X-Long", strings.Repeat("x", 64<<10))
	if got, err := http.DefaultTransport.RoundTrip(r); err == nil { // else the connection was cut
		got.Body.Close()
		assert.Equal(t, http.StatusRequestHeaderFieldsTooLarge, got.StatusCode)
	}
}

// What a train file or a form says stays text, and nothing on the page needs a style or a
// script within it.
func TestHostileNamesStayText(t *testing.T) {
	s := serve(t, pair(t))
	s.settled()
	s.ask("what", "machine", "name", "pump", "to", "hold")
	page := s.ask("what", "name", "name", `<img src=x onerror=alert(1)>`)
	assert.NotContains(t, page, "<img")
	assert.Contains(t, page, "&lt;img")
	page = s.ask("what", "values", "machine.1.foot.0.hole", `"><script>1</script>`)
	assert.Contains(t, page, "is no number")
	for _, never := range []string{"<script>", " style=", "\tstyle=", "onerror=alert(1)>\"", "javascript:"} {
		assert.NotContains(t, page, never)
	}
	for _, path := range []string{"machine.9.hold", "title", "machine", "", "coupling.0.reading.99.v"} {
		page = s.ask("what", "values", path, "1")
		assert.Contains(t, page, `<span class="flag">--hold</span> pump</code>`)
	}
	page = s.ask("what", "machine", "name", "--bands", "to", "hold")
	assert.NotContains(t, page, "--bands")
	page = s.ask("what", "aim", "strategy", "--bands=/etc/passwd")
	assert.Contains(t, page, "strategy")
	assert.NotContains(t, page, "root:")
}
