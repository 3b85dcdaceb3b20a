package main

import (
	"fmt"
	"os"
	"regexp"
	"strings"
)

// A result says where a fault was planted and which test failed.
type result struct{ file, by string }

const preamble = `# Faults planted in the code

Written by ` + "`go run ./testdata/planted`" + `, which plants the faults of faults.toml one at a time and runs
the tests that each names. A test in the last column failed with the fault in place; it need
not be the only one that does. ` + "`-only EXPRESSION`" + ` plants some of them and writes their rows anew.

A fault's file is found by its old text, so moving code to another file does not matter. Where
the text itself changed, ` + "`go test ./testdata/planted`" + ` says which fault is stale.

| fault | planted in | caught by |
|---|---|---|
`

var row = regexp.MustCompile("(?m)^\\| (.+) \\| `(.*)` \\| (.+) \\|$")

// readPage has the results of earlier runs by the fault's words; none where there
// is no page.
func readPage(name string) map[string]result {
	found := map[string]result{}
	text, err := os.ReadFile(name)
	if err != nil {
		return found
	}
	for _, m := range row.FindAllStringSubmatch(string(text), -1) {
		found[m[1]] = result{m[2], strings.Trim(m[3], "`")}
	}
	return found
}

// writePage writes a row for each fault of the list that has ever been planted.
func writePage(name string, faults []fault, found map[string]result) error {
	var b strings.Builder
	b.WriteString(preamble)
	for _, f := range faults {
		if r, ok := found[f.What]; ok {
			by := r.by
			if strings.HasPrefix(by, "Test") {
				by = "`" + by + "`"
			}
			fmt.Fprintf(&b, "| %s | `%s` | %s |\n", f.What, r.file, by)
		}
	}
	return os.WriteFile(name, []byte(b.String()), 0o666)
}
