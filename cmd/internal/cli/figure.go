package cli

import (
	"os"
	"path/filepath"
	"slices"
	"strings"

	"leastmove/cmd/internal/chart"
)

// A figure is where a figure goes, and its format.
type figure struct {
	output
	format string
}

// figure looks at the place of a figure before the work begins; nil: none is
// asked for. It must be another file than the result's.
func (s *source) figure(path string, result output) (*figure, error) {
	if path == "" {
		return nil, nil
	}
	format, err := drawable("--chart", path)
	if err != nil {
		return nil, err
	}
	out, err := s.output("--chart", path)
	if err != nil {
		return nil, err
	}
	if same(out.path, result.path) {
		return nil, refused("--chart: %s is where the result goes", path)
	}
	return &figure{out, format}, nil
}

// drawable is the format of a figure by the end of its file's name.
func drawable(flag, path string) (string, error) {
	format := suffix(path)
	if !slices.Contains(chart.Formats(), format) {
		return "", refused("%s: %s does not end in .svg, .png or .pdf", flag, path)
	}
	return format, nil
}

// suffix is the end of a file's name that says what is in it, in small letters, without
// its dot.
func suffix(path string) string { return strings.TrimPrefix(strings.ToLower(filepath.Ext(path)), ".") }

// same says whether two paths are one file, whether it is there or not.
func same(a, b string) bool {
	if b == "" {
		return false
	}
	if x, err := os.Stat(a); err == nil {
		if y, err := os.Stat(b); err == nil {
			return os.SameFile(x, y)
		}
	}
	// What is not there yet is one file where folder and name are the same.
	x, errX := os.Stat(filepath.Dir(a))
	y, errY := os.Stat(filepath.Dir(b))
	return errX == nil && errY == nil && os.SameFile(x, y) && filepath.Base(a) == filepath.Base(b)
}
