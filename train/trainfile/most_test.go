package trainfile

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/train/trainfile/tree"
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
		{text[:i] + add(mostFeet+1, "[[machine.foot]]\nname = \"f%[1]d\"\nx = %[1]d\ny = 0\n") + text[i:],
			"feet, a pair counted as two"},
		{text[:i] + add(mostNozzles+1, "[[machine.nozzle]]\nname = \"n%d\"\nx = 0\nz = 0\nlimit = 1\n") + text[i:],
			"more than 40 nozzles"},
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
	deep := strings.TrimSuffix(strings.Repeat("a.", tree.Deepest-2), ".")
	var text strings.Builder
	for i := range tree.MostValues/(tree.Deepest-2) + 2 {
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
		"pu\u200bmp": "name holds the character U+200B, which does not print",
		"pu\u00a0mp": "name holds the character U+00A0, which is no plain blank",
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
		{"201 readings", unread + strings.Repeat(reading("1250", "pump", clock), mostReadings+1),
			`coupling "main" has 201 readings, at most 200 are read`},
		{"400 positions", unread + reading("1250", "pump", sweep(mostPositions)), ""},
		{"401 positions", unread + reading("1250", "pump", sweep(mostPositions+1)),
			"sweep has 401 positions, at most 400 are read"},
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

// numbered repeats a text with a number in it.
func numbered(format string, n int) string {
	var b strings.Builder
	for i := range n {
		fmt.Fprintf(&b, format, i)
	}
	return b.String()
}

// What is too large or too deep is refused, with its place, before it costs
// much.
func TestCaps(t *testing.T) {
	for _, c := range []struct {
		why, text, message string
		line               int
	}{
		{"a file of over 4 MB", strings.Repeat("#", tree.MostBytes+1),
			"the file has 4194305 bytes, at most 4194304 are read", 1},
		{"lists in lists", "a = 1\nb = " + strings.Repeat("[", 60) + strings.Repeat("]", 60),
			"tables and arrays nested more than 50 deep", 2},
		{"a million lists in lists", "b = " + strings.Repeat("[", 1_000_000), "", 1},
		{"a key of a million parts", "a = 1\n\n" + strings.Repeat("b.", 1_000_000) + "c = 1",
			"tables and arrays nested more than 50 deep", 3},
		{"a header of a million parts", "[" + strings.Repeat("b.", 1_000_000) + "c]",
			"tables and arrays nested more than 50 deep", 1},
		{"2,001 machines", strings.Repeat("[[machine]]\n", 2001), "the file has 2001 machines, at most 2000 are read", 2001},
		{"2,001 machines in braces", "\nmachine = [" + strings.Repeat("{},", 2001) + "]",
			"the file has 2001 machines, at most 2000 are read", 2},
		{"a list of 300,000 numbers", "a = [" + strings.Repeat("1,", 300_000) + "]", "the file has more than 200000 values",
			1},
		{"300,000 keys", numbered("k%d=1\n", 300_000), "the file has more than 200000 values", 200_001},
		{"300,000 tables", strings.Repeat("[[coupling]]\n", 300_000), "the file has more than 200000 values", 200_001},
		{"a whole number of 100,000 digits", "a = " + strings.Repeat("1", 100_000), "", 1},
		{"a number in hexadecimal of 100,000 digits", "a = 0x" + strings.Repeat("1", 100_000), "", 1},
		{"text that is not UTF-8", "a = 1\nb = \"\xff\"", "byte 0xff is not UTF-8 text", 2},
	} {
		got, report := Read("large.toml", []byte(c.text), Options{})
		assert.Nil(t, got, c.why)
		require.Equal(t, 1, len(report), c.why)
		assert.Equal(t, c.line, report[0].Line, c.why)
		if c.message != "" {
			assert.Equal(t, c.message, report[0].Message, c.why)
		}
		assert.Less(t, len(report.String()), 1000, "%s: what is printed stays short", c.why)
	}
}
