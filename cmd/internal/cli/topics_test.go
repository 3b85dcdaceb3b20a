package cli

import (
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/train"
	"leastmove/train/trainfile"
)

// every calls f with the program's command and all below it, topics of the help
// among them.
func every(c *cobra.Command, f func(*cobra.Command)) {
	f(c)
	for _, sub := range c.Commands() {
		every(sub, f)
	}
}

// The help names every command, topic and flag, and keeps to 80 columns.
func TestHelpNamesEverything(t *testing.T) {
	seen := 0
	every(newRoot(streams{}), func(c *cobra.Command) {
		args := append([]string{"help"}, strings.Fields(c.CommandPath())[1:]...)
		code, out, stderr := run(args...)
		require.Equal(t, exitDone, code, "%s: %s", args, stderr)
		assert.Empty(t, stderr, args)
		seen++
		for _, sub := range c.Commands() {
			if !sub.Hidden && sub.Name() != "help" {
				assert.Contains(t, out, "\n  "+sub.Name()+" ", args)
				assert.NotEmpty(t, sub.Short, sub.CommandPath())
			}
		}
		if c.IsAvailableCommand() {
			c.LocalFlags().VisitAll(func(f *pflag.Flag) { assert.Contains(t, out, "--"+f.Name, args) })
			assert.Contains(t, out, "Exit codes:", args)
		}
		if len(args) < 2 || args[1] == "completion" && len(args) > 2 {
			return // cobra's own words
		}
		for _, line := range strings.Split(out, "\n") {
			// Texts of flags are broken by hand.
			assert.LessOrEqual(t, utf8.RuneCountInString(line), 100, "%s: %s", args, line)
			if c.IsAdditionalHelpTopicCommand() {
				assert.LessOrEqual(t, utf8.RuneCountInString(line), helpWidth, "%s: %s", args, line)
			}
		}
	})
	assert.Greater(t, seen, 8)
}

// `help train-file` fits a screen and names every table; each leads to all of its keys and to the
// tables in it.
func TestHelpOfTheTrainFileFitsAScreen(t *testing.T) {
	_, out, _ := run("help", "train-file")
	assert.LessOrEqual(t, strings.Count(out, "\n"), 50)
	for _, p := range places() {
		assert.Contains(t, out, "\n  "+p.words+" ")
		code, part, stderr := run("help", "train-file", p.words)
		require.Equal(t, exitDone, code, stderr)
		assert.Contains(t, part, p.table.Header)
		for _, k := range p.table.Keys {
			assert.Contains(t, part, "\n  "+k.Name+"  ", p.words)
		}
	}
	for words, want := range map[string]string{
		"machine.feet": "[[machine.foot]]: a foot", "machines": "(leastmove help machine.foot)",
		"machine.foot.bolt": "name of a coarse thread", "least_move": "[aim] (leastmove help aim)",
		"train-file errors": "[errors]: errors of what was found", "[[coupling]]": "(leastmove help coupling.limit)",
	} {
		code, part, stderr := run(append([]string{"help"}, strings.Fields(words)...)...)
		assert.Equal(t, exitDone, code, "%s: %s", words, stderr)
		assert.Contains(t, part, want, words)
	}
	_, _, stderr := run("help", "train-file", "machine.foto")
	assert.Contains(t, stderr, "did you mean machine.foot?")
	_, whole, _ := run("help", "train-file", "all")
	_, asCommand, _ := run("train-file", "all")
	assert.Equal(t, whole, asCommand)
}

// `help train-file all` has every table and every key with its range, default and
// meaning, whatever the tables are.
func TestHelpHasEveryKey(t *testing.T) {
	_, out, _ := run("help", "train-file", "all")
	flat := strings.Join(strings.Fields(out), " ")
	for _, table := range trainfile.Tables() {
		assert.Contains(t, flat, table.Header+": "+strings.Join(strings.Fields(table.Doc), " ")+".")
		for _, k := range table.Keys {
			assert.Contains(t, flat, " "+k.Name+" "+k.Form(), table.Header)
			assert.Contains(t, flat, strings.Join(strings.Fields(k.Doc), " "), k.Name)
			for _, u := range []train.Units{train.Millimetres, train.Inches} {
				assert.Contains(t, flat, k.Allowed(u), k.Name)
				assert.Contains(t, flat, k.Default[u], k.Name)
			}
		}
	}
}

// `help limits` speaks of every kind of limit that there is.
func TestHelpHasEveryLimit(t *testing.T) {
	_, out, _ := run("help", "limits")
	kinds := train.LimitKinds()
	assert.Greater(t, len(kinds), 10)
	for _, k := range kinds {
		word := string(k)
		if k == train.LimitSteps {
			word = "step"
		}
		assert.Contains(t, out, word)
	}
	for _, b := range trainfile.Bounds() {
		assert.Contains(t, out, b.What)
	}
}

func TestHelpOfNothing(t *testing.T) {
	code, _, stderr := run("help", "train-fiel")
	assert.Equal(t, exitInput, code)
	assert.Contains(t, stderr, "did you mean train-file?")
	code, out, _ := run("signs")
	assert.Equal(t, exitDone, code, "a topic without the word help")
	assert.Contains(t, out, "Offset: + is high or left")
}

// A word of the trade leads to its part of the manual, in one word or more; one that is spoken
// of in some part is told where; help of a command has its page of the manual.
func TestHelpOfWords(t *testing.T) {
	for words, want := range map[string]string{
		"reverse dials": "Reverse dials are two rims", "bolt-bound": "a bolt-bound foot", "base-bound": "a base-bound foot",
		"soft foot": "is filled first", "soft-foot": "is filled first", "gear": "two `[[machine.shaft]]`",
		"tolerance": "Limits that a train can state", "units": "0.001 inch",
		"inches": "0.001 inch", "which way": "Right-handed",
		"bolt-bound foot": "a bolt-bound foot", "two gears": "two `[[machine.shaft]]`", "dial signs": "Reverse dials are two rims",
		"plate washer": "leastmove help method: Other plans", "plan": "A chance that is asked for",
	} {
		code, out, stderr := run(append([]string{"help"}, strings.Fields(words)...)...)
		assert.Equal(t, exitDone, code, "%s: %s", words, stderr)
		assert.Contains(t, strings.Join(strings.Fields(out), " "), want, words)
	}
	code, _, stderr := run("help", "nozle")
	assert.Equal(t, exitInput, code)
	assert.Contains(t, stderr, "did you mean leastmove help nozzle?")
}

// The page of help of every command fits 80 columns, flags too.
func TestHelpFitsItsPage(t *testing.T) {
	pages := 0
	for _, c := range Command().Commands() {
		if !c.IsAvailableCommand() {
			continue
		}
		pages++
		_, out, _ := run("help", c.Name())
		for _, line := range strings.Split(out, "\n") {
			assert.LessOrEqual(t, utf8.RuneCountInString(line), 80, "help %s: %s", c.Name(), line)
		}
	}
	assert.Greater(t, pages, 10)
}
