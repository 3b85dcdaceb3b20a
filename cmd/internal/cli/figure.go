package cli

import (
	"fmt"
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
	format := strings.TrimPrefix(strings.ToLower(filepath.Ext(path)), ".")
	if !slices.Contains(chart.Formats(), format) {
		return nil, &ending{exitInput, fmt.Errorf("--chart: %s does not end in .svg, .png or .pdf", path)}
	}
	out, err := s.output("--chart", path)
	if err != nil {
		return nil, err
	}
	if same(out.path, result.path) {
		return nil, &ending{exitInput, fmt.Errorf("--chart: %s is where the result goes", path)}
	}
	return &figure{out, format}, nil
}

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
