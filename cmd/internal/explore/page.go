package explore

import (
	"bytes"
	"cmp"
	"fmt"
	"html/template"
	"slices"
	"strconv"
	"strings"
	"time"

	"leastmove/cmd/internal/chart"
	"leastmove/cmd/internal/doc"
	"leastmove/cmd/internal/pages"
	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
	"leastmove/train"
	"leastmove/train/trainfile"
	"leastmove/train/trainfile/rewrite"
)

// A page is all that is shown of a desk.
type page struct {
	Title, File, MoveUnit string
	Version               int    // of what is shown: the browser asks again where it is told of a later one
	Has                   string // the parts that were written, each with a sum of what is in it
	Gone, Faults, Said    string
	Again                 string // when the file was read again; "": it is as the page began with it
	Usable                bool   // there is a train
	Cases                 []tab
	Side                  template.HTML
	Name, Given           string // of the case that is looked at; as it was typed
	First, Full           bool   // it is the file as it is; there is no room for another
	Changes               []shownChange
	Options               []numbered // where there is no plan
	CanWiden              bool
	Rows                  []numbered // plans beside the one that was asked for
	Panels                []panel
	Aim                   aimForm
	MoveRows              []moveRow
	MovesWrong            []*field
	Command               string
	ExportName, CasesName string // of files, without an ending
	Planned               bool   // there are moves for a work order
	Held                  string // what releases the work order, which a verdict holds; "": none does
	Edited, Typed         bool   // values of the file are changed; moves were typed
	Working, Stopped      bool
	Begun                 string // the question under way, where it is this case's: it can be stopped
	Told, Refused         string
	Notes                 []string
	Answer                template.HTML
	Follow                *crewPage     // nil: there is no work to follow
	Crew                  template.HTML // what came of the readings; "": nothing was read
	CrewRefused           string
	Own                   bool // the case has a file of its own
}

type tab struct {
	N    int
	Name string
	Now  bool
}

type numbered struct {
	N     int
	Words string
	Comes string // what comes of it; "": not said
}

type shownChange struct {
	ID    int
	Words string
	Lost  bool
}

// An aimForm is what is made least, and what share of the limits may be used, or with what chance, in %.
type aimForm struct {
	Strategies  []view.Strategy
	Strategy    view.Strategy
	Use, Chance *field
	FileUse     string
	Wrong       []*field
}

// aimed is the form as the case that is looked at has it.
func (d *desk) aimed() aimForm {
	share := func(flag string) string {
		s := d.flag(flag)
		if s == "" {
			return ""
		}
		return strings.TrimSuffix(percent(s), " %")
	}
	return aimForm{
		Strategies: view.Strategies(), Strategy: view.Strategy(d.flag("--strategy")),
		Use:    &field{Name: "use", Label: "Share of limit", Value: share("--use"), Was: share("--use")},
		Chance: &field{Name: "chance", Label: "Chance of ending within", Value: share("--assure"), Was: share("--assure")},
	}
}

// A moveRow are the moves of one machine, to be typed.
type moveRow struct {
	Head  string
	Axial *field
	Feet  []row
}

// page is what is shown now.
func (d *desk) page() (*page, error) {
	source, gone := d.state()
	d.mu.Lock()
	defer d.mu.Unlock()
	p := &page{File: d.program.Name(), Gone: gone, Said: d.said, Title: d.program.Name(), Version: d.version}
	if source.Train == nil {
		p.Faults = d.byName(strings.TrimSpace(errorsOf(source.Report)))
	}
	if !d.base.again.IsZero() {
		p.Again = d.base.again.Format(time.TimeOnly)
	}
	defer p.sayFault()
	if d.base.Train == nil {
		return p, nil
	}
	t, c := d.base.Train, d.current()
	q, lost := c.made(d.base)
	w := words.FormatterOf(t)
	p.Usable, p.Title, p.MoveUnit, p.Name, p.First = true, w.Title(), w.MoveUnit(), c.name(), d.now == 0
	if c.given != asFiled {
		p.Given = c.given
	}
	p.Full = len(d.cases) > mostCases
	for _, ch := range c.changes {
		p.Changes = append(p.Changes, shownChange{ch.id, ch.words, lost[ch.id]})
		p.Edited, p.Typed = p.Edited || ch.set != nil && !lost[ch.id], p.Typed || ch.plan != nil
	}
	if err := d.sides(p); err != nil {
		return nil, err
	}
	now, err := rewrite.Open(q.Text)
	if err != nil {
		now = c.on(d.base).fields
	}
	p.Panels = panels(t, c.on(d.base).fields, now)
	for n := range p.Panels {
		for _, ch := range c.changes {
			if ch.about() == "machine "+p.Panels[n].Machine {
				p.Panels[n].Asked = strings.TrimPrefix(ch.flags[0], "--")
			}
		}
	}
	for n := range p.Panels {
		p.Panels[n].Wrong = d.wrongOf(slices.Collect(p.Panels[n].fields())...)
	}
	p.Aim = d.aimed()
	p.Aim.Wrong = d.wrongOf(p.Aim.Use, p.Aim.Chance)
	if e, is := d.typed["strategy"]; is {
		p.Aim.Strategy = view.Strategy(e.text)
	}
	p.Aim.FileUse = strconv.FormatFloat(100*t.Aim.Use, 'g', 4, 64)
	p.Own = c.own != nil
	p.ExportName, p.CasesName = c.exported(p.File), (&acase{given: "side by side"}).exported(p.File)
	p.Command = command(p.File, p.ExportName, q, p.Edited || p.Own)
	return p, d.answered(p, q)
}

