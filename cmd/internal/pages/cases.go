package pages

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"leastmove/cmd/internal/doc"
	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
)

// A Beside is one of some plans that are set side by side.
type Beside struct {
	Name    string
	Asked   []string       // what was asked for, in words
	Command string         // that prints it
	Plan    *view.Plan     // nil: there is none yet
	Given   *view.Replayed // of moves that were given; nil: the plan was made
	Going   bool           // it is searched still: the plan is what is known so far, nil: nothing
	Stopped bool           // the search for it was stopped: the plan is what was known by then
}

// SideBySide is a table of plans, the first of them the one that the others are held against.
func SideBySide(all []Beside) *doc.Doc { return &doc.Doc{Blocks: []doc.Block{besides(all)}} }

// CasesDoc is that table to be handed on, with the moves of every plan.
func CasesDoc(of *view.Train, file string, all []Beside) *doc.Doc {
	f := formatterOf(of)
	d := &doc.Doc{
		Title: f.Title(), Short: f.Title(), Name: f.Title() + ": side by side",
		Facts: []doc.Fact{{Name: "train file", Value: words.Clean(file), IsName: true},
			{Name: "units", Value: "moves in " + f.MoveUnit() + ", angles in mrad"}},
		Blanks: []string{"Date"},
		Blocks: part("cases", "Side by side", "", []doc.Block{besides(all)}),
	}
	for n, b := range all {
		t := &planText{formatter: f, plan: b.Plan}
		if b.Plan != nil {
			t.formatter = formatterFor(b.Plan)
		}
		t.Isolated = true
		d.Blocks = append(d.Blocks, part(fmt.Sprintf("case-%d", n), isolated(b.Name), "", t.said(func() {
			t.Items(b.Asked...)
			if b.Plan == nil {
				return
			}
			t.Say(b.InBrief())
			for n, advice := range Advice(b.Plan) {
				t.Item(words.Capital(advice) + ": " + AdviceInBrief(b.Plan, n))
			}
			t.Say("By the command: " + words.Clean(b.Command))
			if b.Plan.Moves != nil {
				t.movesShort()
			}
		}))...)
	}
	return d
}

// isolated is a name that may be written from right to left.
func isolated(name string) string { return doc.Isolate + words.Clean(name) + doc.Resume }

// besides is the table: one column a plan.
func besides(all []Beside) *doc.Table {
	var base *view.Plan
	if all[0].Plan != nil {
		base = all[0].Plan
	}
	g := &doc.Table{Caption: "Side by side", Implied: true, Columns: []doc.Column{{Head: ""}}}
	for _, b := range all {
		g.Columns = append(g.Columns, doc.Column{Head: isolated(b.Name), Wraps: true})
	}
	row := func(name string, say func(b *Beside) string) {
		cells := []string{name}
		for n := range all {
			cells = append(cells, say(&all[n]))
		}
		g.Add(cells...)
	}
	moves := func(say func(s *planText, o *view.Outcome) string) func(b *Beside) string {
		return func(b *Beside) string {
			if b.Plan == nil || b.Plan.Moves == nil {
				return "–"
			}
			s := &planText{formatter: formatterFor(b.Plan), plan: b.Plan}
			s.Isolated = true
			out := view.OutcomeOf(b.Plan)
			return say(s, &out)
		}
	}
	if slices.ContainsFunc(all, func(b Beside) bool { return b.Asked != nil && b.Asked[0] != b.Name }) {
		row("asked for", func(b *Beside) string { return cmp.Or(strings.Join(b.Asked, "; "), "–") })
	}
	row("verdict", (*Beside).verdict)
	row("aim", (*Beside).aim)
	weighs := slices.ContainsFunc(all, func(b Beside) bool {
		return b.Plan != nil && (&planText{formatter: formatterFor(b.Plan), plan: b.Plan}).weighted()
	})
	row("total", moves(func(s *planText, _ *view.Outcome) string { return s.totalsWith(weighs) }))
	if len(all) > 1 {
		row("beside "+isolated(all[0].Name), moves(func(s *planText, _ *view.Outcome) string {
			if base == nil || base.Moves == nil || s.plan == base {
				return "–"
			}
			was := planText{formatter: formatterFor(base), plan: base}
			text := s.more(s.Total(s.plan.Plain), was.Total(base.Plain))
			if weighs {
				text += fmt.Sprintf(" (weighted: %s)", s.more(s.Total(s.plan.Total), was.Total(base.Total)))
			}
			return text
		}))
	}
	row("machines", moves(func(s *planText, o *view.Outcome) string {
		if len(o.Machines) == 0 {
			return "none"
		}
		return fmt.Sprintf("%d: %s", len(o.Machines), words.And(s.Machines(o.Machines)))
	}))
	row("feet", moves(func(_ *planText, o *view.Outcome) string { return fmt.Sprint(o.Feet) }))
	row("largest move", moves(func(s *planText, _ *view.Outcome) string {
		return words.With(s.Moved(s.plan.Largest), s.MoveUnit())
	}))
	row("share of limit", moves(func(s *planText, _ *view.Outcome) string { return words.Percent(s.plan.Reached) }))
	row("chance", moves(func(s *planText, _ *view.Outcome) string {
		if s.plan.Chance == nil {
			return "–"
		}
		return chance(s.plan.Chance.Within)
	}))
	return g
}

