package tree

import (
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Slips that people make on a line, each wrong by itself; "" where it can't be made there.
func slips(line string) []string {
	first := func(form, with string) string {
		at := regexp.MustCompile(form).FindStringIndex(line)
		if at == nil || strings.Contains(line[:at[0]], "#") {
			return ""
		}
		return line[:at[0]] + with + line[at[1]:]
	}
	return []string{
		first(`"$`, ""),                    // a quote left out at the end
		first(`= \d+$`, "= 4 mils"),        // a unit
		first(`= \d+$`, "= 1,785"),         // a comma
		first(`= [\d.]+$`, "= ?"),          // not known
		first(`= [\d.]+,`, "= ,"),          // to be filled in
		first(`= "[a-z ]+"$`, "= in word"), // no quotes
		first(` \}$`, ""),                  // a brace left open
		first(`12 = `, "12: "),             // another sign
		first(`\]\]$`, "]"),                // a bracket left open
	}
}

// Of three slips at random all are told, and nothing else is.
func TestFaultsTellEverySlip(t *testing.T) {
	files, err := filepath.Glob("../../../examples/*/before.toml")
	require.NoError(t, err)
	require.NotEmpty(t, files)
	random := rand.New(rand.NewPCG(21, 1))
	for _, file := range files {
		src, err := os.ReadFile(file)
		require.NoError(t, err)
		for range 15 {
			lines := strings.Split(string(src), "\n")
			var slipped []int
			for len(slipped) < 3 {
				n := random.IntN(len(lines))
				of := slips(lines[n])
				if made := of[random.IntN(len(of))]; made != "" && made != lines[n] && !strings.HasPrefix(lines[n], "#") {
					lines[n] = made
					slipped = append(slipped, n+1)
				}
			}
			text := strings.Join(lines, "\n")
			told := map[int]bool{}
			_, faults := Read(text, nil)
			for _, e := range faults {
				line := strings.Count(text[:e.At.Start], "\n") + 1
				told[line] = true
				assert.Contains(t, slipped, line, "%s: %s\n%s", file, e.Message, lines[line-1])
			}
			for _, n := range slipped {
				assert.True(t, told[n], fmt.Sprintf("%s:%d: %s", file, n, lines[n-1]))
			}
			if t.Failed() {
				return
			}
		}
	}
}

// Places of the text as it was are found again behind edits, and an edit takes the place of those within it.
func TestEdits(t *testing.T) {
	const text = "abcdefgh"
	e := Edits{}.and(Span{2, 4}, "XYZ").and(Span{6, 7}, "") // in "abXYZefgh"
	assert.Equal(t, "abXYZegh", e.Apply(text))
	for edited, was := range map[int]int{0: 0, 1: 1, 2: 2, 4: 2, 5: 4, 6: 6, 7: 7, 8: 8} {
		assert.Equal(t, was, e.back(edited), "byte %d", edited)
	}
	whole := e.and(Span{1, 7}, "-")
	assert.Equal(t, "a-h", whole.Apply(text))
	assert.Len(t, whole, 1)
}

// A text of another kind altogether is told a bounded number of errors, and a long one is not read again.
func TestFaultsAreBounded(t *testing.T) {
	prose := strings.Repeat("some words: and more of them\n", 200)
	_, faults := Read(prose, nil)
	assert.LessOrEqual(t, len(faults), mostFaults)
	_, faults = Read(strings.Repeat("x = ?\n", mostMended/6+1), nil)
	assert.Len(t, faults, 1)
}