// sayFault says over all else that what is shown is not of the file as it is now.
func (p *page) sayFault() {
	fault := ""
	switch {
	case p.Gone != "":
		fault = p.File + " can't be read now"
	case p.Faults != "":
		fault = p.File + " can't be used as it was saved last"
	default:
		return
	}
	if p.Said == "" || !p.Usable {
		p.Said = fault + "."
	} else {
		p.Said = fault + ". Of the one before: " + p.Said
	}
}

// byName is a text with the train file called by its name, without its folder.
func (d *desk) byName(text string) string {
	return strings.ReplaceAll(text, d.program.Path()+":", d.program.Name()+":")
}

// errorsOf are the errors of a file, each at its line and with its cure.
func errorsOf(report trainfile.Report) string {
	var errors trainfile.Report
	for _, f := range report {
		if f.Severity == trainfile.Error {
			errors = append(errors, f)
		}
	}
	return errors.String()
}

// sides are the cases side by side.
func (d *desk) sides(p *page) error {
	for n, c := range d.cases {
		p.Cases = append(p.Cases, tab{n, c.name(), n == d.now})
	}
	if len(d.cases) == 1 {
		return nil
	}
	var err error
	p.Side, err = fragment(pages.SideBySide(d.besides()), 3)
	return err
}

// besides are the cases, to be set side by side. The lock is held.
func (d *desk) besides() []pages.Beside {
	var all []pages.Beside
	for _, c := range d.cases {
		q, lost := c.made(d.base)
		b, edited := pages.Beside{Name: c.name()}, c.own != nil
		for _, ch := range c.changes {
			if !lost[ch.id] {
				b.Asked, edited = append(b.Asked, ch.words), edited || ch.set != nil
			}
		}
		file := d.program.Name()
		b.Command = command(file, c.exported(file), q, edited)
		a, done := d.known(q.key())
		if b.Going = !done; a != nil {
			b.Plan, b.Given, b.Stopped = a.Plan, a.Replayed, a.Stopped
		}
		all = append(all, b)
	}
	return all
}

