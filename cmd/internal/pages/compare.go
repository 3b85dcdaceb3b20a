package pages

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"leastmove/cmd/internal/doc"
	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
)

// CompareText writes the ways as a table, and beneath it what stands in the way
// of those that cannot be.
func CompareText(w io.Writer, c *view.Comparison, layout Page) error {
	t := c.Train
	p, s := &page{width: layout.width()}, formatterOf(t)
	p.Doc.Title = s.Title()
	p.Space()
	p.asked(layout)
	p.Say(s.asFound(c.AsFound))
	p.ways(s, c)
	p.obstacles(s, c)
	p.leastByCondition(s, &c.Ways[0])
	if c.Subsets != nil {
		p.subsets(s, c)
	}
	if c.Trade != nil {
		p.trade(s, c.Trade)
	}
	p.warnings(layout)
	return p.Doc.Text(w, p.width)
}

// ways is the table.
func (p *page) ways(s formatter, c *view.Comparison) {
	p.Heading("Ways to move the train")
	p.Say(fmt.Sprintf("Totals in %s%s. largest: move at one foot, up or sideways; share: largest share "+
		"of a coupling limit; room: nearest any moved foot comes to a limit of its own, negative where it breaks "+
		"one; gap: how much lower than this total the least of its kind can be at most, proven (optimality gap; open: not "+
		"proven)%s.",
		s.MoveUnit(), inWeights(c.Weighted), ofChance(c)))
	g := doc.Table{Columns: []doc.Column{
		doc.Wide("way"), doc.Number("total"), doc.Wide("moves"), doc.Number("largest"),
		doc.Number("feet"), doc.Number("share"), doc.Number("room"),
		doc.Number("gap"), doc.Number("chance"),
	}}
	for _, group := range c.Merged {
		g.Add(s.wayRow(c, group)...)
	}
	if !c.Chances {
		g.Drop(len(g.Columns) - 1)
	}
	p.Table(g)
	p.Say("Cascades and the straight line look at no limits: each coupling is set to what is wanted when running, " +
		"and what that breaks is listed below.")
}

// ofChance says what the chance is, where the file states errors.
func ofChance(c *view.Comparison) string {
	if !c.Chances {
		return ""
	}
	return "; chance: that every coupling ends within its limits, with the file's errors"
}

// inWeights says what the totals are where the file weighs them.
func inWeights(weighted bool) string {
	if weighted {
		return ", with the file's weights"
	}
	return ""
}

// wayRow is one line of the table, of ways that are the same plan.
func (s formatter) wayRow(c *view.Comparison, group []int) []string {
	w := &c.Ways[group[0]]
	p := w.Plan
	var names []string
	for _, n := range group {
		names = append(names, s.way(&c.Ways[n]))
	}
	name := strings.Join(names, ", ")
	switch {
	case p.Moves == nil:
		return []string{name, "-", p.Status.String(), "-", "-", "-", "-", "-", "-"}
	case len(p.Broken) > 0:
		name += "*"
	case p.Status == view.Planned && p.Missed:
		name += " (misses the aim)"
	}
	gap := ""
	if p.Status == view.Planned {
		if gap = "open"; s.Bound(p.Bound) != "" {
			gap = string(words.Ceil(100*p.Gap, 1)) + " %"
		}
	}
	sure := ""
	if p.Probability != nil {
		sure = chance(p.Probability.Within)
	}
	left := ""
	if w.Nearest != nil {
		left = string(s.Room(w.Nearest.Left))
	}
	return []string{
		name, string(s.Total(p.Total)), s.moved(w.Machines), string(s.Moved(p.Largest)), fmt.Sprint(w.Feet),
		words.Percent(p.Reached), left, gap, sure,
	}
}

// way is a way in words.
func (s formatter) way(w *view.Way) string {
	switch w.Kind {
	case view.ByHolding:
		return s.Machine(w.Machine) + " held"
	case view.ByCascade:
		return "cascade from " + s.Machine(w.Machine)
	case view.ByLine:
		return "best straight line"
	}
	return strategy(w.Strategy)
}

