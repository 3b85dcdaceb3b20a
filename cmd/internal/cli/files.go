package cli

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
)

// largestFile is the size from which on a file is no train file: one with a
// thousand machines is a tenth of it.
const largestFile = 16 << 20 // bytes

// text is what is in the file.
func (s streams) text(name string) ([]byte, fs.FileInfo, error) {
	in := s.in
	if name != "-" {
		f, err := os.Open(name)
		if err != nil {
			return nil, nil, missing(name, err)
		}
		defer f.Close()
		in = f
	}
	var info fs.FileInfo
	if f, ok := in.(*os.File); ok {
		var err error
		if info, err = f.Stat(); err != nil {
			return nil, nil, err
		}
		if info.IsDir() {
			return nil, nil, fmt.Errorf("%s is a folder, not a train file", name)
		}
	}
	text, err := io.ReadAll(io.LimitReader(in, largestFile+1))
	if err != nil {
		return nil, nil, err
	}
	if len(text) > largestFile {
		return nil, nil, fmt.Errorf("%s is larger than %d MiB: not a train file", name, largestFile>>20)
	}
	return text, info, nil
}

// missing adds to the word on a file that does not exist the nearest train
// file beside it.
func missing(name string, err error) error {
	if !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	folder := filepath.Dir(name)
	files, _ := os.ReadDir(folder) // without it there is only no hint
	kind := ".toml"
	if strings.HasPrefix(filepath.Ext(name), ".js") {
		kind = ".json"
	}
	var names []string
	for _, f := range files {
		if strings.HasSuffix(f.Name(), kind) {
			names = append(names, f.Name())
		}
	}
	slices.Sort(names)
	err = fmt.Errorf("there is no file %s", name)
	if near := nearest(filepath.Base(name), names); near != "" {
		return fmt.Errorf("%w\n  did you mean %s?", err, filepath.Join(folder, near))
	}
	return err
}
