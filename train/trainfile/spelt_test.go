package trainfile

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What a parser stops at is told from numbers that are written another way only
// where these are all that stands there.
func TestSpelt(t *testing.T) {
	for _, c := range []struct{ text, says string }{
		{"a = 1,0625 # inch", "1,0625 has a decimal comma"},
		{"a = { b = 1, c = -0,5 }", "-0,5 has a decimal comma"},
		{"clock = { 12 = 0, 3 = 0,11, 6 = 0.2 }", "0,11 has a decimal comma"},
		{"a = [1.0, 0,05]", "0,05 has a decimal comma"},
		{"a = [5/32, 1]", "5/32 is a fraction"},
		{"a = { b = 1 1/8 }", "1 1/8 is a fraction"},
		{"a = [1,2", "a list that is not closed"},
		{"a = [1,2] b", "more on this line"},
		{"a = { 12 = 0,3 0.1 }", "a key without a value"},
		{"a = 1,5 2", "more on this line"},
		{"a = 1/0", "more on this line"},
		{"a = yes", "yes is no value that TOML knows"},
		{"a = { b = Off }", "Off is no value that TOML knows"},
		{"a = yesterday", "yesterday is no value that TOML knows"},
		{"a = grey iron # of the feet", "grey iron is no value that TOML knows"},
		{"a = { b = 2 mm, c = 1 }", "2 mm is a number with its unit"},
		{"a = 12%", "12% is a number with its unit"},
		{"a = { 12 = 0, 3 = , 6 = 0.1 }", "a key without its value"},
		{"a = { b = 1, c = }", "a key without its value"},
		{"a = ", "a key without its value"},
		{"a = { 12 = 0, 12.5 = 0.1 }", "key \"12\" has a value on line 2, and here keys below it"},
		{"a = M24", "M24 is no number"},
		{"a = .5", ".5 is no value that TOML knows"},
	} {
		_, report := Read("spelt.toml", []byte("title = \"t\"\n"+c.text+"\n"), options)
		require.Len(t, report, 1, c.text)
		assert.Contains(t, report[0].Message, c.says, c.text)
		assert.Equal(t, 2, report[0].Line, c.text)
	}
}

// Words for units that are not near "mm" or "inch".
func TestUnitsMeant(t *testing.T) {
	for word, want := range map[string]string{"in": "inch", "Inches": "inch", "mil": "inch", "imperial": "inch",
		"metric": "mm", "millimeters": "mm", "milimeter": "mm", "millimetrs": "mm", "inchs": "inch", "furlong": ""} {
		_, report := Read("units.toml", []byte(strings.Replace(sound(t), `"mm"`, `"`+word+`"`, 1)), options)
		require.NotEmpty(t, report, word)
		if want == "" {
			assert.Empty(t, report[0].Hint, word)
			continue
		}
		assert.Equal(t, `did you mean "`+want+`"?`, report[0].Hint, word)
	}
}

// A comma before three digits is a decimal one, or parts thousands: the file doesn't tell.
func TestThousands(t *testing.T) {
	for typed, want := range map[string]string{
		"1,785":  "write 1.785; if the comma parts thousands, write 1785",
		"-2,500": "write -2.500; if the comma parts thousands, write -2500",
		"0,125":  "write 0.125", "1,78": "write 1.78", "1,7850": "write 1.7850", "1250,125": "write 1250.125",
	} {
		_, report := Read("spelt.toml", []byte("a = "+typed+"\n"), options)
		require.Len(t, report, 1, typed)
		assert.Equal(t, want, report[0].Hint, typed)
	}
}
