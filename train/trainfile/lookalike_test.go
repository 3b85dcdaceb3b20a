package trainfile

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func TestNamesThatLookAlike(t *testing.T) {
	for _, c := range []struct{ name, why, want string }{
		{"driver", "Latin alone", ""},
		{"насос", "Cyrillic alone", ""},
		{"насос A", "each word in one script", ""},
		{"Kühlpumpe süd", "letters with marks", ""},
		{"Δp pump", "a Greek letter that looks like no Latin one", ""},
		{"mаin pump", "a Cyrillic а in a Latin word", `mixes scripts: its 'а' is a Cyrillic letter`},
		{"Μain pump", "a Greek Μ in a Latin word", `mixes scripts: its 'Μ' is a Greek letter`},
	} {
		text := strings.ReplaceAll(sound(t), `"motor"`, `"`+c.name+`"`)
		require.NotEqual(t, sound(t), text, "the file has a motor")
		tr, report := Read("a.toml", []byte(text), Options{})
		require.NotNil(t, tr, "%s: %s", c.why, report)
		if c.want == "" {
			assert.Empty(t, report, c.why)
			continue
		}
		require.Len(t, report, 1, c.why)
		assert.Equal(t, Warning, report[0].Severity, c.why)
		assert.Contains(t, report[0].Message, c.want, c.why)
	}
	// Whole names that look alike: Latin "A" and Cyrillic "А".
	text := strings.NewReplacer(`"motor"`, `"A"`, `"pump"`, `"А"`).Replace(sound(t))
	tr, report := Read("a.toml", []byte(text), Options{})
	require.NotNil(t, tr, report.String())
	require.Len(t, report, 1)
	assert.Contains(t, report[0].Message, "looks like the one on line")
}

func TestLoneCarriageReturns(t *testing.T) {
	_, report := Read("a.toml", []byte(strings.ReplaceAll(sound(t), "\n", "\r")), Options{})
	require.Len(t, report, 1)
	assert.Contains(t, report[0].Message, "a carriage return (CR) without a line feed (LF)")
	tr, report := Read("a.toml", []byte(strings.ReplaceAll(sound(t), "\n", "\r\n")), Options{})
	require.NotNil(t, tr, report.String())
	assert.Empty(t, report, "CR LF is a line end")
	_, report = Read("a.toml", []byte("title = \"a\"\r\nunits = = 1\nx = 1\r"), Options{})
	require.Len(t, report, 2)
	assert.NotContains(t, report[0].Message, "carriage", "the error comes before the lone CR")
	assert.Contains(t, report[1].Message, "carriage")
}
