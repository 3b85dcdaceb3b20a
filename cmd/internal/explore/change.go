package explore

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"leastmove/cmd/internal/words"
	"leastmove/train/trainfile/rewrite"
)

// A change is one thing that a case has otherwise than the train file.
type change struct {
	id    int // within a desk
	words string
	short string           // as a name for a case; "": the words
	set   *rewrite.Setting // a value in the text of the file; nil: none
	flags []string         // of the command; nil: none
	plan  []byte           // moves typed by hand, JSON; nil: none
}

// flagged is a change by a flag of the command and its value.
func flagged(flag, value string) *change {
	c := &change{words: strings.TrimPrefix(flag, "--") + " " + words.Clean(value), flags: []string{flag, value}}
	switch flag {
	case "--hold":
		c.words = words.Clean(value) + " may not be moved"
	case "--free":
		c.words = words.Clean(value) + " may be moved"
	case "--strategy":
		c.short = strings.ReplaceAll(short(value), "-", " ")
		c.words = "make least: " + c.short
	case "--use":
		c.short = percent(value) + " of limits"
		c.words = "at most " + percent(value) + " of every coupling limit"
	case "--assure":
		c.short = percent(value) + " chance"
		c.words = "a chance of " + percent(value) + " of ending within limits"
	}
	return c
}

// asked are changes by flags, in the order of a command line.
func asked(flags []string) []*change {
	var out []*change
	for k := 0; k+1 < len(flags); k += 2 {
		out = append(out, flagged(flags[k], flags[k+1]))
	}
	return out
}

// inShort are changes as a name for what they make of a train.
func inShort(all []*change) string {
	const most = 2
	var out []string
	for n, c := range all {
		switch {
		case n == most:
			out = append(out, fmt.Sprintf("%d more", len(all)-most))
		case n > most:
		case c.short != "":
			out = append(out, c.short)
		default:
			out = append(out, c.words)
		}
	}
	return strings.Join(out, ", ")
}

// flag is the flag that a change is made by; "": by none.
func (c *change) flag() string {
	if c.flags == nil {
		return ""
	}
	return c.flags[0]
}

// about is what a change speaks of: a later one about the same takes its place.
func (c *change) about() string {
	switch {
	case c.set != nil:
		return "set " + strings.Join(c.set.Path, " ")
	case c.plan != nil:
		return "moves"
	case c.flag() == "--hold" || c.flag() == "--free":
		return "machine " + c.flags[1]
	}
	return c.flag()
}

// excludes says whether two changes can't be asked for together.
func (c *change) excludes(o *change) bool {
	a, b := c.flag(), o.flag()
	pair := func(x, y string) bool { return a == x && b == y || a == y && b == x }
	planned := func(f string) bool { return f == "--strategy" || f == "--assure" || f == "--relieve" }
	return c.about() == o.about() || pair("--assure", "--use") || pair("--assure", "--strategy") ||
		c.plan != nil && planned(b) || o.plan != nil && planned(a) ||
		a != "--relieve" && b == "--relieve" // an option is one of the list that the changes before it gave
}

// A case is a train file with changes.
type acase struct {
	given   string // its name; "": what the changes say
	changes []*change
	own     *source // a file of its own: the train after some of the moves; nil: that of the page
	asked   bool    // the first of its changes started it: it goes away with the last
	asks    *asks   // what it came to last; nil: not looked at since its changes
}

// An asks is what a case asks of a text.
type asks struct {
	base *source
	q    *Question
	lost map[int]bool
}

// with is the same case with other changes.
func (c *acase) with(changes []*change) *acase {
	return &acase{given: c.given, changes: changes, own: c.own, asked: c.asked}
}

// name is what a case is called.
func (c *acase) name() string {
	switch {
	case c.given != "":
		return c.given
	case len(c.changes) == 0:
		return "nothing asked yet"
	}
	return inShort(c.changes)
}

// on is the file that the changes are made to.
func (c *acase) on(base *source) *source {
	if c.own != nil {
		return c.own
	}
	return base
}

