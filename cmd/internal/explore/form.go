package explore

import (
	"cmp"
	"encoding/json"
	"fmt"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"leastmove/cmd/internal/doc"
	"leastmove/cmd/internal/pages"
	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
	"leastmove/train"
	"leastmove/train/trainfile/rewrite"
)

// do does what a form asks for. What can't be done is said.
func (d *desk) do(f url.Values) {
	d.said = ""
	if d.base.Train == nil {
		d.said = "The file can't be used as it is: see its faults."
		return
	}
	at, was := d.now, len(d.current().changes)
	defer func() { // a case that was started by a question goes with its last one
		if c := d.current(); d.now == at && was > 0 && len(c.changes) == 0 && c.asked && c.given == "" {
			d.away()
		}
	}()
	d.retyped(f)
	switch what := f.Get("what"); what {
	case "machine":
		d.machine(f.Get("name"), f.Get("to"))
	case "aim":
		d.aim(f)
	case "values":
		d.values(f)
	case "option":
		d.option(f.Get("number"))
	case "widen":
		d.ask(&change{words: "wider coupling limits as options too", flags: []string{"--widen"}})
	case "take":
		d.take(f.Get("row"))
	case "moves":
		d.moves(f)
	case "undo":
		id, _ := strconv.Atoi(f.Get("id"))
		d.undo(func(c *change) bool { return c.id == id })
	case "look":
		if n, err := strconv.Atoi(f.Get("case")); err == nil && n >= 0 && n < len(d.cases) {
			d.now = n
		}
	case "another":
		d.start(&acase{})
	case "copy":
		d.start(&acase{changes: d.current().changes, own: d.current().own})
	case "name":
		d.rename(f.Get("name"))
	case "away":
		d.away()
	case "anew":
		d.anew()
	case "leave":
		d.crew = nil
	default:
		d.said = "This page is of another version: load it anew."
	}
}

// machine holds or frees one; "file": as the file has it.
func (d *desk) machine(name, to string) {
	if !slices.ContainsFunc(d.base.Train.Machines, func(m train.Machine) bool { return m.Name == name }) {
		return
	}
	switch to {
	case "hold", "free":
		d.ask(flagged("--"+to, name))
	case "file":
		d.undo(func(c *change) bool { return c.about() == "machine "+name })
	}
}

// away takes away the case that is looked at; the file as it is stays.
func (d *desk) away() {
	if d.now > 0 {
		d.cases = slices.Delete(d.cases, d.now, d.now+1)
		d.now--
	}
}

// undo takes back changes of the case that is looked at.
func (d *desk) undo(which func(*change) bool) {
	if d.now > 0 {
		c := d.current().with(d.current().changes)
		c.drop(which)
		d.cases[d.now] = c
	}
}

// flag is the value of a flag in the case that is looked at; "": it is not given.
func (d *desk) flag(name string) string {
	for _, c := range d.current().changes {
		for n := 0; n+1 < len(c.flags); n += 2 {
			if c.flags[n] == name {
				return c.flags[n+1]
			}
		}
	}
	return ""
}

// aim sets what is made least and what share of the limits may be used.
func (d *desk) aim(f url.Values) {
	var all []*change
	var wrong faults
	share := func(fl *field) string {
		typed := strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(f.Get(fl.Name)), "%"))
		if typed == "" {
			return ""
		}
		n, ok := number(typed)
		x, err := strconv.ParseFloat(n, 64)
		if !ok || err != nil || !(x > 0 && x <= 100) {
			wrong.add(fl, fmt.Sprintf("%q is no share: a number above 0, at most 100 %%.", short(f.Get(fl.Name))))
		}
		return strconv.FormatFloat(x/100, 'g', 6, 64)
	}
	set := func(flag, to string) {
		switch {
		case to == d.flag(flag):
		case to == "": // as the file has it
			d.undo(func(c *change) bool { return c.flag() == flag })
		default:
			all = append(all, flagged(flag, to))
		}
	}
	fields := d.aimed()
	use, chance := share(fields.Use), share(fields.Chance)
	if d.faulty(f, wrong) {
		return
	}
	strategy := f.Get("strategy")
	if strategy == "least-total" {
		strategy = ""
	}
	set("--strategy", strategy)
	set("--use", use)
	set("--assure", chance)
	d.ask(all...)
}

func percent(share string) string {
	x, _ := strconv.ParseFloat(share, 64)
	return strconv.FormatFloat(x*100, 'g', 6, 64) + " %"
}

func short(s string) string {
	if r := []rune(s); len(r) > 40 {
		return string(r[:40]) + "…"
	}
	return words.Clean(s)
}

// values sets values of the file: those of the form that are not as the case has them.
func (d *desk) values(f url.Values) {
	q := d.current().question(d.base)
	now, err := rewrite.Open(q.Text)
	if err != nil {
		d.said = "The file with the changes can't be read: " + err.Error()
		return
	}
	var all []*change
	var back []string
	var wrong faults
	for _, p := range panels(d.base.Train, d.current().on(d.base).fields, now) {
		for _, g := range p.Groups {
			factor := 1.0
			if g.Scale != nil && strings.TrimSpace(f.Get(g.Scale.Name)) != "" {
				typed := f.Get(g.Scale.Name)
				n, ok := number(typed)
				if factor, err = strconv.ParseFloat(n, 64); !ok || err != nil {
					wrong.add(g.Scale, noNumber(typed))
					factor = 1
				}
			}
			for fl := range g.fields() {
				if !f.Has(fl.Name) && factor == 1 {
					continue
				}
				typed := strings.TrimSpace(f.Get(fl.Name))
				if factor != 1 && fl.Was != "" {
					typed = times(fl.Was, factor)
				}
				n, ok := number(typed)
				switch {
				case typed == fl.Value:
				case typed == "" || typed == fl.Was:
					back = append(back, fl.Name)
				case !ok:
					wrong.add(fl, noNumber(typed))
				default:
					all = append(all, fl.changed(n))
				}
			}
		}
	}
	if d.faulty(f, wrong) {
		return
	}
	d.undo(func(c *change) bool { return c.set != nil && slices.Contains(back, strings.Join(c.set.Path, ".")) })
	d.ask(all...)
}

