package explore_test

import (
	"bufio"
	"net/http"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Parts that the browser has are not sent again, and it is not told of news that it has been shown.
func TestWhatTheBrowserHasIsNotSentAgain(t *testing.T) {
	s := serve(t, pair(t))
	page := s.settled()
	assert.Contains(t, page, "Of a machine: growth, holes and shim packs.", "over what is folded away")
	value := func(page, name string) string {
		at := regexp.MustCompile(` data-` + name + `="([^"]*)"`).FindStringSubmatch(page)
		require.NotNil(t, at, name)
		return at[1]
	}
	part := func(has string) string {
		r, err := http.NewRequest("GET", s.desk+"part", nil)
		require.NoError(t, err)
		r.Header.Set("X-Has", has)
		code, page := s.send(r)
		require.Equal(t, http.StatusOK, code)
		return page
	}
	has := value(page, "has")
	assert.Equal(t, []string{"status-part"}, ids(part(has)))
	assert.Len(t, ids(part("")), 11)
	s.ask("what", "machine", "name", "pump", "to", "hold")
	changed := part(has)
	assert.Contains(t, ids(changed), "answer-part")
	assert.NotContains(t, ids(changed), "values-part")
	assert.Contains(t, value(changed, "has"), "values-part:", "it still has it")

	r, err := http.Get(s.desk + "events")
	require.NoError(t, err)
	defer r.Body.Close()
	lines := bufio.NewReader(r.Body)
	event, err := lines.ReadString('\n')
	require.NoError(t, err)
	data, err := lines.ReadString('\n')
	require.NoError(t, err)
	assert.Equal(t, "event: change\ndata: "+value(part(""), "version"), event+strings.TrimSpace(data))
}

// ids are the parts of a page by their names.
func ids(page string) []string {
	var out []string
	for _, at := range regexp.MustCompile(`id="(top|[a-z]+-part)"`).FindAllStringSubmatch(page, -1) {
		out = append(out, at[1])
	}
	return out
}
