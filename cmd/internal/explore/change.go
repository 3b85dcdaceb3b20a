package explore

import (
	"fmt"
	"slices"
	"strings"

	"leastmove/train/trainfile/rewrite"
)

// A change is one thing that a case has otherwise than the train file.
type change struct {
	id    int // within a desk
	words string
	set   *rewrite.Setting // a value in the text of the file; nil: none
	flags []string         // of the command; nil: none
	plan  []byte           // moves typed by hand, JSON; nil: none
	lost  bool             // the file has no place for it any more
}

// about is what a change speaks of: a later one about the same takes its place.
func (c *change) about() string {
	switch {
	case c.set != nil:
		return "set " + strings.Join(c.set.Path, " ")
	case c.plan != nil:
		return "moves"
	case c.flags[0] == "--hold" || c.flags[0] == "--free":
		return "machine " + c.flags[1]
	}
	return c.flags[0]
}

// excludes says whether two changes can't be asked for together.
func (c *change) excludes(o *change) bool {
	of := func(c *change) string {
		if c.flags == nil {
			return ""
		}
		return c.flags[0]
	}
	a, b := of(c), of(o)
	pair := func(x, y string) bool { return a == x && b == y || a == y && b == x }
	planned := func(f string) bool { return f == "--strategy" || f == "--assure" || f == "--relieve" }
	return c.about() == o.about() || pair("--assure", "--use") || pair("--assure", "--strategy") ||
		c.plan != nil && planned(b) || o.plan != nil && planned(a) ||
		a != "--relieve" && b == "--relieve" // an option is one of the list that the changes before it gave
}

// A case is a train file with changes, by a name.
type acase struct {
	name    string
	changes []*change
	own     *source // a file of its own: the train after some of the moves; nil: that of the page
}

// with is the same case with other changes.
func (c *acase) with(changes []*change) *acase { return &acase{c.name, changes, c.own} }

// on is the file that the changes are made to.
func (c *acase) on(base *source) *source {
	if c.own != nil {
		return c.own
	}
	return base
}

// add makes a change, in the place of those that it excludes.
func (c *acase) add(n *change) {
	c.changes = slices.DeleteFunc(slices.Clone(c.changes), func(o *change) bool { return n.excludes(o) })
	c.changes = append(c.changes, n)
}

// drop takes a change back.
func (c *acase) drop(id int) {
	c.changes = slices.DeleteFunc(slices.Clone(c.changes), func(o *change) bool {
		return o.id == id || len(o.flags) > 0 && o.flags[0] == "--relieve" // as above
	})
}

// question is what a case asks of a text. Changes for which it has no place are left out, and
// say so.
func (c *acase) question(base *source) *Question {
	base = c.on(base)
	q := &Question{Text: base.text, Files: base.Files}
	var all []rewrite.Setting
	for _, ch := range c.changes {
		ch.lost = false
		if ch.set != nil {
			if _, err := base.fields.With(append(slices.Clone(all), *ch.set)); err != nil {
				ch.lost = true
				continue
			}
			all = append(all, *ch.set)
		}
		if ch.plan != nil {
			q.Plan = ch.plan
		}
		q.Flags = append(q.Flags, ch.flags...)
	}
	if all != nil {
		if text, err := base.fields.With(all); err == nil {
			q.Text = []byte(text)
		}
	}
	return q
}

// command is the command line that gives what a question is answered with.
func command(file string, q *Question, edited bool) string {
	if edited {
		file = caseFile(file)
	}
	words := []string{"leastmove", "plan", quoted(file)}
	for _, f := range q.Flags {
		words = append(words, quoted(f))
	}
	if q.Plan != nil {
		words = append(words, "--plan", quoted(strings.TrimSuffix(file, ".toml")+".moves.json"))
	}
	return strings.Join(words, " ")
}

// caseFile is the name of a train file with the changes of a case.
func caseFile(file string) string { return strings.TrimSuffix(file, ".toml") + "-case.toml" }

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
