package main

import (
	"archive/tar"
	"archive/zip"
	"bytes"
	"compress/gzip"
	"io"
	"path"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/cmd/internal/cli"
)

var at = time.Date(2026, 2, 3, 4, 5, 6, 0, time.UTC)

// plain is a man page without its commands and marks.
func plain(page []byte) string {
	s := strings.NewReplacer(`\-`, "-", `\&`, "", `\(ga`, "`", `\(aq`, "'").Replace(string(page))
	return strings.Join(strings.Fields(s), " ")
}

// There is a page for every command and topic, with every flag, the words of the
// help line by line, and the date of the commit.
func TestManual(t *testing.T) {
	pages, err := manual(cli.Command(), "v1.2.3", at)
	require.NoError(t, err)
	byName := map[string]string{}
	for _, p := range pages {
		assert.Contains(t, string(p.text), "2026-02-03", p.name)
		assert.Contains(t, string(p.text), "v1.2.3", p.name)
		byName[p.name] = plain(p.text)
	}
	var walk func(c *cobra.Command, name string)
	walk = func(c *cobra.Command, name string) {
		if c.Hidden || c.Name() == "help" {
			return
		}
		page, is := byName["man/"+name+".1"]
		require.True(t, is, name)
		assert.Contains(t, page, name)
		c.NonInheritedFlags().VisitAll(func(f *pflag.Flag) { assert.Contains(t, page, "--"+f.Name, name) })
		assert.Contains(t, page, strings.Join(strings.Fields(c.Short), " "), name)
		if c.Runnable() {
			assert.Contains(t, page, `.SH "EXIT CODES" .nf 0 `, name)
		}
		for _, sub := range c.Commands() {
			walk(sub, name+"-"+sub.Name())
		}
	}
	walk(cli.Command(), "leastmove")
	assert.Greater(t, len(byName), 8)
	assert.Contains(t, byName["man/leastmove-signs.1"], "A misalignment is the position of the coupling's `to` shaft")
	assert.Contains(t, byName["man/leastmove-plan.1"], `.SH "THE SHORT PAGE, AND THE REST OF IT"`,
		"the manual's page of a command")
	assert.Contains(t, byName["man/leastmove-train-file.1"], "max_pieces a whole number, from 1 to 100.")
}

func TestCompletions(t *testing.T) {
	scripts, err := completions(cli.Command())
	require.NoError(t, err)
	require.Len(t, scripts, 4)
	for _, s := range scripts {
		assert.Contains(t, string(s.text), "__complete", "%s: it asks the program", s.name)
	}
}

// Archives are the same whatever the order of their files, belong to nobody and
// bear the time that they are given.
func TestArchives(t *testing.T) {
	a, b := file{"b/second", []byte("two"), false}, file{"a", []byte("one"), true}
	for _, pack := range []func(string, []file, time.Time) ([]byte, error){tarball, zipped} {
		first, err := pack("x", []file{a, b}, at)
		require.NoError(t, err)
		again, err := pack("x", []file{b, a}, at)
		require.NoError(t, err)
		assert.Equal(t, first, again)
	}
	packed, err := tarball("x", []file{a, b}, at)
	require.NoError(t, err)
	shrunk, err := gzip.NewReader(bytes.NewReader(packed))
	require.NoError(t, err)
	assert.True(t, shrunk.ModTime.IsZero())
	in, names := tar.NewReader(shrunk), []string{}
	for {
		h, err := in.Next()
		if err == io.EOF {
			break
		}
		require.NoError(t, err)
		names = append(names, h.Name)
		assert.Zero(t, h.Uid+h.Gid)
		assert.Empty(t, h.Uname+h.Gname)
		assert.True(t, h.ModTime.Equal(at), h.ModTime)
		assert.Equal(t, h.Name == "x/a", h.Mode&0o100 != 0, "the program may be run, a page may not")
	}
	assert.Equal(t, []string{"x/a", "x/b/second"}, names)
	packed, err = zipped("x", []file{a, b}, at)
	require.NoError(t, err)
	z, err := zip.NewReader(bytes.NewReader(packed), int64(len(packed)))
	require.NoError(t, err)
	require.Len(t, z.File, 2)
	assert.Equal(t, "x/a", z.File[0].Name)
	assert.True(t, z.File[0].Modified.Equal(at))
}

func TestTold(t *testing.T) {
	assert.Equal(t, "a\nfault", told("a\n[DISABLED] [bisect-match 0x1]\nfmahash triggered [DISABLED] 01\nfault"))
}

// Every link of the pages in an archive leads to a file of the archive, or to the web, and no
// file is there twice.
func TestLinksOfArchive(t *testing.T) {
	t.Chdir("../../..")
	files, err := papers("v1.2.3", at)
	require.NoError(t, err)
	names := map[string]bool{}
	for _, f := range files {
		assert.False(t, names[f.name], f.name)
		names[f.name] = true
	}
	link, links := regexp.MustCompile(`\]\(([^)#\s]+)(#[^)]*)?\)`), 0
	for _, f := range files {
		if path.Ext(f.name) != ".md" {
			continue
		}
		for _, m := range link.FindAllStringSubmatch(string(f.text), -1) {
			if strings.Contains(m[1], "://") {
				continue
			}
			links++
			to := path.Join(path.Dir(f.name), m[1])
			folder := slices.ContainsFunc(files, func(f file) bool { return strings.HasPrefix(f.name, to+"/") })
			assert.True(t, names[to] || folder, "%s links to %s", f.name, m[1])
		}
	}
	assert.Greater(t, links, 30)
}