// changed is a field with another value.
func (f *field) changed(to string) *change {
	what := f.Label + " " + to
	return &change{words: what + inFile(f.Was), short: what,
		set: &rewrite.Setting{Path: strings.Split(f.Name, "."), Value: to}}
}

// times is a value of the file multiplied, rounded as far as anyone measures.
func times(value string, by float64) string {
	x, err := strconv.ParseFloat(strings.ReplaceAll(value, "_", ""), 64)
	if err != nil {
		return value
	}
	s := strconv.FormatFloat(x*by, 'f', 4, 64)
	s = strings.TrimSuffix(strings.TrimRight(s, "0"), ".")
	if s == "-0" {
		s = "0"
	}
	return s
}

// shown is the plan of the case that is looked at; nil: there is none.
func (d *desk) shown() *view.Plan {
	a := d.answers[d.current().question(d.base).key()]
	if a == nil {
		return nil
	}
	return a.Plan
}

// take starts a case with a plan beside the one that is shown: the flags that give it.
func (d *desk) take(number string) {
	p := d.shown()
	n, err := strconv.Atoi(number)
	if err != nil || p == nil || p.Others == nil || n < 0 || n >= len(p.Others.Rows) {
		d.said = "That plan is not there any more."
		return
	}
	if !d.beside() {
		return
	}
	d.undo(func(c *change) bool {
		return c.flag() == "--use" || c.flag() == "--strategy" || c.flag() == "--assure"
	})
	d.ask(slices.DeleteFunc(asked(p.Others.Rows[n].Flags), func(c *change) bool {
		return slices.ContainsFunc(d.current().changes, func(o *change) bool { return slices.Equal(c.flags, o.flags) })
	})...)
}

// option starts a case with an option of a train without a plan.
func (d *desk) option(number string) {
	n, err := strconv.Atoi(number)
	p := d.shown()
	if err != nil || p == nil || n < 1 || n > len(p.Relaxations) {
		d.said = "That option is not there any more."
		return
	}
	if d.beside() {
		c := flagged("--relieve", strconv.Itoa(n))
		c.short = "option " + strconv.Itoa(n)
		c.words = c.short + ": " + doc.Bare(pages.Advice(p)[n-1])
		d.ask(c)
	}
}

// rename gives the case that is looked at a name; none: what its changes say.
func (d *desk) rename(name string) {
	c := d.current().with(d.current().changes)
	c.given = caseName(name)
	if d.now == 0 {
		c.given = cmp.Or(c.given, asFiled)
	}
	d.cases[d.now] = c
}

func caseName(typed string) string { return strings.TrimSpace(short(typed)) }

// typedMoves are moves that were typed, as the command reads them: what is up, left and along in the units of the file.
type typedMoves struct {
	Units    string         `json:"units"`
	Machines []typedMachine `json:"machines"`
}

type typedMachine struct {
	Name  string      `json:"name"`
	Axial json.Number `json:"axial"`
	Feet  []typedFoot `json:"feet"`
}

type typedFoot struct {
	Name string      `json:"name"`
	Up   json.Number `json:"up"`
	Left json.Number `json:"left"`
}

// typed are the moves of a case in mm, where some were typed; nil: none, or they are in other units than those of the
// file now.
func (c *acase) typed(units train.Units) train.Moves {
	at := slices.IndexFunc(c.changes, func(ch *change) bool { return ch.plan != nil })
	if at < 0 {
		return nil
	}
	var all typedMoves
	if json.Unmarshal(c.changes[at].plan, &all) != nil || all.Units != units.String() {
		return nil
	}
	mm := func(n json.Number) float64 {
		x, _ := n.Float64()
		return x * units.Move()
	}
	out := make(train.Moves, len(all.Machines))
	for i, m := range all.Machines {
		for _, f := range m.Feet {
			out[i] = append(out[i], train.FootMove{Up: mm(f.Up), Left: mm(f.Left), Axial: mm(m.Axial)})
		}
	}
	return out
}

// moves takes the moves that were typed for a plan.
func (d *desk) moves(f url.Values) {
	out := typedMoves{Units: d.base.Train.Units.String(), Machines: []typedMachine{}}
	var wrong faults
	typed := func(fl *field) json.Number {
		s := strings.TrimSpace(f.Get(fl.Name))
		if s == "" {
			return "0"
		}
		n, ok := number(s)
		if !ok {
			wrong.add(fl, noNumber(s))
		}
		return json.Number(strings.TrimPrefix(n, "+"))
	}
	rows := d.moveRows(nil)
	for i := range d.base.Train.Machines {
		m := &d.base.Train.Machines[i]
		g := typedMachine{Name: m.Name, Axial: "0"}
		if len(m.Feet) > 0 {
			g.Axial = typed(rows[0].Axial)
			for k, foot := range rows[0].Feet {
				g.Feet = append(g.Feet, typedFoot{Name: m.Feet[k].Name, Up: typed(foot.Fields[0]), Left: typed(foot.Fields[1])})
			}
			rows = rows[1:]
		}
		out.Machines = append(out.Machines, g)
	}
	if d.faulty(f, wrong) {
		return
	}
	text, err := json.MarshalIndent(out, "", " ")
	if err != nil {
		d.said = err.Error()
		return
	}
	d.ask(&change{words: "moves typed by hand", plan: text})
}
