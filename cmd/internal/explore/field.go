package explore

import (
	"fmt"
	"iter"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"leastmove/cmd/internal/pages"
	"leastmove/cmd/internal/words"
	"leastmove/train"
	"leastmove/train/trainfile/rewrite"
)

// A field is one value of the train file that can be another in a case.
type field struct {
	Name  string // of the input: its path, joined by dots
	Label string // all of it, for those who do not see where it stands
	Value string // as the case has it; "": not stated
	Was   string // as the file has it
	Wrong string // what is wrong with what was typed; "": nothing
}

// Changed says whether the case has another value than the file.
func (f *field) Changed() bool { return f.Value != f.Was }

// InFile is what the file has.
func (f *field) InFile() string {
	if f.Was == "" {
		return "not stated in the file"
	}
	return f.Was + " in the file"
}

// A row is fields side by side under heads; one without a name is left out.
type row struct {
	Head   string
	Fields []*field
}

// limitsCaption heads the limits of a coupling.
const limitsCaption = "Limits"

// A group is a table of fields.
type group struct {
	Caption string
	Heads   []string
	Rows    []row
	Scale   *field // by which all of them are multiplied; nil: none
}

// Named says whether its rows have names.
func (g *group) Named() bool {
	return slices.ContainsFunc(g.Rows, func(r row) bool { return r.Head != "" })
}

// fields are all of a group, row by row, without the factor.
func (g *group) fields() iter.Seq[*field] {
	return func(yield func(*field) bool) {
		for _, r := range g.Rows {
			for _, f := range r.Fields {
				if !yield(f) {
					return
				}
			}
		}
	}
}

// A panel is what can be asked of a machine or a coupling.
type panel struct {
	ID, Heading string
	Coupling    bool
	Machine     string // its name; "": a coupling
	Held        bool   // the file holds it
	Asked       string // "hold" or "free", where the case asks for it
	Groups      []group
	Changed     bool
	Wrong       []*field // that can't be used as they were typed
}

// Kind is what it is; "": its name says so.
func (p *panel) Kind() string {
	kind := "Machine"
	if p.Coupling {
		kind = "Coupling"
	}
	if strings.Contains(strings.ToLower(p.Heading), strings.ToLower(kind)) {
		return ""
	}
	return kind
}

// fields are all of a panel, with the factors.
func (p *panel) fields() iter.Seq[*field] {
	return func(yield func(*field) bool) {
		for _, g := range p.Groups {
			for f := range g.fields() {
				if !yield(f) {
					return
				}
			}
			if g.Scale != nil && !yield(g.Scale) {
				return
			}
		}
	}
}

// panels are those of a train: machines and couplings in their order.
func panels(t *train.Train, was, now *rewrite.Text) []panel {
	p := &paneller{Formatter: words.FormatterOf(t), t: t, was: was, now: now}
	var out []panel
	for i := range t.Machines {
		out = append(out, p.machine(i))
		if i < len(t.Couplings) {
			out = append(out, p.coupling(i))
		}
	}
	for n := range out {
		for f := range out[n].fields() {
			out[n].Changed = out[n].Changed || f.Changed()
		}
	}
	return out
}

type paneller struct {
	words.Formatter
	t        *train.Train
	was, now *rewrite.Text
}

// field is one at a path.
func (p *paneller) field(label string, path ...string) *field {
	return &field{Name: strings.Join(path, "."), Label: label, Value: p.now.Value(path...), Was: p.was.Value(path...)}
}

// scaleOf is the factor of all values at a path.
func scaleOf(whose string, path []string) *field {
	return &field{Name: "scale." + strings.Join(path, "."), Label: whose + ": all of it times"}
}

// A column is a key of the train file, what it is called and its unit.
type column struct{ key, name, unit string }

// grown are the numbers of growth.
func (p *paneller) grown() []column {
	unit := p.MoveUnit()
	return []column{{"v", "up", unit}, {"h", "left", unit}, {"a", "along", unit}}
}

func (p *paneller) machine(i int) panel {
	m, at := &p.t.Machines[i], []string{"machine", strconv.Itoa(i)}
	out := panel{ID: fmt.Sprintf("machine-%d", i), Heading: words.Clean(m.Name), Machine: m.Name, Held: m.Hold}
	length, move := p.LengthUnit(), p.MoveUnit()
	feet := []column{{"hole", "hole", length}, {"bolt", "bolt", length}, {"shim", "pack now", move},
		{"lower", "most out", move}, {"raise", "most in", move}, {"travel.left", "travel left", move},
		{"travel.right", "travel right", move}, {"rise", "rise", ""}}
	var rows []row
	for k := range p.was.Len(append(at, "foot")...) {
		foot := append(at[:2:2], "foot", strconv.Itoa(k))
		rows = append(rows, p.rowOf(words.Clean(unquoted(p.was.Value(append(foot, "name")...))), out.Heading, foot, feet))
	}
	out.Groups = append(out.Groups, p.growth(out.Heading, at)...)
	out.Groups = p.add(out.Groups, group{Caption: "Feet: holes, bolts and packs", Rows: rows}, feet)
	return out
}

