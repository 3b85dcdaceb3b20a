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
	"github.com/spf13/cobra/doc"

	"leastmove/cmd/internal/cli"
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
	for _, name := range []string{"README.md", "LICENSE", "CHANGELOG.md"} {
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
			files = append(files, file{name: filepath.ToSlash(filepath.Join(filepath.Base(folder), filepath.Base(path))),
				text: text})
			return err
		})
		if err != nil {
			return nil, err
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

// manual is a man page for every command and every topic of the help.
func manual(root *cobra.Command, version string, at time.Time) ([]file, error) {
	root.DisableAutoGenTag = true
	var files []file
	var walk func(c *cobra.Command) error
	walk = func(c *cobra.Command) error {
		if c.Hidden || c.Name() == "help" {
			return nil
		}
		c.DisableAutoGenTag = true
		var page bytes.Buffer
		header := &doc.GenManHeader{Section: "1", Date: &at, Source: "leastmove " + version, Manual: "leastmove"}
		if err := doc.GenMan(described(c), header, &page); err != nil {
			return fmt.Errorf("man page of %s: %w", c.CommandPath(), err)
		}
		name := "leastmove.1"
		if c.HasParent() {
			name = "leastmove-" + dashed(c) + ".1"
		}
		files = append(files, file{name: "man/" + name, text: page.Bytes()})
		for _, sub := range c.Commands() {
			if err := walk(sub); err != nil {
				return err
			}
		}
		return nil
	}
	return files, walk(root)
}

// dashed is a command's path below the program.
func dashed(c *cobra.Command) string {
	if !c.Parent().HasParent() {
		return c.Name()
	}
	return dashed(c.Parent()) + "-" + c.Name()
}

// described is the command with its long text as it stands, line by line, and its
// exit codes: the page's maker would read it as Markdown, and knows no codes.
func described(c *cobra.Command) *cobra.Command {
	said := c.Long
	if _, codes, is := strings.Cut(c.HelpTemplate(), "Exit codes:\n"); is && c.Runnable() {
		said += "\n\nExit codes:\n" + strings.TrimRight(codes, "\n")
	}
	var text bytes.Buffer
	for line := range strings.Lines(said) {
		text.WriteString("    ")
		text.WriteString(line)
	}
	if text.Len() > 0 {
		c.Long = "\n" + text.String() + "\n"
	}
	return c
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
