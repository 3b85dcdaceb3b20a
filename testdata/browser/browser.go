// Package browser opens pages in Chromium for tests. The browser is started when the first page
// is opened, and each page is a tab of its own; Stop ends it.
package browser

import (
	"context"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"

	"leastmove/testdata/outside"
)

var (
	running, stop = context.WithCancel(context.Background())
	first         sync.Once
	failed        error
)

// Stop ends the browser, where it was started.
func Stop() { stop() }

// start starts the browser, the first time that it is asked for.
func start(program string) (context.Context, error) {
	first.Do(func() {
		options := append(chromedp.DefaultExecAllocatorOptions[:], chromedp.ExecPath(program), chromedp.NoSandbox)
		running, _ = chromedp.NewExecAllocator(running, options...)
		running, _ = chromedp.NewContext(running)
		failed = chromedp.Do(running)
	})
	return running, failed
}

// A Page is open in the browser, and keeps what went wrong with it.
type Page struct {
	context.Context
	sync.Mutex
	Asked  []string // addresses that were asked for
	Errors []string // of the console, exceptions, and what the page's policy forbids
}

// Open opens a page.
func Open(t testing.TB, address string) *Page {
	t.Helper()
	ctx, err := start(outside.Program(t, "chromium", "chromium-browser", "google-chrome"))
	require.NoError(t, err)
	ctx, stop := chromedp.NewContext(ctx)
	t.Cleanup(stop)
	p := &Page{Context: ctx}
	p.Do(t)
	require.NoError(t, chromedp.Listen(ctx, p.hear))
	Tell(t, p, network.Enable, network.EnableParams{})
	Tell(t, p, runtime.Enable, cdp.Empty{})
	Tell(t, p, log.Enable, cdp.Empty{})
	loading, stop := context.WithTimeout(ctx, time.Minute)
	defer stop()
	require.NoError(t, chromedp.Do(loading, chromedp.Navigate(address)), "loading %s", address)
	return p
}

func (p *Page) hear(event any) {
	p.Lock()
	defer p.Unlock()
	switch e := event.(type) {
	case *network.EventRequestWillBeSent:
		p.Asked = append(p.Asked, e.Request.URL)
	case *runtime.EventConsoleAPICalled:
		p.Errors = append(p.Errors, string(e.Type))
	case *runtime.EventExceptionThrown:
		p.Errors = append(p.Errors, e.ExceptionDetails.Text)
	case *page.EventJavascriptDialogOpening:
		p.Errors = append(p.Errors, e.Message)
	case *log.EventEntryAdded:
		p.Errors = append(p.Errors, e.Entry.Text+" "+e.Entry.URL)
	}
}

// Do takes steps.
func (p *Page) Do(t testing.TB, steps ...chromedp.Action[chromedp.Void]) {
	t.Helper()
	require.NoError(t, chromedp.Do(p, steps...))
}

// Tell gives a command of the protocol.
func Tell[P, R any](t testing.TB, p *Page, command cdp.Command[P, R], params P) {
	t.Helper()
	_, err := chromedp.Call(p, command, params)
	require.NoError(t, err)
}

// Ask is what a piece of JavaScript comes to.
func Ask[T any](t testing.TB, p *Page, script string) T {
	t.Helper()
	result, err := chromedp.Run(p, chromedp.Evaluate[T](script))
	require.NoError(t, err)
	return result
}

// Width makes the window so many pixels wide.
func (p *Page) Width(t testing.TB, pixels int64) {
	t.Helper()
	p.Do(t, chromedp.EmulateViewport(pixels, 900))
}

// Scheme has the page in "light" or "dark" colours.
func (p *Page) Scheme(t testing.TB, name string) {
	t.Helper()
	Tell(t, p, emulation.SetEmulatedMedia,
		emulation.SetEmulatedMediaParams{Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: name}}})
}
