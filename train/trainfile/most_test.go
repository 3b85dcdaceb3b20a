package trainfile

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A machine has so many feet and nozzles at most, a train so many conditions.
func TestMostFeetNozzlesConditions(t *testing.T) {
	text := sound(t)
	add := func(n int, table string) string {
		var all strings.Builder
		for i := range n {
			fmt.Fprintf(&all, table, i)
		}
		return all.String()
	}
	i := strings.Index(text, "[[coupling]]")
	for _, c := range []struct{ text, says string }{
		{text[:i] + add(mostFeet+1, "[[machine.foot]]\nname = \"f%[1]d\"\nx = %[1]d\ny = 0\n") + text[i:], "feet, a pair counted as two"},
		{text[:i] + add(mostNozzles+1, "[[machine.nozzle]]\nname = \"n%d\"\nx = 0\nz = 0\nlimit = 1\n") + text[i:], "more than 40 nozzles"},
		{text + add(mostConditions+1, "[[condition]]\nname = \"c%d\"\n"), "more than 40 conditions"},
	} {
		got, report := Read("train.toml", []byte(c.text), options)
		assert.Nil(t, got)
		assert.Contains(t, report.String(), c.says)
	}
	got, report := Read("train.toml", []byte(text+add(mostConditions, "[[condition]]\nname = \"c%d\"\n")), options)
	assert.NotNil(t, got, report.String())
}

// Tables that only dotted keys name count too: none of them is made for nothing.
func TestDottedKeysCount(t *testing.T) {
	deep := strings.TrimSuffix(strings.Repeat("a.", deepest-2), ".")
	var text strings.Builder
	for i := range mostValues/(deepest-2) + 2 {
		fmt.Fprintf(&text, "k%d.%s = 1\n", i, deep)
	}
	_, report := Read("train.toml", []byte(text.String()), options)
	require.Len(t, report, 1)
	assert.Contains(t, report[0].Message, "more than 200000 values")
}

// Two names that look the same are one name, and what does not print is in none.
func TestNamesThatLookTheSame(t *testing.T) {
	text := sound(t)
	for name, says := range map[string]string{
		"pu\u200bmp": "name holds the character U+200B, which does not print", "pu\u00a0mp": "name holds the character U+00A0, which is no plain blank",
		"pu\u00admp": "U+00AD", "\ufeffpump": "U+FEFF", "pump\U000e0041": "U+E0041", "pump\u202e": "U+202E",
		"motor\u200d": `machine "motor\u200d" is there twice`,
	} {
		_, report := Read("train.toml", []byte(strings.Replace(text, "\"pump\"", fmt.Sprintf("%q", name), 1)), options)
		assert.Contains(t, report.String(), says)
	}
}

// What one machine, coupling or reading may have at most, and where a reading may
// be: one more, or further, is refused with its place; as much is read.
func TestMostOfOneThing(t *testing.T) {
	found := "[coupling.found]"
	text := sound(t)
	require.Equal(t, 1, strings.Count(text, found))
	unread := text[:strings.Index(text, found)]
	reading := func(x, on, angles string) string {
		return fmt.Sprintf("[[coupling.reading]]\nkind = \"rim\"\non = %q\nx = %s\n%s\n", on, x, angles)
	}
	const clock = "clock = { 12 = 0, 3 = 0.01, 6 = 0.02, 9 = 0.01 }"
	sweep := func(n int) string {
		var all []string
		for i := range n {
			all = append(all, fmt.Sprintf("[%g, 0.01]", 360*float64(i)/float64(n)))
		}
		return "sweep = [" + strings.Join(all, ", ") + "]"
	}
	for _, c := range []struct{ why, text, says string }{
		{"200 readings", unread + strings.Repeat(reading("1250", "pump", clock), mostReadings), ""},
		{"201 readings", unread + strings.Repeat(reading("1250", "pump", clock), mostReadings+1), `coupling "main" has 201 readings, at most 200 are read`},
		{"400 positions", unread + reading("1250", "pump", sweep(mostPositions)), ""},
		{"401 positions", unread + reading("1250", "pump", sweep(mostPositions+1)), "sweep has 401 positions, at most 400 are read"},
		{"far off", unread + reading("70000", "pump", clock), "x is 70000 mm, 68750 mm from the plane of coupling \"main\""},
		{"on another shaft", unread + reading("1250", "none", clock), "none"},
	} {
		t.Run(c.why, func(t *testing.T) {
			got, report := Read("train.toml", []byte(c.text), options)
			if c.says == "" {
				assert.NotContains(t, report.String(), "at most")
				return
			}
			assert.Nil(t, got)
			assert.Contains(t, report.String(), c.says)
		})
	}
}