// more is how much a total is more than another, of the figures as they are shown.
func (s formatter) more(total, than words.Number) string {
	value := func(n words.Number) float64 { // mm
		x, _ := strconv.ParseFloat(string(n), 64)
		return x * s.Units.Move()
	}
	by := value(total) - value(than)
	if s.Total(math.Abs(by)).Zero() {
		return "the same"
	}
	return words.Signed(s.Total, by, "+%s ", "−%s ") + s.MoveUnit()
}

// verdict is that of a plan, or of moves that were given, in a word or two, and whether the search had its end.
func (b *Beside) verdict() string {
	switch {
	case b.Plan == nil && b.Going:
		return "searching"
	case b.Going:
		return b.judged() + " (still searching)"
	case b.Plan == nil || !b.Stopped:
		return b.judged()
	case b.Plan.Moves == nil:
		return b.judged() + " (search stopped)"
	}
	return b.judged() + " (search stopped: may not be the least)"
}

// judged is the verdict alone.
func (b *Beside) judged() string {
	p := b.Plan
	switch {
	case p == nil:
		return "–"
	case b.Given != nil && !b.Given.Holds:
		return "breaks limits"
	case b.Given != nil && p.Verdict != nil:
		return verdictInBrief(p.Verdict) + "; keeps the limits" + map[bool]string{true: ", not the aim",
			false: " and the aim"}[b.Given.Missed]
	case p.Status == view.Planned && p.Verdict != nil:
		return verdictInBrief(p.Verdict)
	case p.Status == view.Within:
		return "nothing needs to move"
	case p.Explained && len(p.Relaxations) > 0:
		return "no plan; " + words.Plural(len(p.Relaxations), "option")
	case p.Explained:
		return "no plan"
	}
	return status(p)
}

// verdictName is a kind of verdict in a word or two.
func verdictName(k view.VerdictKind) string {
	return map[view.VerdictKind]string{view.CarryOut: "carry out", view.Marginal: "marginal",
		view.NotAdvised: "not advised", view.NotJudged: "not judged"}[k]
}

// verdictInBrief is a verdict in a word or two, with what it falls short of.
func verdictInBrief(v *view.PlanVerdict) string {
	text := verdictName(v.Kind)
	switch v.Reason {
	case view.ChanceShort, view.ChanceLow:
		return fmt.Sprintf("%s (chance %s, %s %% wanted)", text, chance(v.Chance), words.Fixed(100*v.Wanted, 1).Short())
	case view.LimitsBroken:
		return text + " (breaks limits)"
	}
	return text
}

// aim is the share of the limits that was aimed at, and where it was given up what is reached in its place.
func (b *Beside) aim() string {
	p := b.Plan
	switch {
	case p == nil || p.Moves == nil || !(p.Aim > 0):
		return "–"
	case p.Missed:
		return fmt.Sprintf("NOT MET: %s instead of %s", words.Percent(p.Reached), words.Percent(p.Aim))
	}
	return words.Percent(p.Aim)
}

// Advice are the options of a train without a plan in words, in the order of their numbers.
func Advice(p *view.Plan) []string {
	f := formatterFor(p)
	f.Isolated = true
	var out []string
	for _, r := range p.Relaxations {
		out = append(out, f.advice(r))
	}
	return out
}

// AdviceInBrief is what comes of an option, in a few words.
func AdviceInBrief(p *view.Plan, n int) string {
	r := &p.Relaxations[n]
	return "a plan of " + formatterFor(p).totals(view.PlainOf(p.Train, r), r.Total) + " at all of the limits"
}

// InBrief is what comes of a plan, in a sentence.
func (b *Beside) InBrief() string {
	text := words.Capital(b.verdict())
	if b.Plan.Moves == nil {
		return text + "."
	}
	t := &planText{formatter: formatterFor(b.Plan), plan: b.Plan}
	out := view.OutcomeOf(b.Plan)
	return fmt.Sprintf("%s: total %s, %s moved, worst share of limit %s.", text,
		t.inAll(), words.Plural(len(out.Machines), "machine"), words.Percent(b.Plan.Reached))
}

// inAll is the total, and what the file's weights make of it.
func (t *planText) inAll() string { return t.totals(t.plan.Plain, t.plan.Total) }

// totalsWith is the total, and beside others that weights change what the weights make of it, whether that is another
// one or not.
func (t *planText) totalsWith(weights bool) string {
	if !weights {
		return t.inAll()
	}
	return fmt.Sprintf("%s (%s weighted)", words.With(t.Total(t.plan.Plain), t.MoveUnit()), t.Total(t.plan.Total))
}

// totals are a total in mm, and what the file's weights make of it where that is another one.
func (s formatter) totals(plain, weighted float64) string {
	text := words.With(s.Total(plain), s.MoveUnit())
	if w := s.Total(weighted); w != s.Total(plain) {
		text += fmt.Sprintf(" (%s weighted)", w)
	}
	return text
}

// OtherInBrief is what comes of a plan beside another one, in a few words.
func OtherInBrief(p *view.Plan, row *view.OtherPlan) string {
	f := formatterFor(p)
	text := fmt.Sprintf("%s, %s, %s of limit", f.totals(row.Plain, row.Total),
		words.Plural(len(row.Machines), "machine"), words.Percent(row.Share))
	if row.Chance >= 0 {
		text += ", chance " + chance(row.Chance)
	}
	return text
}
