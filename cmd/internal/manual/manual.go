// Package manual holds the manual: one Markdown page a task and one a
// reference. README links to the same files; the help and the man pages are made
// from them.
package manual

import "embed"

// Pages are the manual's pages, NAME.md each.
//
//go:embed *.md
var Pages embed.FS

// A Topic is a page of the manual.
type Topic struct {
	Name  string // of its file, without .md, and of the topic of the help
	About string // what it is about, in a few words
}

// Topics are the pages in the order in which they are read: tasks first, then references.
func Topics() []Topic {
	return []Topic{
		{"commands", "what each command does, and the exit codes"},
		{"start", "a train file to start from, and what few trains need"},
		{"editors", "editors that complete and check a train file"},
		{"readings", "dials and reverse dials, rim and face, surveys: what to read and write"},
		{"plan", "the page of a plan, a chance that is asked for, a plan of your own"},
		{"no-plan", "where no plan exists: the conflict and the options"},
		{"explore", "a page in the browser to ask \"what if\""},
		{"compare", "ways to move the train, side by side"},
		{"report", "all that is known of a plan as one page with figures"},
		{"sheet", "the crew's work order"},
		{"after", "after the moves: what became of the plan"},
		{"examples", "trains to try, one story each"},
		{"signs", "directions, signs and units"},
		{"train-file", "every key of the train file, with unit, range and default"},
		{"model", "what is computed, in equations"},
		{"method", "how a plan is found, and what is proven of it"},
		{"json", "JSON: every key of what commands write for programs"},
		{"validation", "how it is checked, against what, with which results"},
	}
}

// text is a page's Markdown; "" where there is no such page.
func text(name string) string {
	page, err := Pages.ReadFile(name + ".md")
	if err != nil {
		return ""
	}
	return string(page)
}
