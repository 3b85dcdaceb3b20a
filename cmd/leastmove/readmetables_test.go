package main

import (
	"fmt"
	"strings"
	"testing"

	"leastmove/train"
	"leastmove/train/trainfile"
)

// The tables of keys and of materials in README are those of the code.
func TestReadmeTables(t *testing.T) {
	file := manualFile("train-file")
	page := readPage(t, file)
	before, _, after := between(t, page, "keys")
	made := before + "\n" + keyTables() + after
	before, _, after = between(t, made, "materials")
	made = before + "\n" + materialTable() + "\n" + after
	rewrite(t, file, page, made)
}

func keyTables() string {
	var b strings.Builder
	tables := trainfile.Tables()
	for i, table := range tables {
		fmt.Fprintf(&b, "## `%s`\n\n%s.\n\n", table.Header, sentence(table.Doc))
		if i > 0 && table.Repeats(tables[i-1]) {
			var names []string
			for _, k := range table.Keys {
				names = append(names, "`"+k.Name+"`")
			}
			fmt.Fprintf(&b, "Any of %s, as in the table above.\n\n", strings.Join(names, ", "))
			continue
		}
		b.WriteString("| key | value | range | default | meaning |\n|---|---|---|---|---|\n")
		for _, k := range table.Keys {
			fmt.Fprintf(&b, "| `%s` | %s | %s | %s | %s |\n", k.Name, value(k), span(k), standard(k),
				strings.ReplaceAll(k.Doc, "|", `\|`))
		}
		b.WriteString("\n")
	}
	return b.String()
}

func sentence(s string) string { return strings.ToUpper(s[:1]) + s[1:] }

// value is what stands behind a key, with its unit in an mm and an inch file.
func value(k trainfile.Key) string {
	unit := k.Unit.In(train.Millimetres)
	if inch := k.Unit.In(train.Inches); inch != unit {
		unit += " / " + inch
	}
	switch k.Kind {
	case trainfile.Number:
		if unit == "" {
			return "number"
		}
		return unit
	case trainfile.Count:
		return "whole number"
	case trainfile.Pair:
		return "two numbers, " + unit
	case trainfile.Numbers:
		return "numbers, " + unit
	case trainfile.Text, trainfile.Word:
		return "text"
	case trainfile.Switch:
		return "true or false"
	case trainfile.Sub:
		return "table"
	case trainfile.Subs:
		return "tables"
	case trainfile.Shares:
		return "table of numbers"
	case trainfile.Names:
		return "names"
	case trainfile.Clock:
		return "table of clock positions, " + unit
	case trainfile.Sweep:
		return "pairs, degrees and " + unit
	}
	panic("a kind of value that README has no word for")
}

// span is the range of a key's numbers in an mm file.
func span(k trainfile.Key) string {
	s := k.Allowed(train.Millimetres)
	unit := k.Unit.In(train.Millimetres)
	return strings.ReplaceAll(strings.TrimSuffix(s, " "+unit), "\"", "`")
}

func standard(k trainfile.Key) string {
	switch {
	case k.Required:
		return "required"
	case k.Default[0] == "":
		return ""
	case k.Default[0] != k.Default[1]:
		return k.Default[0] + " / " + k.Default[1]
	}
	return k.Default[0]
}

func materialTable() string {
	var b strings.Builder
	b.WriteString("| `material` | growth in 1e-6 per °F | in 1e-6 per °C | source |\n|---|---|---|---|\n")
	for _, m := range trainfile.Materials() {
		fmt.Fprintf(&b, "| %s | %.4g | %.4g | %s |\n", strings.Join(m.Names, ", "), m.Coefficient,
			1.8*m.Coefficient, m.Source)
	}
	return b.String()
}
