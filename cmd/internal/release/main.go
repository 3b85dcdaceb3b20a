// Command release makes what is handed out: a static program for each system,
// packed with its pages, and the sums of all. `.ci/release` runs it in a clean
// checkout. The same commit, built by the same Go, gives the same bytes wherever
// and whenever it is built: archives are sorted, belong to nobody, and bear the
// time of the commit.
package main

import (
	"crypto/sha256"
	"flag"
	"fmt"
	"log"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"time"
)

// A target is a system to build for.
type target struct{ system, processor string }

func targets() []target {
	var all []target
	for _, system := range []string{"linux", "darwin", "windows"} {
		for _, processor := range []string{"amd64", "arm64"} {
			all = append(all, target{system, processor})
		}
	}
	return all
}

// program is the name of the program's file.
func (t target) program() string {
	if t.system == "windows" {
		return "leastmove.exe"
	}
	return "leastmove"
}

func main() {
	log.SetFlags(0)
	log.SetPrefix("release: ")
	version := flag.String("version", "", "`name` of the release, in the names of the archives")
	seconds := flag.Int64("time", 0, "`seconds` since 1970 at which the commit was made")
	out := flag.String("o", "dist", "`folder` to write to; it must not be there")
	flag.Parse()
	if *version == "" || *seconds <= 0 || flag.NArg() > 0 {
		flag.Usage()
		os.Exit(2)
	}
	if err := release(*version, time.Unix(*seconds, 0).UTC(), *out); err != nil {
		log.Fatal(err)
	}
}

// release builds, packs and sums up in the folder out, from the working folder.
func release(version string, at time.Time, out string) error {
	if err := os.Mkdir(out, 0o777); err != nil {
		return err
	}
	common, err := papers(version, at)
	if err != nil {
		return err
	}
	var sums strings.Builder
	for _, t := range targets() {
		name := fmt.Sprintf("leastmove-%s-%s-%s", version, t.system, t.processor)
		program, err := build(t)
		if err != nil {
			return err
		}
		files := append([]file{{t.program(), program, true}}, common...)
		pack, suffix := tarball, ".tar.gz"
		if t.system == "windows" {
			pack, suffix = zipped, ".zip"
		}
		packed, err := pack(name, files, at)
		if err != nil {
			return err
		}
		if err := os.WriteFile(filepath.Join(out, name+suffix), packed, 0o666); err != nil {
			return err
		}
		fmt.Fprintf(&sums, "%x  %s\n", sha256.Sum256(packed), name+suffix)
		log.Printf("%s%s, %.1f MB", name, suffix, float64(len(packed))/1e6)
	}
	return os.WriteFile(filepath.Join(out, "sha256sums.txt"), []byte(sums.String()), 0o666)
}

// build is the program for a system.
func build(t target) ([]byte, error) {
	folder, err := os.MkdirTemp("", "leastmove")
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(folder)
	path := filepath.Join(folder, t.program())
	// Go itself stamps version, commit and its date: it takes them from the
	// checkout, and refuses to build where it can't.
	args := []string{"build", "-trimpath", "-buildvcs=true", "-ldflags=-s -w", "-o", path}
	if t.processor == "arm64" {
		// There Go may join x*y + z into one step that rounds once. Searches then
		// take other ways than on amd64; without it results are the same to the byte.
		args = append(args, "-gcflags=all=-d=fmahash=n")
	}
	c := exec.Command("go", append(args, "./cmd/leastmove")...)
	c.Env = append(os.Environ(), "CGO_ENABLED=0", "GOOS="+t.system, "GOARCH="+t.processor, "GOAMD64=v1", "GOARM64=v8.0",
		"GOFLAGS=-mod=readonly")
	// Told to leave sums unjoined, the compiler says so of each.
	if said, err := c.CombinedOutput(); err != nil {
		return nil, fmt.Errorf("%s/%s: %w\n%s", t.system, t.processor, err, told(string(said)))
	}
	return os.ReadFile(path)
}

// told is what a failed build said, but for its word on sums.
func told(said string) string {
	var lines []string
	for _, line := range strings.Split(said, "\n") {
		if !strings.Contains(line, "[DISABLED]") {
			lines = append(lines, line)
		}
	}
	return strings.Join(lines, "\n")
}
