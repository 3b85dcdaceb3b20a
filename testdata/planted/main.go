// Planted plants faults in the code, one at a time, and says whether the tests
// notice: go run ./testdata/planted from the top of the project. Nothing in the
// checkout is changed (go test -overlay). Each takes some seconds where its tests are named, minutes
// where all of optimize runs.
package main

import (
	"bytes"
	"encoding/json"
	"flag"
	"fmt"
	"log"
	"os"
	"os/exec"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"time"

	"github.com/BurntSushi/toml"
)

// A fault is one change of the code.
type fault struct {
	What string
	File string // from the top of the project
	Old  string // stands once in File
	New  string
	// Tests is an expression of the tests to try before all others, in the package
	// of File; "": none.
	Tests string
}

func main() {
	log.SetFlags(0)
	only := flag.String("only", "", "plant the faults whose words match this `expression`")
	skip := flag.Int("skip", 0, "leave out the first `faults` of the list")
	flag.Parse()
	which, err := regexp.Compile(*only)
	if err != nil {
		log.Fatal(err)
	}
	faults, err := read("testdata/planted/faults.toml")
	if err != nil {
		log.Fatal(err)
	}
	missed, tried := 0, 0
	for _, f := range faults[min(*skip, len(faults)):] {
		if !which.MatchString(f.What) {
			continue
		}
		start := time.Now()
		by, err := f.caught()
		if err != nil {
			log.Printf("%s (%s): %v", f.What, f.File, err)
		}
		tried++
		if by == "" {
			missed++
			by = "NOT CAUGHT"
		}
		fmt.Printf("%-78s %s (%.0f s)\n", f.What, by, time.Since(start).Seconds())
	}
	fmt.Printf("%d faults planted, %d caught\n", tried, tried-missed)
	if missed > 0 {
		os.Exit(1)
	}
}

func read(name string) ([]fault, error) {
	var file struct{ Fault []fault }
	_, err := toml.DecodeFile(name, &file)
	return file.Fault, err
}

// planted is the file's text with the fault in it.
func (f fault) planted() ([]byte, error) {
	text, err := os.ReadFile(filepath.FromSlash(f.File))
	if err != nil {
		return nil, err
	}
	if n := bytes.Count(text, []byte(f.Old)); n != 1 {
		return nil, fmt.Errorf("the old text stands %d times in %s", n, f.File)
	}
	return bytes.Replace(text, []byte(f.Old), []byte(f.New), 1), nil
}

// caught is the test that fails with the fault; "": none does. Packages are tested
// from the fault's own outwards.
func (f fault) caught() (string, error) {
	text, err := f.planted()
	if err != nil {
		return "", err
	}
	folder, err := os.MkdirTemp("", "planted")
	if err != nil {
		return "", err
	}
	defer os.RemoveAll(folder)
	name, err := filepath.Abs(filepath.FromSlash(f.File))
	if err != nil {
		return "", err
	}
	with := filepath.Join(folder, filepath.Base(name))
	overlay := filepath.Join(folder, "overlay.json")
	replace, err := json.Marshal(map[string]map[string]string{"Replace": {name: with}})
	if err != nil {
		return "", err
	}
	if err := os.WriteFile(with, text, 0o666); err != nil {
		return "", err
	}
	if err := os.WriteFile(overlay, replace, 0o666); err != nil {
		return "", err
	}
	runs := outwards("./" + path.Dir(f.File))
	if f.Tests != "" {
		runs = slices.Insert(runs, 0, []string{runs[0][0], "-run", f.Tests})
	}
	for _, run := range runs {
		out, err := exec.Command("go", append([]string{"test", "-vet=off", "-failfast", "-timeout", "15m", "-overlay", overlay}, run...)...).CombinedOutput()
		if err == nil {
			continue
		}
		if by := failed(string(out)); by != "" {
			return by, nil
		}
		return "", fmt.Errorf("%v: %s", err, out)
	}
	return "", nil
}

// outwards are the packages to test, nearest first.
func outwards(own string) [][]string {
	list := [][]string{{own}, {"./train/...", "./bolts/..."}, {"./optimize/..."}, {"./cmd/..."}}
	return slices.CompactFunc(list, func(a, b []string) bool { return slices.Equal(a, b) })
}

// failed is the first test that failed; "" where the packages were not even
// built.
func failed(out string) string {
	if strings.Contains(out, "[build failed]") || strings.Contains(out, "[setup failed]") {
		return ""
	}
	m := regexp.MustCompile(`(?m)^--- FAIL: (\S+)`).FindStringSubmatch(out)
	if m != nil {
		return m[1]
	}
	if strings.Contains(out, "panic: test timed out") {
		return "a test that did not end"
	}
	if strings.Contains(out, "panic:") {
		return "a panic"
	}
	return ""
}
