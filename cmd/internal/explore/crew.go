package explore

import (
	"cmp"
	"context"
	"fmt"
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"leastmove/cmd/internal/chart"
	"leastmove/cmd/internal/doc"
	"leastmove/cmd/internal/pages"
	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
	"leastmove/train/trainfile/rewrite"
)

// A crew is the work on a plan that a desk follows: what was read after a stage.
type crew struct {
	of    key // the question whose plan it is
	stage int
	typed map[string]string // by the names of fields
	wrong map[string]string // likewise, what is wrong with what was typed
	after *After            // nil: not set beside the plan yet
}

// A crewPage is what is shown of it.
type crewPage struct {
	Stages []numbered
	Stage  int
	Panels []panel // couplings, with what is to be read
}

// readPrefix begins the names of the inputs that readings are typed into.
const readPrefix = "read."

// follows are the stages of a plan and the readings to be typed; nil: there is nothing to follow.
// The lock is held.
func (d *desk) follows(a *Answer, q *Question) *crewPage {
	if a == nil || a.Replayed != nil || a.Plan == nil || a.Plan.Moves == nil || a.Plan.Relieved != nil ||
		a.Plan.Provisional || d.base.Train.Survey != nil {
		return nil
	}
	out := &crewPage{}
	for n, name := range pages.StageNames(a.Plan) {
		out.Stages = append(out.Stages, numbered{N: n, Words: name})
	}
	text, err := rewrite.Open(q.Text)
	if err != nil || out.Stages == nil {
		return nil
	}
	var typed, wrong map[string]string
	if d.crew != nil && d.crew.of == q.key() {
		out.Stage, typed, wrong = d.crew.stage, d.crew.typed, d.crew.wrong
	}
	p := &paneller{Formatter: words.FormatterOf(a.Plan.Train), t: a.Plan.Train, was: text, now: text}
	for i := range a.Plan.Train.Couplings {
		c := p.coupling(i)
		var kept []group
		for _, g := range c.Groups {
			if g.Caption == limitsCaption {
				continue
			}
			g.Scale = nil
			n := len(g.Heads)
			if strings.HasPrefix(g.Heads[n-1], "sag") {
				n--
			}
			g.Heads = g.Heads[:n]
			for k := range g.Rows {
				g.Rows[k].Fields = g.Rows[k].Fields[:n]
			}
			for k, f := range g.Rows[0].Fields {
				axis := axisOf(f.Name)
				f.Label = c.Heading + ", " + g.Caption + ": " + strings.TrimSuffix(axis.head(g.Heads[k]), ", "+p.MoveUnit()) +
					", read now"
				g.Heads[k] = axis.head(g.Heads[k])
				f.Name = readPrefix + f.Name
				f.Value, f.Wrong = typed[f.Name], wrong[f.Name]
				if f.Wrong != "" {
					c.Wrong = append(c.Wrong, f)
				}
			}
			if n > 0 {
				kept = append(kept, g)
			}
		}
		if c.Groups = kept; kept != nil {
			out.Panels = append(out.Panels, c)
		}
	}
	return out
}

// read sets what was typed beside the plan.
func (d *desk) read(r *http.Request, f url.Values) {
	d.mu.Lock()
	defer d.mu.Unlock()
	if d.base.Train == nil {
		return
	}
	d.said = ""
	q := d.current().question(d.base)
	a := d.answers[q.key()]
	page := d.follows(a, q)
	if page == nil {
		d.said = "There is no plan whose work can be followed."
		return
	}
	stage, _ := strconv.Atoi(f.Get("stage"))
	c := &crew{of: q.key(), stage: stage, typed: map[string]string{}, wrong: map[string]string{}}
	d.crew = c
	order := view.Order(a.Plan)
	ends := stage < 0 || stage >= len(order.Stages) || order.EndsToRead(stage)
	read, why := c.readings(page, f, ends)
	if d.said = why; why != "" {
		return
	}
	d.mu.Unlock()
	after := d.server.after(r.Context(), d.program, q, a.Plan, stage, read)
	d.mu.Lock()
	if after == nil {
		return
	}
	if c.after = after; after.Refused != "" {
		d.said = "That can't be used: see below."
		return
	}
	d.said = pages.StageWord(after.Stage, after.Verified)
}

