package pages

import (
	"fmt"
	"strings"

	"leastmove/cmd/internal/doc"
	"leastmove/cmd/internal/words"
)

// A File is what a page says of the train file.
type File struct {
	Name    string // without its folder
	Text    []byte
	Sum     string // SHA-256, in hexadecimal
	Program string // that wrote the page, with its version
}

const (
	mostText    = 300 << 10 // bytes, the most of a train file that a page has
	mostPrinted = 250       // lines, the most that paper has
)

// part is the train file, line by line, folded on the screen.
func (f File) part() []doc.Block {
	out := part("file", "The train file", "", f.lines())
	out[0].(*doc.Section).Folded = true
	if n := len(f.rows()); n > mostPrinted {
		return notPrinted(out, fmt.Sprintf("%d lines, on the screen; SHA-256 %s", n, f.Sum))
	}
	return out
}

// rows are the lines of the file.
func (f File) rows() []string {
	return strings.Split(strings.TrimRight(strings.ReplaceAll(string(f.Text), "\r\n", "\n"), "\n"), "\n")
}

func (f File) lines() []doc.Block {
	head := lead(f.Program + " read it. The SHA-256 of the file is " + f.Sum + ".")
	if len(f.Text) > mostText {
		return append(head, lead(fmt.Sprintf("The file is left out here: it is larger than %d KiB.", mostText>>10))...)
	}
	text := doc.Lines{Numbered: true}
	for _, line := range f.rows() {
		text.Lines = append(text.Lines, words.Clean(strings.ReplaceAll(line, "\t", "    ")))
	}
	return append(head, text)
}

func (f File) foot() []string {
	return []string{f.Program + ". This page asks for nothing from any network."}
}
