package cli

import (
	"errors"
	"fmt"
	"io/fs"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"syscall"

	"golang.org/x/term"

	"leastmove/cmd/internal/pages"
	"leastmove/cmd/internal/view"
)

// An output is where a result goes: a file, or the standard output where the
// path is "".
type output struct {
	path string
	mode fs.FileMode // of the file that is there; 0: none is
	odd  bool        // a device or a pipe: nothing to write beside and rename
}

// output looks at the place of a result before the work begins, so that a
// slip in the flag costs no planning.
func (s *source) output(flag, path string) (output, error) {
	if path == "" || path == "-" {
		return output{}, nil
	}
	refuse := func(format string, args ...any) (output, error) {
		return output{}, refused(flag+": "+format, args...)
	}
	info, err := os.Stat(path)
	if errors.Is(err, fs.ErrNotExist) {
		if _, err := os.Lstat(path); err == nil {
			return refuse("%s is a link to nothing", path)
		}
		if folder, err := os.Stat(filepath.Dir(path)); err != nil || !folder.IsDir() {
			return refuse("there is no folder %s", filepath.Dir(path))
		}
		return output{path: path}, nil
	}
	switch {
	case errors.Is(err, syscall.ENOTDIR):
		return refuse("%s can't be written: a part of that path is a file, not a folder", path)
	case errors.Is(err, fs.ErrPermission):
		return refuse("%s can't be written: you may not look into the folder", path)
	case err != nil:
		return refuse("%s can't be written: %w", path, err)
	case info.IsDir():
		return refuse("%s is a folder", path)
	case s.info != nil && os.SameFile(info, s.info) && info.Mode().IsRegular():
		return refuse("%s is the train file itself", path)
	case s.bands != nil && os.SameFile(info, s.bands) && info.Mode().IsRegular():
		return refuse("%s is the file of bands", path)
	case slices.ContainsFunc(s.read, func(r fs.FileInfo) bool { return os.SameFile(info, r) }):
		return refuse("%s holds readings that the train file names", path)
	case !info.Mode().IsRegular():
		return output{path: path, odd: true}, nil
	}
	whole, err := filepath.EvalSymlinks(path)
	if err != nil {
		return refuse("%w", err)
	}
	// A rename needs no right to write the file itself; whoever took that
	// right away meant the file to stay.
	f, err := os.OpenFile(whole, os.O_WRONLY, 0)
	if err != nil {
		return refuse("%w", err)
	}
	f.Close()
	return output{path: whole, mode: info.Mode().Perm()}, nil
}

// write puts the result in its place, whole or not at all.
func (o output) write(s streams, result []byte) error { return s.place(placed{o, result}) }

// A placed is a result and where it goes.
type placed struct {
	output
	result []byte
}

// renamed says whether a result is written beside its place and renamed.
func (o output) renamed() bool { return o.path != "" && !o.odd }

// replaces says whether a result goes over a file that is there.
func (o output) replaces() bool { return o.renamed() && o.mode != 0 }

// place puts results in their places, all of them whole or none: files are written
// beside the ones that are meant, and renamed once everything else has gone well.
func (s streams) place(results ...placed) (err error) {
	var beside []string // of each file, in order
	defer func() {
		if err != nil {
			for _, b := range beside {
				os.Remove(b)
			}
			err = &ending{exitFault, fmt.Errorf("the result could not be written: %w", err)}
		}
	}()
	for _, r := range results {
		if !r.renamed() {
			continue
		}
		b := filepath.Join(filepath.Dir(r.path), fmt.Sprintf(".leastmove-%016x", rand.Uint64()))
		err := pour(b, os.O_WRONLY|os.O_CREATE|os.O_EXCL, r.result)
		if errors.Is(err, fs.ErrExist) {
			return err
		}
		beside = append(beside, b)
		if err == nil && r.mode != 0 {
			err = os.Chmod(b, r.mode)
		}
		if err != nil {
			return err
		}
	}
	for _, r := range results {
		switch {
		case r.path == "":
			_, err = s.out.Write(r.result)
		case r.odd:
			err = pour(r.path, os.O_WRONLY, r.result)
		}
		if err != nil {
			return err
		}
	}
	for _, r := range results {
		if !r.renamed() {
			continue
		}
		if err := os.Rename(beside[0], r.path); err != nil {
			return err
		}
		beside = beside[1:]
	}
	return nil
}

func pour(path string, how int, result []byte) error {
	f, err := os.OpenFile(path, how, 0o666)
	if err != nil {
		return err
	}
	_, err = f.Write(result)
	if err == nil && how&os.O_CREATE != 0 {
		err = f.Sync()
	}
	return errors.Join(err, f.Close())
}

// widestPage is the most columns that a page of text has on a terminal. On one
// narrower than pages.Narrowest lines run on.
const widestPage = 100

// page is the layout that suits the output.
func (o output) page(s streams, src *source) pages.Page {
	layout := pages.Page{Input: view.Input{Warnings: src.warnings()}}
	if f, ok := s.out.(*os.File); ok && o.path == "" && isTerminal(s.out) {
		if width, _, err := term.GetSize(int(f.Fd())); err == nil && width > 0 {
			layout.Width = min(max(width, pages.Narrowest), widestPage)
		}
	}
	return layout
}

// isTerminal says whether a stream is one.
func isTerminal(stream any) bool {
	f, ok := stream.(*os.File)
	return ok && term.IsTerminal(int(f.Fd()))
}
