package pages_test

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/require"

	"leastmove/cmd/internal/cli"
	"leastmove/testdata/browser"
)

// made is where the pages are that several tests look at, each made once.
var made struct {
	folder string
	sync.Mutex
	pages map[string]func() (string, error) // the page's place, by what was asked for
	kept  cli.Kept                          // what was found for them
}

func TestMain(m *testing.M) {
	folder, err := os.MkdirTemp("", "pages")
	if err != nil {
		panic(err)
	}
	made.folder, made.pages = folder, map[string]func() (string, error){}
	code := m.Run()
	browser.Stop()
	os.RemoveAll(folder)
	os.Exit(code)
}

// once is the page that a function writes into a folder of its own, the first time
// that it is asked for under this name.
func once(t *testing.T, name string, write func(folder string) (string, error)) string {
	made.Lock()
	page := made.pages[name]
	if page == nil {
		page = sync.OnceValues(func() (string, error) {
			folder, err := os.MkdirTemp(made.folder, "page")
			if err != nil {
				return "", err
			}
			return write(folder)
		})
		made.pages[name] = page
	}
	made.Unlock()
	path, err := page()
	require.NoError(t, err)
	return path
}

// run is the program, which shares what is found of a train; exit codes other than 0 and 3 are errors.
func run(args ...string) error {
	var stderr bytes.Buffer
	if code := made.kept.Run(args, strings.NewReader(""), &stderr, &stderr); code != 0 && code != 3 {
		return fmt.Errorf("exit code %d of %s: %s", code, args, stderr.String())
	}
	return nil
}

// written is a report on a train file, in a file.
func written(t *testing.T, file string) string {
	return once(t, file, func(folder string) (string, error) { return report(folder, file) })
}

func report(folder, file string) (string, error) {
	out := filepath.Join(folder, "report.html")
	return out, run("report", file, "-o", out)
}

// verified is the page of what became of a plan for one train file, as it stands in
// another. The plan is beside it.
func verified(t *testing.T, before, after string) string {
	return once(t, before+" "+after, func(folder string) (string, error) {
		plan, out := filepath.Join(folder, "plan.json"), filepath.Join(folder, "after.html")
		if err := run("plan", before, "--format", "json", "-o", plan); err != nil {
			return "", err
		}
		return out, run("verify", plan, after, "--format", "html", "-o", out)
	})
}

// open opens a page that is in a file.
func open(t *testing.T, path string) *browser.Page { return browser.Open(t, "file://"+path) }
