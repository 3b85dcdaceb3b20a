package explore

import (
	"crypto/subtle"
	"io"
	"log"
	"net/http"
	"sync"
	"time"
)

// policy is what a page may load: its own script and style sheet and nothing else.
const policy = "default-src 'none'; script-src 'self'; style-src 'self'; connect-src 'self'; img-src 'self'; " +
	"form-action 'self'; base-uri 'none'; frame-ancestors 'none'"

// guard lets through what comes from a page of this server alone: asked of this address by
// its number (no name that another site could have turned to it), by someone who has the
// token, and not by a page of another site.
func (s *server) guard(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		h := w.Header()
		h.Set("Content-Security-Policy", policy)
		h.Set("X-Content-Type-Options", "nosniff")
		h.Set("X-Frame-Options", "DENY")
		h.Set("Referrer-Policy", "same-origin")
		h.Set("Cross-Origin-Opener-Policy", "same-origin")
		h.Set("Cross-Origin-Resource-Policy", "same-origin")
		h.Set("Cache-Control", "no-store")
		if code := s.refuses(r); code != 0 {
			http.Error(w, http.StatusText(code), code)
			return
		}
		if !s.rate.take(time.Now()) {
			h.Set("Retry-After", "1")
			http.Error(w, "too many requests at once", http.StatusTooManyRequests)
			return
		}
		r.Body = http.MaxBytesReader(w, r.Body, mostForm)
		next.ServeHTTP(w, r)
	})
}

// refuses is the status by which a request is refused; 0: it is not.
func (s *server) refuses(r *http.Request) int {
	origin, site := r.Header.Values("Origin"), r.Header.Get("Sec-Fetch-Site")
	token := ""
	if len(r.URL.Path) > len(s.token) && r.URL.Path[len(s.token)+1:] != "" {
		token = r.URL.Path[1 : len(s.token)+1]
	}
	switch {
	case r.Host != s.host:
		return http.StatusMisdirectedRequest
	case subtle.ConstantTimeCompare([]byte(token), []byte(s.token)) != 1:
		return http.StatusForbidden
	case len(origin) > 1, len(origin) == 1 && origin[0] != "http://"+s.host:
		return http.StatusForbidden
	case site != "" && site != "same-origin" && site != "none":
		return http.StatusForbidden
	case r.Method != http.MethodGet && r.Method != http.MethodPost:
		return http.StatusMethodNotAllowed
	case r.Method == http.MethodPost && len(origin) == 0:
		return http.StatusForbidden
	}
	return 0
}

// A rate bounds how many requests are taken: so many at once, so many a second.
type rate struct {
	mu   sync.Mutex
	left float64
	at   time.Time
}

const (
	rateBurst  = 500
	rateSecond = 200 // requests
)

func (r *rate) take(now time.Time) bool {
	r.mu.Lock()
	defer r.mu.Unlock()
	if r.at.IsZero() {
		r.left = rateBurst
	} else {
		r.left = min(rateBurst, r.left+rateSecond*now.Sub(r.at).Seconds())
	}
	r.at = now
	if r.left < 1 {
		return false
	}
	r.left--
	return true
}

// nobody takes what the library would log: broken connections are no news.
func nobody() *log.Logger { return log.New(io.Discard, "", 0) }