// strategy is a strategy in words.
func strategy(s view.Strategy) string {
	switch s {
	case view.Minimax:
		return "least largest move"
	case view.FewestMachines:
		return "fewest machines"
	case view.FewestFeet:
		return "fewest feet"
	case view.Closest:
		return "closest alignment"
	case view.RaiseOnly:
		return "raise only"
	}
	return "least total"
}

// obstacles lists why ways are impossible, fall short or break limits.
func (p *page) obstacles(s formatter, c *view.Comparison) {
	var ways [][]string // of each obstacle: the ways that it stands in
	var obstacles []string
	for k := range c.Ways {
		w := &c.Ways[k]
		words := s.obstacle(w)
		if words == "" {
			continue
		}
		n := slices.Index(obstacles, words)
		if n < 0 {
			n = len(obstacles)
			obstacles, ways = append(obstacles, words), append(ways, nil)
		}
		ways[n] = append(ways[n], s.way(w))
	}
	if len(obstacles) == 0 {
		return
	}
	var items []string
	for n, words := range obstacles {
		items = append(items, strings.Join(ways[n], ", ")+": "+words)
	}
	p.Heading("What stands in the way (* breaks limits)")
	p.Items(items...)
	if c.Ways[0].Plan.Status == view.Impossible {
		p.Say("Options: see leastmove plan.")
	}
}

// mostBroken is how many of the limits that a way breaks are named; the JSON has all.
const mostBroken = 4

func (s formatter) obstacle(w *view.Way) string {
	p := w.Plan
	t := &planText{formatter: s, plan: p}
	t.formatter.Train = p.Train
	var parts []string
	switch {
	case p.Status == view.Impossible && len(p.Conflict) == 0:
		parts = append(parts, "no plan exists (proven), nor with fewer machines held")
	case p.Status == view.Impossible:
		parts = append(parts, "no plan exists (proven); these limits cannot hold together: "+strings.Join(t.atOddsAll(),
			"; "))
	case p.Status == view.Undecided:
		parts = append(parts, "no plan was found, and it was not proven that there is none")
	case p.Status == view.Tried:
		if broken := t.broken(w.Broken); len(broken) > 0 {
			more := ""
			if n := len(broken) - mostBroken; n > 0 {
				broken, more = broken[:mostBroken], fmt.Sprintf("; and %d more", n)
			}
			parts = append(parts, "breaks limits: "+strings.Join(broken, "; ")+more)
		}
	case p.Status == view.Planned && p.Reached > p.Aim*(1+words.Fair):
		parts = append(parts, strings.TrimSuffix(t.missed(), "."))
	}
	if w.Unproven {
		parts = append(parts, "it was not proven that less is impossible")
	}
	if p.Cut != "" {
		parts = append(parts, words.Clean(p.Cut))
	}
	return strings.Join(parts, "; ")
}

// atOddsAll are the limits of a conflict.
func (t *planText) atOddsAll() []string {
	var out []string
	for _, g := range t.conflictGroups() {
		out = append(out, t.atOdds(g.member.Limit, g.feet))
	}
	return out
}

// broken are the limits that moves break.
func (t *planText) broken(limits []view.BrokenAll) []string {
	var out []string
	for _, l := range limits {
		out = append(out, t.beyond(l.Worst, l.Feet))
	}
	return out
}

// worstHot says in which condition feet are furthest past a limit of theirs; "" where that is cold.
func (t *planText) worstHot(l view.Limit) string {
	if l.Coupling >= 0 || l.Condition < 0 {
		return ""
	}
	return " (most in " + t.Condition(l.Condition) + ")"
}

// beyond says how far past a limit moves go.
func (t *planText) beyond(e view.Constraint, feet []int) string {
	by, where := t.withUnit(e.Kind, e.Value-e.Bound), ""
	if len(feet) > 0 {
		by, where = "up to "+by, " at "+t.FeetOf(e.Machine, feet)+t.worstHot(e.Limit)
	}
	machine := ""
	if e.Machine >= 0 {
		machine = t.Machine(e.Machine)
	}
	return t.filled(words.PhrasesOf(e.Kind, e.Bound).Broken, e, "{machine}", machine, "{where}", where, "{by}", by)
}