// following is the same case over another text of the file: what that has now is no change.
func (c *acase) following(s *source) *acase {
	if c.own != nil || s.fields == nil {
		return c
	}
	next := c.with(nil)
	for _, ch := range c.changes {
		if ch.set != nil {
			was := s.fields.Value(ch.set.Path...)
			if sameNumber(was, ch.set.Value) {
				continue
			}
			now := *ch
			now.words = ch.short + inFile(was)
			ch = &now
		}
		next.changes = append(next.changes, ch)
	}
	if c.given == "" && len(next.changes) == 0 {
		next.given = inShort(c.changes)
	}
	return next
}

// sameNumber says whether two texts are one number.
func sameNumber(a, b string) bool {
	x, err := strconv.ParseFloat(strings.ReplaceAll(a, "_", ""), 64)
	y, other := strconv.ParseFloat(b, 64)
	return err == nil && other == nil && x == y
}

// inFile is what the file has in the place of a change; "": nothing.
func inFile(was string) string {
	if was == "" {
		return " (not stated in the file)"
	}
	return " (" + was + " in the file)"
}

// add makes a change, in the place of those that it excludes.
func (c *acase) add(n *change) {
	c.changes = slices.DeleteFunc(slices.Clone(c.changes), func(o *change) bool { return n.excludes(o) })
	c.changes, c.asks = append(c.changes, n), nil
}

// drop takes changes back; where there are any, an option with them, as above. false: there are none.
func (c *acase) drop(which func(*change) bool) bool {
	if !slices.ContainsFunc(c.changes, which) {
		return false
	}
	c.asks, c.changes = nil, slices.DeleteFunc(slices.Clone(c.changes), func(o *change) bool {
		return which(o) || o.option()
	})
	return true
}

// option says whether a change is an option by its number.
func (c *change) option() bool { return c.flag() == "--relieve" }

// question is what a case asks of a text.
func (c *acase) question(base *source) *Question {
	q, _ := c.made(base)
	return q
}

// made is what a case asks of a text, and which of its changes, by their numbers, are left out as
// the text has no place for them. Neither is to be changed. The lock is held.
func (c *acase) made(base *source) (q *Question, lost map[int]bool) {
	base = c.on(base)
	if c.asks != nil && c.asks.base == base {
		return c.asks.q, c.asks.lost
	}
	q, lost = &Question{Text: base.text, Files: base.Files}, map[int]bool{}
	defer func() { c.asks = &asks{base, q, lost} }()
	var all []rewrite.Setting
	for _, ch := range c.changes {
		if ch.set != nil {
			with := append(slices.Clone(all), *ch.set)
			text, err := base.fields.With(with)
			if err != nil {
				lost[ch.id] = true
				continue
			}
			all, q.Text = with, []byte(text)
		}
		if ch.plan != nil {
			q.Plan = ch.plan
		}
		q.Flags = append(q.Flags, ch.flags...)
	}
	return q, lost
}

// command is the command line that gives what a question is answered with: of the train file, or of
// that of the case, where values in it are others; with the moves of the case, where some were typed.
func command(file, exported string, q *Question, edited bool) string {
	if edited {
		file = exported + ".toml"
	}
	line := []string{"leastmove", "plan", quoted(file)}
	for _, f := range q.Flags {
		line = append(line, quoted(f))
	}
	if q.Plan != nil {
		line = append(line, "--plan", quoted(exported+".moves.json"))
	}
	return strings.Join(line, " ")
}

// exported is what the files of a case are called, without an ending.
func (c *acase) exported(file string) string {
	word := strings.FieldsFunc(c.name(), func(r rune) bool {
		return !unicode.IsLetter(r) && !unicode.IsDigit(r) && r != '.'
	})
	return strings.TrimSuffix(file, ".toml") + "-" + strings.Join(word, "-")
}

// quoted is a word as a shell takes it for one.
func quoted(s string) string {
	plain := func(r rune) bool {
		return r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r >= '0' && r <= '9' || strings.ContainsRune("-_./=", r)
	}
	if s != "" && strings.IndexFunc(s, func(r rune) bool { return !plain(r) }) < 0 {
		return s
	}
	return fmt.Sprintf("'%s'", strings.ReplaceAll(s, "'", `'\''`))
}
