package pages_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/testdata/browser"
	"leastmove/testdata/trains"
)

// Names that break what is put together carelessly.
const (
	scriptName = `<script>alert("x")</script>`
	quoteName  = `a "b' & </section> <b>`
	hebrewName = "משאבה 2"
)

func longName() string { return strings.Repeat("name without end ", 12)[:200] }

// hardNames is the train of base-bound.toml, with room to move and such names.
func hardNames(t *testing.T) string {
	text, err := os.ReadFile("../../../examples/five-machines/before.toml")
	require.NoError(t, err)
	s := string(text)
	for old, name := range map[string]string{
		"expander": scriptName, "axial compressor": hebrewName, "steam turbine": strings.Repeat("s", 200),
		"generator":       longName(),
		"pinion coupling": quoteName, "hot end": scriptName, "far end": hebrewName, "cold start": quoteName,
	} {
		quoted := `"` + strings.NewReplacer(`\`, `\\`, `"`, `\"`).Replace(name)
		s = strings.ReplaceAll(s, `"`+old+`"`, quoted+`"`)
		s = strings.ReplaceAll(s, `"`+old+`/`, quoted+`/`)
	}
	s = strings.Replace(s, `title = "`, `title = "<i>`+hebrewName+`</i> `, 1)
	return once(t, "hard names", func(folder string) (string, error) {
		file := filepath.Join(folder, "hard.toml")
		return file, os.WriteFile(file, []byte(s), 0o666)
	})
}

// Names are on the page as they are, and only as names.
func TestHardNames(t *testing.T) {
	if !trains.Everything() {
		t.Skip("a page of five machines more: LEASTMOVE_TESTS=all")
	}
	b := open(t, written(t, hardNames(t)))
	text := browser.Ask[string](t, b, `document.querySelector('main').textContent`)
	for _, name := range []string{scriptName, quoteName, hebrewName, strings.Repeat("s", 200), longName()} {
		assert.Contains(t, text, name)
	}
	alone := browser.Ask[[]string](t, b, `[...document.querySelectorAll('bdi')].map((e) => e.textContent)`)
	assert.Contains(t, alone, hebrewName, "a name from right to left turns nothing beside it")
	made := browser.Ask[int](t, b, `document.querySelectorAll('script, main b, main i').length`)
	assert.Zero(t, made)
	assert.NotContains(t, text, "\u2068")
	b.Lock()
	defer b.Unlock()
	assert.Empty(t, b.Errors)
}
