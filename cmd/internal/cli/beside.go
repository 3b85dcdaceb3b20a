package cli

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
)

// largestBeside is the size from which on a file that a train file names holds
// no readings of a dial.
const largestBeside = 1 << 20 // bytes

// mostBeside is how much is read from such files for one train: the same one
// may be named many times.
const mostBeside = 16 << 20 // bytes

// beside reads files in the folder of a train file and below, and no others,
// whatever links there are. Those that it reads are noted.
func beside(train string, named *[]fs.FileInfo) func(string) ([]byte, error) {
	total := int64(0)
	return func(name string) ([]byte, error) {
		if train == "-" {
			return nil, errors.New("a train file from the standard input has no folder")
		}
		if !filepath.IsLocal(name) {
			return nil, errors.New("it is not in the folder of the train file")
		}
		root, err := os.OpenRoot(filepath.Dir(train))
		if err != nil {
			return nil, plainError(err)
		}
		defer root.Close()
		info, err := root.Stat(name)
		switch {
		case err != nil:
			return nil, plainError(err)
		case !info.Mode().IsRegular():
			return nil, errors.New("it is no file")
		case info.Size() > largestBeside:
			return nil, fmt.Errorf("it is larger than %d MiB", largestBeside>>20)
		}
		if total += info.Size(); total > mostBeside {
			return nil, fmt.Errorf("the files that the train file names are larger than %d MiB together", mostBeside>>20)
		}
		text, err := root.ReadFile(name)
		if err != nil {
			return nil, plainError(err)
		}
		*named = append(*named, info)
		return text, nil
	}
}

// escapes is what os.Root says of a link that leads out of it.
const escapes = "path escapes from parent"

// plainError is an error without the path that it speaks of.
func plainError(err error) error {
	var path *fs.PathError
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return errors.New("there is no such file")
	case errors.As(err, &path) && path.Err.Error() == escapes:
		return errors.New("it leads out of the folder of the train file")
	case errors.As(err, &path):
		return path.Err
	}
	return err
}
