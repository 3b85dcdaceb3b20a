package pages

import (
	"fmt"
	"slices"
	"strings"

	"leastmove/cmd/internal/doc"
	"leastmove/cmd/internal/words"
)

// The most lines of some sections of the short page.
const (
	mostLimits = 3
	mostChecks = 6
)

// limitsShort is what limits the plan.
func (t *planText) limitsShort() {
	groups := t.endGroups()
	if len(groups) == 0 {
		t.head("What limits the plan", ": no limit is reached, whole steps of shims and dials decide")
		return
	}
	more := ""
	if len(groups) > mostLimits {
		more = fmt.Sprintf(" (%d of %d)", mostLimits, len(groups))
		groups = groups[:mostLimits]
	}
	t.head("What limits the plan", more)
	t.Items(groups...)
}

// endGroups are the limits that are reached, what is said of several feet of a machine once.
func (t *planText) endGroups() []string {
	type group struct {
		machine int
		feet    []int
		words   string // after the feet; of others all of it
	}
	var groups []group
next:
	for _, e := range t.plan.Ends {
		if e.Machine < 0 || e.Foot < 0 {
			text := t.end(t.plan, e)
			if e.Coupling >= 0 {
				text = t.filled("{at}: "+words.LimitName(e.Kind)+" {value} of {bound} ({share})", e)
			}
			groups = append(groups, group{-1, nil, text})
			continue
		}
		rest := t.hot(e.Limit) + strings.TrimPrefix(t.end(t.plan, e), t.at(e.Limit))
		for i := range groups {
			if groups[i].machine == e.Machine && groups[i].words == rest {
				groups[i].feet = append(groups[i].feet, e.Foot)
				continue next
			}
		}
		groups = append(groups, group{e.Machine, []int{e.Foot}, rest})
	}
	var out []string
	for _, g := range groups {
		switch {
		case g.machine < 0:
			out = append(out, g.words)
		case len(g.feet) > 1 && len(g.feet) == len(t.Train.Machines[g.machine].Feet):
			out = append(out, t.Machine(g.machine)+", every foot"+g.words)
		default:
			out = append(out, t.Machine(g.machine)+" "+t.FeetOf(g.machine, g.feet)+g.words)
		}
	}
	return out
}

// othersShort are the other plans of this run.
func (t *planText) othersShort() {
	if t.plan.Others == nil || len(t.plan.Others.Rows) == 0 {
		return
	}
	t.head("Other plans", t.othersIn()+"; leastmove plan with its flags prints one")
	t.others()
}

// others are the other plans and what is proven of all.
func (t *planText) others() {
	o := t.plan.Others
	t.Table(t.othersTable())
	if needed := t.needed(); needed != "" && (!t.Isolated || t.chanceMissed()) { // a report has it at its verdict
		t.Say(words.Capital(needed) + ".")
	}
	if m := o.Missed; m != nil && m.Lowest >= 0 {
		low := &o.Rows[m.Lowest]
		missed := fmt.Sprintf("The aim of %s can't be kept.", provenFor(m.Aim))
		if !t.plan.Unreachable {
			missed = fmt.Sprintf("No plan that keeps the aim of %s was found.", words.Percent(m.Aim))
		}
		t.Say(missed + fmt.Sprintf(" The plan has the least total within %s of the lowest share found, %s, which costs %s.",
			string(words.Fixed(100*m.Above, 0))+" points", words.Percent(low.Share),
			words.With(t.Total(low.Total), t.MoveUnit())))
	}
}

// needed names the machines that no plan leaves where they are; "": none is known.
func (t *planText) needed() string {
	o := t.plan.Others
	if o == nil || o.Needed == nil {
		return ""
	}
	return "without " + words.Or(t.Machines(o.Needed)) + " nothing stays within " + words.Percent(o.Use) +
		" of the limits (proven)"
}

// othersIn is the unit of the other plans' totals.
func (t *planText) othersIn() string {
	if t.plan.Others.Weighted {
		return ", total in " + t.MoveUnit() + ", weighted"
	}
	return ", total in " + t.MoveUnit()
}

