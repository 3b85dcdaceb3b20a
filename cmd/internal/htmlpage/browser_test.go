package htmlpage_test

import (
	"bytes"
	"context"
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

// written is a report on a train file, in a file.
func written(t *testing.T, file string, flags ...string) string {
	out := filepath.Join(t.TempDir(), "report.html")
	var stderr bytes.Buffer
	code := cli.Run(append([]string{"report", file, "-o", out}, flags...), strings.NewReader(""), &stderr, &stderr)
	require.Contains(t, []int{0, 3}, code, stderr.String())
	return out
}

// verified is the page of what became of a plan for one train file, as it stands in
// another.
func verified(t *testing.T, before, after string) string {
	folder := t.TempDir()
	plan, out := filepath.Join(folder, "plan.json"), filepath.Join(folder, "after.html")
	var stderr bytes.Buffer
	require.Zero(t, cli.Run([]string{"plan", before, "--format", "json", "-o", plan}, strings.NewReader(""), &stderr, &stderr), stderr.String())
	code := cli.Run([]string{"verify", plan, after, "--format", "html", "-o", out}, strings.NewReader(""), &stderr, &stderr)
	require.Contains(t, []int{0, 3}, code, stderr.String())
	return out
}

// A browser has one page open and keeps what went wrong with it.
type browser struct {
	context.Context
	sync.Mutex
	asked  []string // addresses that were asked for
	errors []string // of the console, and exceptions
}

func open(t *testing.T, path string) *browser {
	chromium := referee(t, "chromium", "chromium-browser", "google-chrome")
	options := append(chromedp.DefaultExecAllocatorOptions[:], chromedp.ExecPath(chromium), chromedp.NoSandbox)
	ctx, stop := chromedp.NewExecAllocator(t.Context(), options...)
	t.Cleanup(stop)
	ctx, stop = chromedp.NewContext(ctx)
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
	tell(t, b, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: name}}})
}
