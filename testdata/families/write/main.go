// Command write writes train files of every family for the outside referees.
//
//	go run ./testdata/families/write -n 200 -seed 1 -o DIR
//
// writes 200 files FAMILY-SEED.toml, the families in turn.
package main

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"leastmove/testdata/families"
)

func main() {
	n := flag.Int("n", 16, "number of files")
	seed := flag.Uint64("seed", 1, "first seed")
	dir := flag.String("o", "", "folder to write into; made if missing")
	only := flag.String("family", "", "families to write, separated by commas (default all)")
	flag.Parse()
	if *dir == "" || flag.NArg() > 0 {
		flag.Usage()
		os.Exit(2)
	}
	names := families.Names()
	if *only != "" {
		names = strings.Split(*only, ",")
	}
	if err := write(*dir, names, *n, *seed); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

func write(dir string, names []string, n int, seed uint64) error {
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return err
	}
	for i := range n {
		name := names[i%len(names)]
		s := seed + uint64(i/len(names))
		file := filepath.Join(dir, fmt.Sprintf("%s-%d.toml", name, s))
		if err := os.WriteFile(file, []byte(families.TOML(name, s)), 0o644); err != nil {
			return err
		}
	}
	return nil
}