// growth are the numbers of a machine's growth and of its shafts'.
func (p *paneller) growth(whose string, at []string) []group {
	var out []group
	if n := p.was.Len(append(at[:2:2], "growth")...); n > 0 {
		out = p.add(out, p.stations("Growth from cold to running", whose, append(at[:2:2], "growth"), n), p.grown())
	}
	for k := range p.was.Len(append(at[:2:2], "shaft")...) {
		shaft := append(at[:2:2], "shaft", strconv.Itoa(k))
		if n := p.was.Len(append(shaft, "growth")...); n > 0 {
			name := words.Clean(unquoted(p.was.Value(append(shaft, "name")...)))
			out = p.add(out, p.stations("Growth of "+name, whose+" "+name, append(shaft, "growth"), n), p.grown())
		}
	}
	if p.was.Value(append(at[:2:2], "rise")...) != "" {
		c := []column{{"rise", "rise in temperature", "°"}}
		out = p.add(out, group{Caption: "Growth from cold to running", Rows: []row{p.rowOf("", whose, at, c)}}, c)
	}
	if len(out) > 0 {
		out[0].Scale = scaleOf(whose+" growth", append(at, "growth"))
	}
	return out
}

// stations are growth at one station or two.
func (p *paneller) stations(caption, whose string, at []string, n int) group {
	g := group{Caption: caption}
	for k := range n {
		path := append(at[:len(at):len(at)], strconv.Itoa(k))
		name := "all of it"
		if n > 1 {
			name = "at " + p.was.Value(append(path, "x")...)
		}
		g.Rows = append(g.Rows, p.rowOf(name, whose+" growth", path, p.grown()))
	}
	return g
}

// rowOf are the values of keys of a table.
func (p *paneller) rowOf(name, whose string, at []string, columns []column) row {
	r := row{Head: name}
	for _, c := range columns {
		path := append(at[:len(at):len(at)], strings.Split(c.key, ".")...)
		r.Fields = append(r.Fields, p.field(strings.TrimSpace(whose+" "+name)+": "+c.name, path...))
	}
	return r
}

// add adds a group whose columns of which nothing is stated are left out.
func (p *paneller) add(to []group, g group, columns []column) []group {
	kept := group{Caption: g.Caption, Scale: g.Scale}
	for _, r := range g.Rows {
		kept.Rows = append(kept.Rows, row{Head: r.Head})
	}
	for n, c := range columns {
		used := c.key == "hole" || c.key == "bolt" || c.key == "lower" || c.key == "raise"
		for _, r := range g.Rows {
			used = used || r.Fields[n].Value != "" || r.Fields[n].Was != ""
		}
		if !used {
			continue
		}
		head := c.name
		if c.unit != "" {
			head += ", " + c.unit
		}
		kept.Heads = append(kept.Heads, head)
		for k := range kept.Rows {
			kept.Rows[k].Fields = append(kept.Rows[k].Fields, g.Rows[k].Fields[n])
		}
	}
	if len(kept.Heads) == 0 {
		return to
	}
	return append(to, kept)
}

func (p *paneller) coupling(i int) panel {
	c, at := &p.t.Couplings[i], []string{"coupling", strconv.Itoa(i)}
	out := panel{ID: fmt.Sprintf("coupling-%d", i), Heading: words.Clean(c.Name), Coupling: true}
	length, move := p.LengthUnit(), p.MoveUnit()
	limits := []column{{"limit.offset", "offset", move}, {"limit.angle", "angle", "mrad"}, {"limit.gap", "gap", length}}
	g := group{Caption: limitsCaption, Rows: []row{p.rowOf("", out.Heading+" limit", at, limits)}}
	if len(p.was.Keys(append(at[:2:2], "limit")...)) > 0 {
		g.Scale = scaleOf(out.Heading+" limits", append(at[:2:2], "limit"))
	}
	out.Groups = p.add(out.Groups, g, limits)
	found := []column{{"v.offset", "offset up", move}, {"v.angle", "angle up", "mrad"},
		{"h.offset", "offset left", move}, {"h.angle", "angle left", "mrad"}, {"gap", "gap", length}}
	out.Groups = p.add(out.Groups, group{Caption: "As found",
		Rows: []row{p.rowOf("", out.Heading+" as found", append(at[:2:2], "found"), found)}}, found)
	names := pages.ReadingNames(p.t, i)
	for k := range p.was.Len(append(at[:2:2], "reading")...) {
		reading := append(at[:2:2], "reading", strconv.Itoa(k))
		var columns []column
		for _, key := range p.was.Keys(append(reading, "clock")...) {
			columns = append(columns, column{"clock." + key, key + " o'clock", move})
		}
		columns = append(columns, column{"v", "up", move}, column{"h", "left", move}, column{"sag", "sag", move})
		name := fmt.Sprintf("reading %d", k+1)
		if k < len(names) {
			name = names[k]
		}
		out.Groups = p.add(out.Groups, group{Caption: words.Capital(name), Rows: []row{
			p.rowOf("", out.Heading+", "+name, reading, columns)}}, columns)
	}
	return out
}

// unquoted is a text of the file without its quotes.
func unquoted(s string) string {
	if out, err := strconv.Unquote(s); err == nil {
		return out
	}
	return strings.Trim(s, `'"`)
}

// decimal is a number as the file has it.
var decimal = regexp.MustCompile(`^[+-]?(0|[1-9][0-9]*)(\.[0-9]+)?([eE][+-]?[0-9]+)?$`)

// number is what was typed as the file would have it; false: it is no number.
func number(typed string) (string, bool) {
	s := strings.ReplaceAll(strings.TrimSpace(typed), "−", "-")
	if strings.Count(s, ",") == 1 && !strings.Contains(s, ".") {
		s = strings.Replace(s, ",", ".", 1)
	}
	if strings.HasPrefix(s, ".") {
		s = "0" + s
	}
	if !decimal.MatchString(s) || len(s) > 40 {
		return "", false
	}
	return s, true
}
