package explore

import (
	"context"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/train"
)

// A stubborn program answers when it is stopped, and not before.
type stubborn struct {
	Program
	begun chan struct{}
}

func (p *stubborn) Load() ([]byte, error) { return os.ReadFile("testdata/pair.toml") }
func (p *stubborn) Read([]byte) Source    { return Source{Train: &train.Train{}} }

func (p *stubborn) Plan(ctx context.Context, _ *Question, _ func(string), _ func(*Answer)) (*Answer, error) {
	close(p.begun)
	<-ctx.Done()
	return &Answer{Refused: "stopped"}, nil
}

// To stop a search waits for nothing: not for what holds the page, nor for the file that is taken over meanwhile. What
// is stopped is what the page showed, not the next search.
func TestStopWaitsForNothing(t *testing.T) {
	const patience = time.Minute
	p := &stubborn{begun: make(chan struct{})}
	s, err := newServer(t.Context(), []Program{p}, "127.0.0.1:1", time.Hour)
	require.NoError(t, err)
	h, sh := s.handler(), s.sheets[0]
	d := sh.open()
	stop := func(of string) int {
		form := url.Values{"of": {of}}
		r := httptest.NewRequest("POST", s.address(sh)+d.id+"/stop", strings.NewReader(form.Encode()))
		r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
		r.Header.Set("Origin", "http://"+s.host)
		r.Header.Set("X-Part", "1")
		w, done := httptest.NewRecorder(), make(chan struct{})
		go func() {
			h.ServeHTTP(w, r)
			close(done)
		}()
		select {
		case <-done:
		case <-time.After(patience):
			require.Fail(t, "it waits")
		}
		return w.Code
	}
	assert.Equal(t, http.StatusNoContent, stop("nothing is under way"))
	d.mu.Lock()
	d.work()
	k := d.current().question(d.base).key()
	under := d.running.Load()
	<-p.begun
	// The page is held from here on, and the file is being taken over.
	sh.reloading.Lock()
	go sh.reload()
	assert.Equal(t, http.StatusNoContent, stop(strings.Repeat("0", 64)))
	assert.False(t, under.stopped.Load())
	assert.Equal(t, http.StatusNoContent, stop(k.String()))
	assert.True(t, under.stopped.Load())
	sh.reloading.Unlock()
	d.mu.Unlock()
	assert.Eventually(t, func() bool {
		d.mu.Lock()
		defer d.mu.Unlock()
		a := d.answers[k]
		return a != nil && a.Refused == "stopped"
	}, patience, time.Millisecond)
}