// othersTable has one row a plan, with the flags that print it.
func (t *planText) othersTable() doc.Table {
	g := doc.Table{Columns: []doc.Column{
		doc.Number("total"), doc.Number("of limit"), doc.Number("chance"), doc.Wide("moves"), doc.Number("feet"),
		doc.Wide("flags"),
	}}
	for _, o := range t.plan.Others.Rows {
		flags := words.Flags(o.Flags)
		switch {
		case o.This:
			flags = "this plan"
		case flags == "":
			flags = "none"
		}
		if !o.Found {
			none := "none found"
			if q := &o.Questions[0]; o.None && q.Chance == 0 {
				none = "none within " + words.Percent(q.Use) + " (proven)"
			} else if o.None {
				none = "none (proven)"
			}
			if o.Highest >= 0 {
				none = strings.TrimSuffix(none, " found") + ", best " + chance(o.Highest)
			}
			g.Add("-", "-", "-", none, "-", flags)
			continue
		}
		within := "-"
		if o.Chance >= 0 {
			within = chance(o.Chance)
		}
		g.Add(string(t.Total(o.Total)), words.Percent(o.Share), within, t.moved(o.Machines), fmt.Sprint(o.Feet), flags)
	}
	if t.plan.Chance == nil {
		g.Drop(2)
	}
	return g
}

// moved names machines that move in as few words as will do.
func (t formatter) moved(machines []int) string {
	var stay []int
	for i := range t.Train.Machines {
		if !slices.Contains(machines, i) {
			stay = append(stay, i)
		}
	}
	switch {
	case len(machines) == 0:
		return "none"
	case len(stay) == 0:
		return "all"
	case len(stay) < len(machines) && len(machines) > 2:
		return "all but " + words.And(t.Machines(stay))
	}
	return words.And(t.Machines(machines))
}

// otherPlans are the other plans under a heading.
func (t *planText) otherPlans() {
	if t.plan.Others != nil && len(t.plan.Others.Rows) > 0 {
		t.Heading("Other plans" + t.othersIn())
		t.others()
	}
}

// checksShort are the inputs to check, each on one line.
func (t *planText) checksShort(layout Page) {
	var items []string
	if t.plan.Chance != nil && t.plan.Looser != nil {
		var names []string
		for _, l := range t.plan.Looser {
			names = append(names, t.Coupling(l.Coupling))
		}
		items = append(items, t.byWord("larger errors than [errors] counted, as the readings show: "+strings.Join(names,
			", ")))
	}
	for _, w := range layout.Warnings {
		items = append(items, t.oneLine(warned(w)))
	}
	for _, s := range unstatedShort(t.plan.Unstated) {
		items = append(items, t.byWord("not stated: "+words.Clean(s)))
	}
	if items == nil {
		return
	}
	more := ""
	if n := len(items); n > mostChecks {
		more = fmt.Sprintf(" (%d of %d)", mostChecks, n)
		items = items[:mostChecks]
	}
	t.Space()
	t.Say("Check these inputs" + more)
	t.Items(items...)
}

// unstatedShort are what a file does not state, what is open for several machines or couplings once:
// "whose: what" is said as "what: whose, whose".
func unstatedShort(all []string) []string {
	var order []string
	of := make(map[string][]string)
	for _, s := range all {
		whose, what, both := strings.Cut(s, ": ")
		if !both {
			what, whose = s, ""
		}
		if _, there := of[what]; !there {
			order = append(order, what)
		}
		if whose != "" {
			of[what] = append(of[what], whose)
		} else {
			of[what] = nil
		}
	}
	for n, what := range order {
		if of[what] != nil {
			order[n] = what + ": " + strings.Join(of[what], ", ")
		}
	}
	return order
}

// oneLine is as much of a sentence as fits on the line of a list: up to the end of a
// clause, or else of a word.
func (t *planText) oneLine(s string) string {
	room, runes := t.width-2, []rune(s)
	if len(runes) <= room {
		return s
	}
	for i := room; i > room/2; i-- {
		if (runes[i] == ';' || runes[i] == ':') && runes[i+1] == ' ' {
			return string(runes[:i])
		}
	}
	return t.byWord(s)
}

// byWord is as much of a sentence as fits on the line of a list, in whole words.
func (t *planText) byWord(s string) string {
	const more = " ..."
	room, runes := t.width-2, []rune(s)
	if len(runes) <= room {
		return s
	}
	cut := room - len(more)
	for i := cut; i > 0; i-- {
		if runes[i] == ' ' {
			cut = i
			break
		}
	}
	return string(runes[:cut]) + more
}
