package cli

import (
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"leastmove/cmd/internal/doc"
	"leastmove/train"
	"leastmove/train/trainfile"
)

// keysTopic is the topic of the help that has the tables and keys of a train file.
const (
	keysTopic = "train-file"
	keysTitle = "The train file, key by key"
)

// A place is a table of a train file as the help names it: "machine.foot".
type place struct {
	words string
	table *trainfile.Table
}

// places are the tables of a train file in the order of the documents, each by the keys that lead
// to it from the top of the file.
func places() []place {
	tables := trainfile.Tables()
	words := map[*trainfile.Table]string{tables[0]: "top"}
	var walk func(t *trainfile.Table, before string)
	walk = func(t *trainfile.Table, before string) {
		for i := range t.Keys {
			k := &t.Keys[i]
			if k.Table != nil && words[k.Table] == "" {
				words[k.Table] = before + k.Name
				walk(k.Table, before+k.Name+".")
			}
		}
	}
	walk(tables[0], "")
	var all []place
	for _, t := range tables {
		if words[t] == "" {
			words[t] = "band-file" // a file of their own
		}
		all = append(all, place{words[t], t})
	}
	return all
}

// keysHelp is what the help has of the train file: the tables, or what some words lead to.
func keysHelp(words string) (*doc.Doc, error) {
	all := places()
	switch found := keysNamed(words); {
	case words == "all":
		return Topic(keysTopic), nil
	case found != nil:
		return found, nil
	case words != "":
		return nil, unknown(fmt.Errorf("a train file has no table or key %q", words), words, namesOf(all))
	}
	var b strings.Builder
	wrap(&b, "", "", "A train file is TOML: keys with values, in tables. leastmove new writes one to start from, with "+
		"a word on every line, and leastmove help start says what to write first.")
	b.WriteString("\nThe tables, each with leastmove help train-file TABLE:\n")
	width := 0
	for _, p := range all {
		width = max(width, utf8.RuneCountInString(p.words))
	}
	for _, p := range all {
		fmt.Fprintf(&b, "  %-*s  %s\n", width, p.words, clause(p.table.Doc, helpWidth-width-4))
	}
	b.WriteString("\nOne key:  leastmove help machine.foot.bolt, or its name alone\n" +
		"All keys: leastmove help train-file all\n")
	return titled(keysTitle, strings.TrimSuffix(b.String(), "\n")), nil
}

// namesOf are the names of tables and of their keys.
func namesOf(all []place) []string {
	var names []string
	for _, p := range all {
		names = append(names, p.words)
		for _, k := range p.table.Keys {
			names = append(names, k.Name)
		}
	}
	return names
}

// clause is as much of a sentence as fits in some columns and ends where it may be cut.
func clause(words string, width int) string {
	for utf8.RuneCountInString(words) > width {
		at := -1
		for _, mark := range []string{"; ", ": ", ", ", " ("} {
			at = max(at, strings.LastIndex(words, mark))
		}
		if at < 0 {
			at = strings.LastIndex(words, " ")
		}
		words = words[:at]
	}
	if open := strings.LastIndex(words, " ("); open > strings.LastIndex(words, ")") {
		words = words[:open]
	}
	return words
}

// keysNamed are the tables that some words name, by the way to them or by the last key of it, or
// the keys; nil where they name neither.
func keysNamed(words string) *doc.Doc {
	asked := singular(words)
	if asked == "" {
		return nil
	}
	all := places()
	var tables, keys strings.Builder
	for _, p := range all {
		if asked == singular(p.words) {
			p.write(&tables, all)
			return titled(keysTitle, strings.Trim(tables.String(), "\n"))
		}
	}
	for _, p := range all {
		way := strings.Split(singular(p.words), ".")
		if asked == way[len(way)-1] {
			p.write(&tables, all)
		}
		for i := range p.table.Keys {
			k := &p.table.Keys[i]
			if name := singular(k.Name); asked == name || asked == singular(p.words)+"."+name {
				fmt.Fprintf(&keys, "\n%s (leastmove help %s)\n", p.table.Header, p.words)
				writeKey(&keys, k)
			}
		}
	}
	text := tables.String()
	if text == "" {
		text = keys.String()
	}
	if text == "" {
		return nil
	}
	return titled(keysTitle, strings.Trim(text, "\n"))
}

// singular are words as they are looked up: small letters, dots between, no plural.
func singular(words string) string {
	parts := strings.FieldsFunc(strings.ToLower(words), func(c rune) bool { return strings.ContainsRune(". []", c) })
	for i, p := range parts {
		switch {
		case p == "feet":
			parts[i] = "foot"
		case !strings.HasSuffix(p, "ss"):
			parts[i] = strings.TrimSuffix(p, "s")
		}
	}
	return strings.Join(parts, ".")
}

// write has a table with all of its keys; a key that holds a table of its own says where that is.
func (p place) write(b *strings.Builder, all []place) {
	b.WriteString("\n")
	wrap(b, "", "", p.table.Header+": "+p.table.Doc+".")
	for i := range p.table.Keys {
		k := p.table.Keys[i]
		if at := slices.IndexFunc(all, func(q place) bool { return k.Table != nil && q.table == k.Table }); at >= 0 {
			k.Doc += " (leastmove help " + all[at].words + ")"
		}
		writeKey(b, &k)
	}
}

func writeKey(b *strings.Builder, k *trainfile.Key) {
	wrap(b, "  ", "      ", k.Name+"  "+said(k)+".")
	wrap(b, "      ", "      ", k.Doc)
}

// keysText is every key of the train file, from the tables that the reader goes
// by.
func keysText() string {
	var b strings.Builder
	b.WriteString("A train file is TOML. Units are those of a file with units = \"mm\"; what an\n" +
		"inch file has stands in brackets.\n")
	tables := trainfile.Tables()
	for i, t := range tables {
		b.WriteString("\n")
		wrap(&b, "", "", t.Header+": "+t.Doc+".")
		if i > 0 && t.Repeats(tables[i-1]) {
			var names []string
			for _, k := range t.Keys {
				names = append(names, k.Name)
			}
			wrap(&b, "  ", "  ", "Any of "+strings.Join(names, ", ")+", as above.")
			continue
		}
		for _, k := range t.Keys {
			writeKey(&b, &k)
		}
	}
	return strings.TrimSuffix(b.String(), "\n")
}

// said is what must stand behind a key, its range and its default.
func said(k *trainfile.Key) string {
	words := k.Form()
	if mm, inch := k.Allowed(train.Millimetres), k.Allowed(train.Inches); mm != "" && k.Kind != trainfile.Word {
		words += ", " + mm
		if inch != mm {
			words += " (" + inch + ")"
		}
	}
	switch d := k.Default; {
	case k.Required:
		words += "; required"
	case d[0] != d[1]:
		words += "; default " + d[0] + " (" + d[1] + ")"
	case d[0] != "":
		words += "; default " + d[0]
	}
	return words
}