// readings are what was typed, as values of the file, or why they can't be used: the first fault is said, every faulty
// field is marked, and all that was typed is kept. Of a coupling all is typed, or nothing: then it was not read. ends
// says whether the distance between shaft ends is part of all.
func (c *crew) readings(page *crewPage, f url.Values, ends bool) (read []rewrite.Setting, why string) {
	fault := func(fl *field, words string) {
		c.wrong[fl.Name] = words
		why = cmp.Or(why, fl.Label+": "+words)
	}
	for _, p := range page.Panels {
		var missing []*field
		before := len(read)
		for _, g := range p.Groups {
			for fl := range g.fields() {
				typed := strings.TrimSpace(f.Get(fl.Name))
				if fl.Was == "" && typed == "" {
					continue // it is not read there
				}
				c.typed[fl.Name] = typed
				if typed == "" && !ends && strings.HasSuffix(fl.Name, ".gap") {
					continue // the work order does not have it read then
				}
				if typed == "" {
					missing = append(missing, fl)
					continue
				}
				path := strings.Split(strings.TrimPrefix(fl.Name, readPrefix), ".")
				n, fine := axisOf(fl.Name).number(typed)
				if !fine {
					fault(fl, fmt.Sprintf("%q is no number%s.", short(typed), axisOf(fl.Name).example()))
				}
				read = append(read, rewrite.Setting{Path: path, Value: n})
			}
		}
		if len(read) > before {
			for _, fl := range missing {
				fault(fl, "there is nothing typed.")
			}
		}
	}
	if why == "" && read == nil {
		why = "Type what was read, of every coupling at a machine that was moved."
	}
	return read, why
}

// after sets readings beside a plan, in its turn; nil: it was ended before.
func (s *server) after(ctx context.Context, p Program, q *Question, plan *view.Plan, stage int,
	read []rewrite.Setting) *After {
	var out *After
	fault := s.inTurn(ctx, func() (err error) {
		out, err = p.After(ctx, q, plan, stage, read)
		return err
	})
	if fault != "" {
		return &After{Refused: fault}
	}
	return out
}

// anew starts a case from how the train is now.
func (d *desk) anew() {
	c := d.crew
	if c == nil || c.after == nil || c.after.Text == nil {
		d.said = "There are no readings to plan from."
		return
	}
	own := readSource(d.program, c.after.Text)
	if own.Train == nil || own.fields == nil {
		d.said = "The train can't be planned from these readings."
		return
	}
	if d.start(&acase{given: fmt.Sprintf("after stage %d", c.stage+1), own: own}) {
		d.crew = nil
	}
}

// crewDoc is what comes of the readings, as a part of the page.
func crewDoc(p *page, c *crew, file string) error {
	after := c.after
	if after.Refused != "" {
		p.CrewRefused = after.Refused
		return nil
	}
	all := []*doc.Doc{pages.StageDoc(after.Stage, after.Verified)}
	// Between stages the acceptance of the stage counts alone: limits are not to be met yet.
	if due, _ := after.Stage.Unread(); c.stage == len(after.Stage.Order.Stages)-1 && due == nil {
		v, err := pages.VerifyDoc(after.Verified, after.Layout, "the plan", pages.File{Name: file},
			chart.FiguresAfter(after.Verified.Figures()))
		if err != nil {
			return err
		}
		v.Numbered = false
		v.Blocks = slices.DeleteFunc(v.Blocks, func(b doc.Block) bool {
			switch b := b.(type) {
			case doc.Contents, doc.Appendix:
				return true
			case *doc.Section:
				return b.Anchor == "file"
			}
			return false
		})
		all = append(all, v)
	}
	for _, one := range all {
		html, err := fragment(one, 2)
		if err != nil {
			return err
		}
		p.Crew += html
	}
	p.Answer = ""
	return nil
}
