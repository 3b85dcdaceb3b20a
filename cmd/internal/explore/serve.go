package explore

import (
	"context"
	"crypto/rand"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"net"
	"net/http"
	"runtime"
	"slices"
	"sync"
	"time"
)

// Bounds of what a server takes and keeps.
const (
	MostTrains  = 16               // that one server has
	mostDesks   = 32               // of a train: the one that was used least lately goes
	mostForm    = 256 << 10        // bytes of what is asked for
	mostHeader  = 16 << 10         // bytes of a request's head
	mostOpen    = 256              // connections
	mostWriting = 2                // results that are written at once
	readTime    = 10 * time.Second // in which a request has to be there
)

// Settings are how a page is served.
type Settings struct {
	Out, Err io.Writer     // the address; all else that is said
	Open     bool          // the browser is opened
	Limit    time.Duration // of a question: then what is known is its answer
}

// A server has the pages of some trains.
type server struct {
	ctx     context.Context
	limit   time.Duration
	end     context.CancelFunc
	token   string
	host    string // address and port
	sheets  []*sheet
	cache   cache
	turns   chan struct{} // one for each question that is answered at once
	writing chan struct{}
	rate    rate
}

// A sheet is the page of one train.
type sheet struct {
	server  *server
	program Program
	number  string // from 1, in addresses

	reloading sync.Mutex // the file is taken over by one at a time

	// mu is held for moments alone: what is under way is stopped without waiting for anything that takes longer.
	mu     sync.Mutex
	source *source
	gone   string // why the file can't be read now; "": it can
	desks  []*desk
}

// Serve serves the pages of trains until the context ends, or someone asks on a page.
func Serve(ctx context.Context, all []Program, set Settings) error {
	l, err := net.Listen("tcp4", "127.0.0.1:0")
	if err != nil {
		return fmt.Errorf("no page can be served on this computer: %w", err)
	}
	defer l.Close()
	s, err := newServer(ctx, all, l.Addr().String(), set.Limit)
	if err != nil {
		return err
	}
	defer s.end()
	var mine []*sheet
	for _, sh := range s.sheets {
		path := sh.program.Path()
		taken, release, err := lock(path, s.address(sh))
		if err != nil {
			fmt.Fprintf(set.Err, "leastmove: a second start on %s would not be noticed: %v\n", sh.program.Name(), err)
		}
		if taken != "" {
			fmt.Fprintf(set.Err, "leastmove: %s is open already:\n", sh.program.Name())
			fmt.Fprintln(set.Out, taken)
			if set.Open {
				browse(taken)
			}
			continue
		}
		defer release()
		mine = append(mine, sh)
	}
	if mine == nil {
		return nil
	}
	s.sheets = mine
	for _, sh := range mine {
		stop, err := sh.watch()
		if err != nil {
			fmt.Fprintf(set.Err, "leastmove: %s is not watched, load the page anew after changes: %v\n", sh.program.Name(), err)
		} else {
			defer stop()
		}
		fmt.Fprintln(set.Out, s.address(sh))
	}
	fmt.Fprintln(set.Err, "leastmove: the page is open to this computer alone; Ctrl-C ends it")
	if set.Open {
		for _, sh := range mine {
			browse(s.address(sh))
		}
	}
	h := &http.Server{
		Handler: s.handler(), ReadHeaderTimeout: readTime, ReadTimeout: readTime, IdleTimeout: 2 * time.Minute,
		MaxHeaderBytes: mostHeader, BaseContext: func(net.Listener) context.Context { return s.ctx },
		ErrorLog: nobody(),
	}
	failed := make(chan error, 1)
	go func() { failed <- h.Serve(&bounded{Listener: l, free: make(chan struct{}, mostOpen)}) }()
	select {
	case err := <-failed:
		return err
	case <-s.ctx.Done():
	}
	last, cancel := context.WithTimeout(context.Background(), time.Second)
	defer cancel()
	if err := h.Shutdown(last); err != nil && !errors.Is(err, context.DeadlineExceeded) {
		return err
	}
	return nil
}

func newServer(ctx context.Context, all []Program, host string, limit time.Duration) (*server, error) {
	s := &server{
		token: randomName(), host: host, limit: limit, turns: make(chan struct{}, max(1, runtime.GOMAXPROCS(0))),
		writing: make(chan struct{}, mostWriting),
	}
	s.ctx, s.end = context.WithCancel(ctx)
	for n, p := range all {
		sh := &sheet{server: s, program: p, number: fmt.Sprint(n + 1)}
		text, err := p.Load()
		if err != nil {
			return nil, err
		}
		sh.source = readSource(p, text)
		s.sheets = append(s.sheets, sh)
	}
	return s, nil
}

// randomName can't be guessed.
func randomName() string {
	var b [16]byte
	rand.Read(b[:])
	return hex.EncodeToString(b[:])
}

func (s *server) address(sh *sheet) string {
	return fmt.Sprintf("http://%s/%s/%s/", s.host, s.token, sh.number)
}

// sheet is the page of a train by its number; nil: there is none.
func (s *server) sheet(number string) *sheet {
	for _, sh := range s.sheets {
		if sh.number == number {
			return sh
		}
	}
	return nil
}

// open is a new desk. Where there are too many the one that was used least lately goes.
func (sh *sheet) open() *desk {
	sh.mu.Lock()
	defer sh.mu.Unlock()
	if len(sh.desks) >= mostDesks {
		oldest := 0
		for n, d := range sh.desks {
			if d.lastUsed().Before(sh.desks[oldest].lastUsed()) {
				oldest = n
			}
		}
		go sh.desks[oldest].leave()
		sh.desks = slices.Delete(sh.desks, oldest, oldest+1)
	}
	d := newDesk(sh, randomName()[:12], sh.source)
	sh.desks = append(sh.desks, d)
	return d
}

// desk is one that is open; nil: there is none of that name.
func (sh *sheet) desk(id string) *desk {
	sh.mu.Lock()
	defer sh.mu.Unlock()
	for _, d := range sh.desks {
		if d.id == id {
			return d
		}
	}
	return nil
}

func (d *desk) lastUsed() time.Time { return time.Unix(0, d.used.Load()) }

// leave ends what a desk has under way.
func (d *desk) leave() {
	d.mu.Lock()
	defer d.mu.Unlock()
	if r := d.running.Load(); r != nil {
		r.end()
	}
	d.base = &source{}
}

// bounded takes so many connections at once.
type bounded struct {
	net.Listener
	free chan struct{}
}

func (b *bounded) Accept() (net.Conn, error) {
	b.free <- struct{}{}
	c, err := b.Listener.Accept()
	if err != nil {
		<-b.free
		return nil, err
	}
	return &counted{Conn: c, done: func() { <-b.free }}, nil
}

type counted struct {
	net.Conn
	once sync.Once
	done func()
}

func (c *counted) Close() error {
	defer c.once.Do(c.done)
	return c.Conn.Close()
}
