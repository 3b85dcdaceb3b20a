package main

import (
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A list that has fallen behind the code would plant nothing.
func TestEveryFaultCanBePlanted(t *testing.T) {
	faults, err := read("faults.toml")
	require.NoError(t, err)
	code, err := readCode("../..")
	require.NoError(t, err)
	assert.GreaterOrEqual(t, len(faults), 82)
	words := map[string]bool{}
	for _, f := range faults {
		_, err := f.file(code)
		assert.NoError(t, err, f.What)
		_, err = f.packages(code)
		assert.NoError(t, err, f.What)
		assert.False(t, words[f.What], "two faults in the same words: %s", f.What)
		words[f.What] = true
	}
}

// A text is found wherever it is below its folder, and stale ones are told apart.
func TestFaultsAreFoundByTheirText(t *testing.T) {
	c := code{
		"train/deep/down/motion.go": "a = b",
		"train/forms.go":            "c = d; c = d",
		"train/motion_test.go":      "a = b\nfunc TestMotion(t *testing.T) {",
		"bolts/holes.go":            "a = b; e = f",
	}
	f := fault{In: "train", Old: "a = b", New: "a = -b", Tests: []string{"TestMotion"}}
	file, err := f.file(c)
	require.NoError(t, err)
	assert.Equal(t, "train/deep/down/motion.go", file)
	packages, err := f.packages(c)
	require.NoError(t, err)
	assert.Equal(t, []string{"./train"}, packages)
	for _, bad := range []struct {
		old, says string
	}{
		{"c = d", "stands 2 times below train, in train/forms.go"},
		{"e = f", "stale: nothing below train has its old text, but bolts/holes.go has"},
		{"g = h", "stale: no file has its old text any more: g = h"},
		{"", "needs a folder"},
	} {
		_, err := fault{In: "train", Old: bad.old, New: "x"}.file(c)
		assert.ErrorContains(t, err, bad.says)
	}
	_, err = fault{Tests: []string{"TestMotions"}}.packages(c)
	assert.ErrorContains(t, err, "no test TestMotions")
}

// The page that is written can be read again: rows of faults that are not planted
// this time stay.
func TestPageIsReadBack(t *testing.T) {
	name := filepath.Join(t.TempDir(), "page.md")
	faults := []fault{{What: "sign: one"}, {What: "sign: two"}, {What: "three"}}
	found := map[string]result{
		"sign: one": {"train/a.go", "TestA"},
		"three":     {"b.go", "NOT CAUGHT"},
		"gone":      {"c.go", "TestC"},
	}
	require.NoError(t, writePage(name, faults, found))
	delete(found, "gone")
	assert.Equal(t, found, readPage(name))
}
