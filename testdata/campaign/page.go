package main

import (
	"cmp"
	"fmt"
	"io"
	"math"
	"slices"
	"strings"
	"time"
)

// A line of a table says one thing and its value.
type line struct{ what, value string }

// A page is the Markdown being written.
type page struct{ io.Writer }

func (p page) heading(format string, args ...any) {
	fmt.Fprintf(p, "\n## "+format+"\n\n", args...)
}

// table writes a table whose first column is text and whose others are
// numbers.
func (p page) table(head []string, rows [][]string) {
	fmt.Fprintf(p, "| %s |\n|---%s|\n", strings.Join(head, " | "), strings.Repeat("|---:", len(head)-1))
	for _, r := range rows {
		fmt.Fprintf(p, "| %s |\n", strings.Join(r, " | "))
	}
}

func (p page) lines(lines []line) {
	var rows [][]string
	for _, l := range lines {
		rows = append(rows, []string{l.what, l.value})
	}
	p.table([]string{"", ""}, rows)
}

// median is the middle of a list, NaN of an empty one.
func median(v []float64) float64 {
	if len(v) == 0 {
		return math.NaN()
	}
	s := slices.Sorted(slices.Values(v))
	return (s[(len(s)-1)/2] + s[len(s)/2]) / 2
}

// seconds runs something so many times and gives the median time in s.
func seconds(runs int, f func()) float64 {
	var t []float64
	for range runs {
		start := time.Now()
		f()
		t = append(t, time.Since(start).Seconds())
	}
	return median(t)
}

// ms is a time in s as text.
func ms(s float64) string {
	switch {
	case math.IsNaN(s):
		return "-"
	case s < 0.1:
		return fmt.Sprintf("%.2f ms", 1000*s)
	case s < 1:
		return fmt.Sprintf("%.0f ms", 1000*s)
	}
	return fmt.Sprintf("%.1f s", s)
}

func times(r float64) string {
	if math.IsNaN(r) {
		return "-"
	}
	return fmt.Sprintf("%.3g", r)
}

func percent(v float64) string { return fmt.Sprintf("%.1e", v) }

// part is a count as a share of another.
func part(n, of int) string {
	if of == 0 {
		return "-"
	}
	return fmt.Sprintf("%d of %d (%.1f %%)", n, of, 100*float64(n)/float64(of))
}

// counts lists how often each thing was seen, in the order of the things.
func counts[K cmp.Ordered](m map[K]int) string {
	var keys []K
	for k := range m {
		keys = append(keys, k)
	}
	slices.Sort(keys)
	var out []string
	for _, k := range keys {
		out = append(out, fmt.Sprintf("%v: %d", k, m[k]))
	}
	if out == nil {
		return "-"
	}
	return strings.Join(out, ", ")
}
