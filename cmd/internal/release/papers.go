package main

import (
	"bytes"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"leastmove/cmd/internal/cli"
	"leastmove/cmd/internal/doc"
)

// A file is one of an archive.
type file struct {
	name    string // with strokes, below the archive's folder
	text    []byte
	program bool // may be run
}

// papers are the files beside the program, the same for every system.
func papers(version string, at time.Time) ([]file, error) {
	var files []file
	for _, name := range []string{"README.md", "LICENSE", "CHANGELOG.md", "DEVELOPERS.md"} {
		text, err := os.ReadFile(name)
		if err != nil {
			return nil, err
		}
		files = append(files, file{name: name, text: text})
	}
	for _, folder := range []string{"examples", "testdata/schema", "cmd/internal/manual"} {
		err := filepath.WalkDir(folder, func(path string, d fs.DirEntry, err error) error {
			if err != nil || d.IsDir() || filepath.Ext(path) == ".go" {
				return err
			}
			text, err := os.ReadFile(path)
			below, _ := filepath.Rel(filepath.Dir(folder), path)
			files = append(files, file{name: filepath.ToSlash(below), text: text})
			return err
		})
		if err != nil {
			return nil, err
		}
	}
	for n, f := range files {
		if filepath.Ext(f.name) == ".md" {
			files[n].text = relinked(f.text)
		}
	}
	pages, err := manual(cli.Command(), version, at)
	if err != nil {
		return nil, err
	}
	scripts, err := completions(cli.Command())
	if err != nil {
		return nil, err
	}
	return append(append(files, pages...), scripts...), nil
}

// relinked is a Markdown page whose links lead to where an archive has the files: folders of
// the repository stand at its top.
func relinked(page []byte) []byte {
	return []byte(strings.NewReplacer("](cmd/internal/manual", "](manual", "](../../../", "](../").Replace(string(page)))
}

// manual is a man page for every command and every topic of the help.
func manual(root *cobra.Command, version string, at time.Time) ([]file, error) {
	root.DisableAutoGenTag = true
	var files []file
	var walk func(c *cobra.Command) error
	walk = func(c *cobra.Command) error {
		if c.Hidden || c.Name() == "help" {
			return nil
		}
		page, err := manPage(c, "leastmove "+version, at)
		if err != nil {
			return fmt.Errorf("man page of %s: %w", c.CommandPath(), err)
		}
		name := "leastmove.1"
		if c.HasParent() {
			name = "leastmove-" + dashed(c) + ".1"
		}
		files = append(files, file{name: "man/" + name, text: page})
		for _, sub := range c.Commands() {
			if err := walk(sub); err != nil {
				return err
			}
		}
		return nil
	}
	return files, walk(root)
}

// manPage is that of a command, its page of the manual at the end where it has one, or of a topic.
func manPage(c *cobra.Command, source string, at time.Time) ([]byte, error) {
	head := doc.ManHead{
		Name: "leastmove", About: c.Short, Date: at.Format(time.DateOnly), Source: source, Manual: "leastmove",
	}
	if c.HasParent() {
		head.Name += "-" + dashed(c)
	}
	var out bytes.Buffer
	topic := cli.Topic(c.Name())
	if c.IsAdditionalHelpTopicCommand() {
		err := topic.Man(&out, head)
		return out.Bytes(), err
	}
	if err := described(c).Man(&out, head); err != nil {
		return nil, err
	}
	if topic != nil {
		if err := topic.ManSections(&out); err != nil {
			return nil, err
		}
	}
	return out.Bytes(), nil
}

// dashed is a command's path below the program.
func dashed(c *cobra.Command) string {
	if !c.Parent().HasParent() {
		return c.Name()
	}
	return dashed(c.Parent()) + "-" + c.Name()
}

// described is what the help says of a command, line by line.
func described(c *cobra.Command) *doc.Doc {
	b := &doc.Builder{}
	section := func(heading, text string) {
		if text = strings.Trim(text, "\n"); text != "" {
			b.Heading(heading)
			b.Put(doc.Lines{Lines: strings.Split(strings.ReplaceAll(text, "\t", "    "), "\n")})
		}
	}
	section("Synopsis", c.UseLine())
	section("Description", c.Long)
	section("Examples", c.Example)
	c.InitDefaultHelpFlag()
	section("Options", c.NonInheritedFlags().FlagUsages())
	if _, codes, is := strings.Cut(c.HelpTemplate(), "Exit codes:\n"); is && c.Runnable() {
		section("Exit codes", codes)
	}
	var others []string
	for _, sub := range c.Commands() {
		if !sub.Hidden && sub.Name() != "help" {
			name := strings.ReplaceAll(sub.CommandPath(), " ", "-")
			others = append(others, fmt.Sprintf("%s(1): %s", name, sub.Short))
		}
	}
	section("See also", strings.Join(others, "\n"))
	return &b.Doc
}

// completions are scripts for shells.
func completions(root *cobra.Command) ([]file, error) {
	var files []file
	for _, shell := range []struct {
		name  string
		write func(*bytes.Buffer) error
	}{
		{"leastmove.bash", func(b *bytes.Buffer) error { return root.GenBashCompletionV2(b, true) }},
		{"_leastmove", func(b *bytes.Buffer) error { return root.GenZshCompletion(b) }},
		{"leastmove.fish", func(b *bytes.Buffer) error { return root.GenFishCompletion(b, true) }},
		{"leastmove.ps1", func(b *bytes.Buffer) error { return root.GenPowerShellCompletionWithDesc(b) }},
	} {
		var script bytes.Buffer
		if err := shell.write(&script); err != nil {
			return nil, err
		}
		files = append(files, file{name: "completions/" + shell.name, text: script.Bytes()})
	}
	return files, nil
}
