package cli

import (
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"github.com/spf13/cobra"

	"leastmove/cmd/internal/doc"
	"leastmove/cmd/internal/manual"
	"leastmove/train/trainfile"
)

// limitsTopic is the one topic that is no page of the manual: its bounds are the code's.
const limitsTopic = "limits"

// topics are what `leastmove help` says beside commands: the pages of the manual but those
// that are called as a command is, which its help shows.
func (s streams) topics(commands []*cobra.Command) []*cobra.Command {
	var all []*cobra.Command
	add := func(name, about string) {
		if slices.ContainsFunc(commands, func(c *cobra.Command) bool { return c.Name() == name }) {
			return
		}
		c := &cobra.Command{Use: name, Short: about}
		c.SetHelpFunc(func(c *cobra.Command, _ []string) {
			if err := s.topic(c.Name(), c.Flags().Args()); err != nil {
				c.PrintErrln(err)
			}
		})
		all = append(all, c)
	}
	for _, t := range manual.Topics() {
		add(t.Name, t.About)
	}
	add(limitsTopic, "the limits that a train can state, and how large a file may be")
	return all
}

// topic writes a topic of the help as text. The train file's fits a screen and leads on to each
// table, which words behind the topic may name.
func (s streams) topic(name string, words []string) error {
	if name == keysTopic {
		part, err := keysHelp(strings.Join(words, " "))
		if err != nil {
			return err
		}
		return part.Text(s.out, helpWidth)
	}
	return Topic(name).Text(s.out, helpWidth)
}

// Topic is a topic of the help in full as a document, as a man page has it; nil where there is none.
func Topic(name string) *doc.Doc {
	switch name {
	case limitsTopic:
		return titled("Limits", limitsText())
	case keysTopic:
		return titled(keysTitle, keysText())
	}
	return manual.Page(name)
}

// titled is a document of text that is laid out already.
func titled(title, text string) *doc.Doc {
	lines := doc.Lines{Lines: strings.Split(text, "\n"), Flush: true}
	return &doc.Doc{Title: title, Blocks: []doc.Block{doc.Space{}, lines}}
}

// limitsText is what a train can state and how large a file may be.
func limitsText() string {
	var b strings.Builder
	b.WriteString(`Limits that a train can state. One that it does not state is not kept; a plan
lists those.
  of a foot       what may come out of its pack (lower, keep) and go in (raise),
                  its bolt in its hole (bolt, hole, fit), how far to a side
                  (travel), the soft foot that packs may leave (flat)
  of a machine    how far off level (level: pitch along the train, roll
                  across it), how far a nozzle may go (nozzle), how far it
                  is shifted along the train where no hole bounds that
                  (axial_most of [relief]), that it may not move (hold)
  of a coupling   offset and angle at one plane, or the angle at each flex plane
                  of a spacer, and the distance between shaft ends (limit.gap);
                  what they use in sum, with combined = "sum"; what warm-up in
                  between may use (transient of [aim])
  of the crew     whole steps (step), what packs can be made of (stock,
                  max_pieces), the least move of a foot (least_move)

The most that is read:
`)
	for _, m := range trainfile.Bounds() {
		fmt.Fprintf(&b, "  %8d  %s\n", m.Most, m.What)
	}
	fmt.Fprintf(&b, "  %8d  bytes of a file of readings that a train file names\n", largestBeside)
	fmt.Fprintf(&b, "  %8d  bytes of all of them together\n", mostBeside)
	fmt.Fprintf(&b, "  %8d  bytes of the standard input or of any file\n", largestFile)
	return strings.TrimSuffix(b.String(), "\n")
}

// helpWidth is the width of the help, in characters.
const helpWidth = 80

// wrap writes words in lines; the first begins with one indent, the others with
// the other.
func wrap(b *strings.Builder, first, others, text string) {
	line := first
	for i, word := range strings.Split(text, " ") {
		if i > 0 && utf8.RuneCountInString(line)+1+utf8.RuneCountInString(word) > helpWidth {
			b.WriteString(strings.TrimRight(line, " ") + "\n")
			line = others + word
			continue
		}
		if i > 0 {
			line += " "
		}
		line += word
	}
	b.WriteString(strings.TrimRight(line, " ") + "\n")
}
