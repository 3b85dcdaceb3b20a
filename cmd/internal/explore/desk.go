package explore

import (
	"context"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"sync"
	"sync/atomic"
	"time"

	"leastmove/train/trainfile/rewrite"
)

// mostCases is how many cases stand side by side, beside the file as it is.
const mostCases = 6

// asFiled is what the case of the file as it is is called, where no other name was given.
const asFiled = "as filed"

// A source is the train file as the page has it.
type source struct {
	Source
	text   []byte
	fields *rewrite.Text // nil: the text can't be taken apart
	again  time.Time     // when it was read in the place of another; zero: it is the first
}

func readSource(p Program, text []byte) *source {
	s := &source{Source: p.Read(text), text: text}
	if s.Train != nil {
		s.fields, _ = rewrite.Open(text)
	}
	return s
}

// A desk is what one page of a browser has: cases, and what they were answered with.
type desk struct {
	*sheet
	id string

	mu      sync.Mutex
	base    *source
	cases   []*acase // the first: the file as it is
	now     int      // of cases: the one that is looked at
	ids     int
	said    string // what the last thing asked for came to; "": nothing to say
	answers map[key]*Answer
	typed   map[string]entry        // what can't be used, by the names of fields
	running atomic.Pointer[running] // nil: nothing is; set with the lock held
	used    atomic.Int64            // when it was used last, in ns
	changed chan struct{}           // closed and made anew when there is something new to show
	version int                     // how often that was
	crew    *crew                   // the work that is followed; nil: none
}

// A running is a question that is being answered.
type running struct {
	key     key
	end     context.CancelFunc
	stopped atomic.Bool // what is known by then is the answer
	told    string
	first   *Answer
	since   time.Time
}

func newDesk(s *sheet, id string, base *source) *desk {
	d := &desk{
		sheet: s, id: id, base: base, cases: []*acase{{given: asFiled}}, answers: map[key]*Answer{},
		changed: make(chan struct{}), typed: map[string]entry{},
	}
	d.used.Store(time.Now().UnixNano())
	return d
}

// tell says that there is something new to show. The lock is held.
func (d *desk) tell() {
	close(d.changed)
	d.changed = make(chan struct{})
	d.version++
}

// news are what is closed when there is something new to show, and the version of what there is.
func (d *desk) news() (<-chan struct{}, string) {
	d.mu.Lock()
	defer d.mu.Unlock()
	return d.changed, strconv.Itoa(d.version)
}

// current is the case that is looked at.
func (d *desk) current() *acase { return d.cases[d.now] }

// ask makes a change to the case that is looked at; the file as it is becomes a new case.
// The lock is held.
func (d *desk) ask(all ...*change) {
	if len(all) == 0 {
		return
	}
	if d.now == 0 {
		if !d.start(&acase{asked: true}) {
			return
		}
	}
	c := d.current().with(d.current().changes)
	for _, n := range all {
		d.ids++
		n.id = d.ids
		c.add(n)
	}
	d.cases[d.now] = c
}

// start looks at one more case; false: there is no room for it, and it is said. The lock is held.
func (d *desk) start(c *acase) bool {
	if len(d.cases) > mostCases {
		d.said = fmt.Sprintf("There are %d cases: take one away first, or change one of them.", mostCases)
		return false
	}
	d.cases = append(d.cases, c)
	d.now = len(d.cases) - 1
	return true
}

// beside starts a case like the one that is looked at, where that has been asked anything: what is
// beside its plan stands beside it. The lock is held.
func (d *desk) beside() bool {
	c := d.current()
	return d.now == 0 || len(c.changes) == 0 || d.start(&acase{changes: c.changes, own: c.own})
}

// known is what is known of a question: its answer, then it is done; where that is still looked
// for, the plan that was found first; nil: nothing. The lock is held.
func (d *desk) known(k key) (a *Answer, done bool) {
	if a := d.answers[k]; a != nil {
		return a, true
	}
	if r := d.running.Load(); r != nil && r.key == k {
		return r.first, false
	}
	return nil, false
}

// wanted are the questions that are not answered yet: of the case that is looked at, of the
// file, of the others. The lock is held.
func (d *desk) wanted() []*Question {
	if d.base.Train == nil {
		return nil
	}
	var out []*Question
	seen := map[key]bool{}
	for _, c := range slices.Concat([]*acase{d.current(), d.cases[0]}, d.cases) {
		q := c.question(d.base)
		if k := q.key(); !seen[k] && d.answers[k] == nil {
			out, seen[k] = append(out, q), true
		}
	}
	return out
}

// forget drops answers that no case asks for, but for the latest; those are in the cache of
// the server, as far as that goes. The lock is held.
func (d *desk) forget() {
	if d.base.Train == nil {
		return
	}
	keep := map[key]*Answer{}
	for _, c := range d.cases {
		k := c.question(d.base).key()
		a := d.answers[k]
		if a == nil {
			a = d.server.cache.get(k)
		}
		if a != nil {
			keep[k] = a
		}
	}
	d.answers = keep
}

// work starts to answer what is wanted, or ends what is no longer asked for. The lock is held.
func (d *desk) work() {
	d.forget()
	wanted := d.wanted()
	if r := d.running.Load(); r != nil {
		if len(wanted) > 0 && wanted[0].key() == r.key {
			return
		}
		r.end() // what comes of it is not shown; the next one starts when it has ended
		return
	}
	if len(wanted) == 0 {
		return
	}
	q := wanted[0]
	ctx, end := context.WithCancel(d.server.ctx)
	r := &running{key: q.key(), end: end, since: time.Now()}
	d.running.Store(r)
	d.tell() // it can be stopped now
	go d.answer(ctx, q, r)
}

// answer answers one question, and goes on to the next.
func (d *desk) answer(ctx context.Context, q *Question, r *running) {
	defer r.end()
	late := time.AfterFunc(d.server.limit, r.stop)
	defer late.Stop()
	a := d.server.solve(ctx, d.program, q, func(words string) {
		d.mu.Lock()
		defer d.mu.Unlock()
		r.told = words
	}, func(first *Answer) {
		d.mu.Lock()
		defer d.mu.Unlock()
		r.first = first
		d.tell()
	})
	d.mu.Lock()
	defer d.mu.Unlock()
	d.running.CompareAndSwap(r, nil)
	if a != nil && (ctx.Err() == nil || r.stopped.Load()) {
		d.answers[r.key] = a
	}
	d.tell()
	if d.server.ctx.Err() == nil {
		d.work()
	}
}

// stop ends a search: what is known by then is its answer.
func (r *running) stop() {
	r.stopped.Store(true)
	r.end()
}

// stop ends the search for a question, by the words of its key, where that is under way. It waits for nothing: the lock
// is not needed.
func (d *desk) stop(key string) {
	if r := d.running.Load(); r != nil && r.key.String() == key {
		r.stop()
	}
}

// follow goes over to another text of the file. An option is one of the list that the text of its case gave: where
// that is another one now, it is taken back, and it is said. The lock is held.
func (d *desk) follow(s *source) {
	var from []string
	for n, c := range d.cases {
		next := c.following(s)
		d.cases[n] = next
		if c.question(d.base).key() != c.question(s).key() && next.drop((*change).option) {
			from = append(from, next.name())
		}
	}
	if from != nil {
		d.said = fmt.Sprintf("Option taken back: the file was changed (%s).", strings.Join(from, "; "))
	}
	d.base = s
	d.work()
	d.tell()
}
