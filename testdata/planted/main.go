// Planted plants faults in the code, one at a time, and says whether the tests
// that faults.toml names notice: go run ./testdata/planted from the top of the
// project. Nothing in the code is changed (go test -overlay). README.md beside
// this file is written with what was found. Each fault takes some seconds.
package main

import (
	"flag"
	"fmt"
	"log"
	"os"
	"regexp"
	"time"
)

const (
	listed = "testdata/planted/faults.toml"
	page   = "testdata/planted/README.md"
)

func main() {
	log.SetFlags(0)
	only := flag.String("only", "", "plant the faults whose words match this `expression`")
	skip := flag.Int("skip", 0, "leave out the first `faults` of the list")
	flag.Parse()
	which, err := regexp.Compile(*only)
	if err != nil {
		log.Fatal(err)
	}
	faults, err := read(listed)
	if err != nil {
		log.Fatal(err)
	}
	code, err := readCode(".")
	if err != nil {
		log.Fatal(err)
	}
	found, missed := readPage(page), 0
	tried := 0
	for _, f := range faults[min(*skip, len(faults)):] {
		if !which.MatchString(f.What) {
			continue
		}
		start := time.Now()
		tried++
		file, by, err := f.caught(code)
		if err != nil {
			log.Printf("%s: %v", f.What, err)
		}
		if by == "" {
			missed++
			by = "NOT CAUGHT"
		}
		found[f.What] = result{file, by}
		fmt.Printf("%-78s %s (%.0f s)\n", f.What, by, time.Since(start).Seconds())
	}
	fmt.Printf("%d faults planted, %d caught\n", tried, tried-missed)
	if err := writePage(page, faults, found); err != nil {
		log.Fatal(err)
	}
	if missed > 0 {
		os.Exit(1)
	}
}
