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
	a := s.cache.get(k)
	if a != nil {
		return a
	}
	fault := s.inTurn(ctx, func() (err error) {
		if a = s.cache.get(k); a != nil {
			return nil
		}
		if a, err = p.Plan(ctx, q, tell, first); err == nil && ctx.Err() == nil {
			s.cache.put(k, a)
		}
		return err
	})
	if fault != "" {
		return &Answer{Refused: fault}
	}
	return a
}

// inTurn does what takes long, so many at once as there are processors, and says what fault of the
// program it met. Where the context ends before its turn comes it is not done.
func (s *server) inTurn(ctx context.Context, do func() error) (fault string) {
	select {
	case s.turns <- struct{}{}:
		defer func() { <-s.turns }()
	case <-ctx.Done():
		return ""
	}
	if err := guarded(do); err != nil {
		return "fault of the program, please report it with the train file: " + err.Error()
	}
	return ""
}

// guarded keeps a fault of the program to the question that met it.
func guarded(do func() error) (err error) {
	defer func() {
		if p := recover(); p != nil {
			err = fmt.Errorf("%v\n%s", p, debug.Stack())
		}
	}()
	return do()
}
