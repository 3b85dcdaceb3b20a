package explore

import (
	"context"
	"fmt"
	"runtime/debug"
	"sync"
)

// mostAnswers is how many answers are kept by content, for all pages together.
const mostAnswers = 48

// A cache keeps the latest answers by their questions.
type cache struct {
	mu    sync.Mutex
	of    map[key]*Answer
	order []key // the one that was asked for last is the last
}

func (c *cache) get(k key) *Answer {
	c.mu.Lock()
	defer c.mu.Unlock()
	a := c.of[k]
	if a != nil {
		c.last(k)
	}
	return a
}

func (c *cache) put(k key, a *Answer) {
	c.mu.Lock()
	defer c.mu.Unlock()
	if c.of == nil {
		c.of = map[key]*Answer{}
	}
	c.of[k] = a
	c.last(k)
	for len(c.order) > mostAnswers {
		delete(c.of, c.order[0])
		c.order = c.order[1:]
	}
}

func (c *cache) last(k key) {
	for n, o := range c.order {
		if o == k {
			c.order = append(c.order[:n:n], c.order[n+1:]...)
			break
		}
	}
	c.order = append(c.order, k)
}

// solve answers a question, from the cache or by the program; nil where it was ended before
// its turn came.
func (s *server) solve(ctx context.Context, p Program, q *Question, tell func(string), first func(*Answer)) *Answer {
	k := q.key()
	if a := s.cache.get(k); a != nil {
		return a
	}
	select {
	case s.turns <- struct{}{}:
		defer func() { <-s.turns }()
	case <-ctx.Done():
		return nil
	}
	if a := s.cache.get(k); a != nil {
		return a
	}
	a, err := guarded(func() (*Answer, error) { return p.Plan(ctx, q, tell, first) })
	if err != nil {
		return &Answer{Refused: "fault of the program, please report it with the train file: " + err.Error()}
	}
	if ctx.Err() == nil {
		s.cache.put(k, a)
	}
	return a
}

// guarded keeps a fault of the program to the question that met it.
func guarded(do func() (*Answer, error)) (a *Answer, err error) {
	defer func() {
		if p := recover(); p != nil {
			a, err = nil, fmt.Errorf("%v\n%s", p, debug.Stack())
		}
	}()
	return do()
}
