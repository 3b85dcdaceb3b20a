package pages_test

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"

	"leastmove/cmd/internal/cli"
)

// referee is an outside program that judges pages. Where it is missing its tests
// are left out, unless the environment says that it must be there.
func referee(t *testing.T, names ...string) string {
	for _, name := range names {
		if path, err := exec.LookPath(name); err == nil {
			return path
		}
	}
	if os.Getenv("LEASTMOVE_REFEREES") == "required" {
		t.Fatalf("%s is missing", names[0])
	}
	t.Skipf("left out: %s is not installed", names[0])
	return ""
}

// made is where the pages are that several tests look at, each made once.
var made struct {
	folder string
	sync.Mutex
	pages map[string]func() (string, error) // the page's place, by what was asked for
	// browser is the one whose tabs the tests open, started when it is first asked for.
	browser func(program string) (context.Context, error)
}

func TestMain(m *testing.M) {
	folder, err := os.MkdirTemp("", "pages")
	if err != nil {
		panic(err)
	}
	made.folder, made.pages = folder, map[string]func() (string, error){}
	ctx, stop := context.WithCancel(context.Background())
	var first sync.Once
	var running context.Context
	made.browser = func(program string) (context.Context, error) {
		first.Do(func() { running, err = start(ctx, program) })
		return running, err
	}
	code := m.Run()
	stop()
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

// run is the program; exit codes other than 0 and 3 are errors.
func run(args ...string) error {
	var stderr bytes.Buffer
	if code := cli.Run(args, strings.NewReader(""), &stderr, &stderr); code != 0 && code != 3 {
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

// A browser has one page open and keeps what went wrong with it.
type browser struct {
	context.Context
	sync.Mutex
	asked  []string // addresses that were asked for
	errors []string // of the console, and exceptions
}

// start starts the browser.
func start(ctx context.Context, program string) (context.Context, error) {
	options := append(chromedp.DefaultExecAllocatorOptions[:], chromedp.ExecPath(program), chromedp.NoSandbox)
	ctx, _ = chromedp.NewExecAllocator(ctx, options...)
	ctx, _ = chromedp.NewContext(ctx)
	return ctx, chromedp.Do(ctx)
}

// open opens a page in a tab of its own.
func open(t *testing.T, path string) *browser {
	ctx, err := made.browser(referee(t, "chromium", "chromium-browser", "google-chrome"))
	require.NoError(t, err)
	ctx, stop := chromedp.NewContext(ctx)
	t.Cleanup(stop)
	b := &browser{Context: ctx}
	b.do(t)
	require.NoError(t, chromedp.Listen(ctx, b.hear))
	tell(t, b, network.Enable, network.EnableParams{})
	tell(t, b, runtime.Enable, cdp.Empty{})
	b.do(t, chromedp.Navigate("file://"+path))
	return b
}

func (b *browser) hear(event any) {
	b.Lock()
	defer b.Unlock()
	switch e := event.(type) {
	case *network.EventRequestWillBeSent:
		b.asked = append(b.asked, e.Request.URL)
	case *runtime.EventConsoleAPICalled:
		b.errors = append(b.errors, string(e.Type))
	case *runtime.EventExceptionThrown:
		b.errors = append(b.errors, e.ExceptionDetails.Text)
	case *page.EventJavascriptDialogOpening:
		b.errors = append(b.errors, e.Message)
	}
}

func (b *browser) do(t *testing.T, steps ...chromedp.Action[chromedp.Void]) {
	t.Helper()
	require.NoError(t, chromedp.Do(b, steps...))
}

// tell gives a command of the protocol.
func tell[P, R any](t *testing.T, b *browser, command cdp.Command[P, R], params P) {
	t.Helper()
	_, err := chromedp.Call(b, command, params)
	require.NoError(t, err)
}

// ask is what a piece of JavaScript comes to.
func ask[T any](t *testing.T, b *browser, script string) T {
	t.Helper()
	result, err := chromedp.Run(b, chromedp.Evaluate[T](script))
	require.NoError(t, err)
	return result
}

func (b *browser) width(t *testing.T, pixels int64) { b.do(t, chromedp.EmulateViewport(pixels, 900)) }

func (b *browser) scheme(t *testing.T, name string) {
	tell(t, b, emulation.SetEmulatedMedia,
		emulation.SetEmulatedMediaParams{Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: name}}})
}
