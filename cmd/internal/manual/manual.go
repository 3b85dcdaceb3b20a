// Package manual holds the manual: one Markdown page a task and one a
// reference. README links to the same files.
package manual

import "embed"

// Pages are the manual's pages, NAME.md each.
//
//go:embed *.md
var Pages embed.FS

// Order is the order in which the pages are read: tasks first, then references.
func Order() []string {
	return []string{
		"commands", "start", "editors", "readings", "plan", "no-plan", "compare", "report", "sheet", "after",
		"signs", "train-file", "model", "method", "json", "validation",
	}
}
