package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strings"

	"github.com/BurntSushi/toml"
)

// A fault is one change of the code.
type fault struct {
	What string
	// In is the folder below the top of the project that the file with Old is
	// found in, however deep.
	In    string
	Old   string // stands once in one file below In
	New   string
	Tests []string // names of tests of which one must fail, in any package
}

func read(name string) ([]fault, error) {
	var file struct{ Fault []fault }
	meta, err := toml.DecodeFile(name, &file)
	if unknown := meta.Undecoded(); err == nil && len(unknown) > 0 {
		err = fmt.Errorf("%s: unknown key %s", name, unknown[0])
	}
	return file.Fault, err
}

// code is the text of every Go file by its path from the top of the project.
type code map[string]string

// readCode reads the Go files of the packages below a folder; folders named
// testdata hold none.
func readCode(top string) (code, error) {
	all := code{}
	err := fs.WalkDir(os.DirFS(top), ".", func(name string, entry fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case entry.IsDir() && (entry.Name() == "testdata" || len(name) > 1 && entry.Name()[0] == '.'):
			return fs.SkipDir
		case entry.IsDir() || path.Ext(name) != ".go":
			return nil
		}
		text, err := os.ReadFile(filepath.Join(top, filepath.FromSlash(name)))
		all[name] = string(text)
		return err
	})
	return all, err
}

// within is how often a text stands in each file below a folder that is not a test's.
func (c code) within(folder, text string) map[string]int {
	times := map[string]int{}
	for name, all := range c {
		if strings.HasSuffix(name, "_test.go") || !strings.HasPrefix(name, folder+"/") {
			continue
		}
		if n := strings.Count(all, text); n > 0 {
			times[name] = n
		}
	}
	return times
}

// file is the one that the fault goes into.
func (f fault) file(c code) (string, error) {
	if f.In == "" || f.Old == "" || f.Old == f.New {
		return "", errors.New("a fault needs a folder, an old text and another new one")
	}
	var places []string
	total := 0
	for name, n := range c.within(f.In, f.Old) {
		places = append(places, name)
		total += n
	}
	slices.Sort(places)
	switch {
	case total == 1:
		return places[0], nil
	case total > 1:
		return "", fmt.Errorf("its old text stands %d times below %s, in %s: make it longer",
			total, f.In, strings.Join(places, ", "))
	}
	for name, all := range c {
		if strings.Contains(all, f.Old) {
			places = append(places, name)
		}
	}
	slices.Sort(places)
	if len(places) > 0 {
		return "", fmt.Errorf("stale: nothing below %s has its old text, but %s has",
			f.In, strings.Join(places, ", "))
	}
	return "", fmt.Errorf("stale: no file has its old text any more: %s", f.Old)
}

// packages are those that have the fault's tests.
func (f fault) packages(c code) ([]string, error) {
	var all []string
	for _, test := range f.Tests {
		has := regexp.MustCompile(`(?m)^func ` + regexp.QuoteMeta(test) + `\(`)
		before := len(all)
		for name, text := range c {
			if strings.HasSuffix(name, "_test.go") && has.MatchString(text) {
				all = append(all, "./"+path.Dir(name))
			}
		}
		if len(all) == before {
			return nil, fmt.Errorf("stale: there is no test %s any more", test)
		}
	}
	if len(all) == 0 {
		return nil, errors.New("it names no test")
	}
	slices.Sort(all)
	return slices.Compact(all), nil
}