// answered is what is known of the case that is looked at.
func (d *desk) answered(p *page, q *Question) error {
	k := q.key()
	a, done := d.known(k)
	under := d.running.Load()
	switch {
	case done:
	case under != nil && under.key == k:
		p.Working, p.Begun, p.Told = true, k.String(), d.going()
	default:
		p.Working, p.Told = true, "Looking for a plan"
	}
	if moves := d.current().typed(d.base.Train.Units); moves != nil {
		p.showMoves(d, moves) // they stay while they are checked, and where they are refused
	}
	if p.Said == "" && p.Working {
		p.Said = "Looking for a plan."
		if a != nil {
			p.Said = "A plan is found; looking for others beside it."
			if a.SoFar {
				p.Said = "A plan is found; looking for a better one."
			}
		}
	}
	if a == nil {
		return nil
	}
	p.Refused, p.Notes, p.Stopped = d.byName(a.Refused), a.Notes, a.Stopped
	if p.Said == "" && a.Refused != "" {
		first, _, _ := strings.Cut(p.Refused, "\n")
		p.Said = "This can't be answered: " + first
	}
	if a.Plan == nil {
		return nil
	}
	if p.Said == "" && !p.Working {
		p.Said = (&pages.Beside{Plan: a.Plan, Given: a.Replayed, Stopped: a.Stopped}).InBrief()
	}
	var err error
	var shown *doc.Doc
	if a.Replayed != nil {
		shown, err = pages.FirstReplay(a.Replayed, a.Layout, chart.FiguresOf(a.Replayed.Figures(), nil))
	} else {
		shown, err = pages.First(a.Plan, a.Layout, chart.FiguresOf(a.Plan.Figures(), nil))
	}
	if err != nil {
		return err
	}
	if p.Answer, err = fragment(shown, 2); err != nil {
		return err
	}
	p.offer(d, a)
	p.showMoves(d, a.Plan.Moves)
	p.Planned = a.Plan.Status == view.Planned
	if a.Replayed == nil && !p.Working && pages.HeldByVerdict(a.Plan) {
		p.Held = words.Capital(pages.Releasing)
	}
	if p.Working {
		return nil
	}
	p.Follow = d.follows(a, q)
	if d.crew != nil && d.crew.of == k && d.crew.after != nil {
		return crewDoc(p, d.crew, p.File)
	}
	return nil
}

// offer shows what an answer leads to: options where there is no plan, and plans beside the one asked for.
func (p *page) offer(d *desk, a *Answer) {
	if a.Plan.Explained {
		for n, advice := range pages.Advice(a.Plan) {
			p.Options = append(p.Options,
				numbered{n + 1, words.Capital(doc.Bare(advice)), pages.AdviceInBrief(a.Plan, n)})
		}
		p.CanWiden = !a.Layout.Widened
	}
	if o := a.Plan.Others; o != nil {
		for n := range o.Rows {
			if row := &o.Rows[n]; row.Found && !row.This {
				p.Rows = append(p.Rows, numbered{n, cmp.Or(inShort(asked(row.Flags)), d.cases[0].name()),
					pages.OtherInBrief(a.Plan, row)})
			}
		}
	}
}

// showMoves shows moves, to be changed by hand.
func (p *page) showMoves(d *desk, moves train.Moves) {
	p.MoveRows, p.MovesWrong = d.moveRows(moves), nil
	for _, r := range p.MoveRows {
		for _, foot := range r.Feet {
			p.MovesWrong = append(p.MovesWrong, d.wrongOf(foot.Fields...)...)
		}
		p.MovesWrong = append(p.MovesWrong, d.wrongOf(r.Axial)...)
	}
}

// moveRows are moves, to be changed by hand.
func (d *desk) moveRows(moves train.Moves) []moveRow {
	w := words.FormatterOf(d.base.Train)
	signed := func(mm float64) string {
		n := words.Signed(w.Moved, mm, "%s", "-%s")
		if words.Number(n).Zero() {
			return ""
		}
		return n
	}
	var out []moveRow
	for i := range d.base.Train.Machines {
		m := &d.base.Train.Machines[i]
		if len(m.Feet) == 0 {
			continue
		}
		is := func(k int) (up, left, axial float64) {
			if i < len(moves) && k < len(moves[i]) {
				f := moves[i][k]
				return f.Up, f.Left, f.Axial
			}
			return 0, 0, 0
		}
		_, _, axial := is(0)
		r := moveRow{Head: words.Clean(m.Name),
			Axial: moveField(fmt.Sprintf("axial.%d", i), words.Clean(m.Name)+": along", signed(axial))}
		for k := range m.Feet {
			name := words.Clean(m.Feet[k].Name)
			up, left, _ := is(k)
			r.Feet = append(r.Feet, row{Head: name, Fields: []*field{
				moveField(fmt.Sprintf("up.%d.%d", i, k), r.Head+" "+name+": up", signed(up)),
				moveField(fmt.Sprintf("left.%d.%d", i, k), r.Head+" "+name+": left", signed(left)),
			}})
		}
		out = append(out, r)
	}
	return out
}

// moveField is one number of a move; the file has none.
func moveField(name, label, value string) *field {
	return &field{Name: name, Label: label, Value: value, Was: value}
}

// fragment is a document as a part of a page.
func fragment(of *doc.Doc, level int) (template.HTML, error) {
	var b bytes.Buffer
	if err := of.Fragment(&b, level); err != nil {
		return "", err
	}
	return template.HTML(b.String()), nil
}
