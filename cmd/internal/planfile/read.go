package planfile

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"leastmove/train"
)

// Read reads the text of a plan. The plan is nil if and only if the report has a
// fault.
func Read(src []byte, options Options) (*Plan, Report) {
	s := strings.TrimPrefix(string(src), "\ufeff") // some editors write that mark
	root, err := parse(s)
	if err != nil {
		var p *placed
		if !errors.As(err, &p) {
			p = &placed{message: err.Error()}
		}
		return nil, Report{fault(s, p.at, p.message, p.hint)}
	}
	r := &reader{text: s, options: options}
	plan := r.plan(root)
	if len(r.report) > 0 {
		slices.SortStableFunc(r.report, func(a, b Fault) int {
			if a.Line != b.Line {
				return a.Line - b.Line
			}
			return a.Column - b.Column
		})
		return nil, r.report
	}
	return plan, nil
}

// mostFaults bounds the faults that are told of one file.
const mostFaults = 100

// A reader gathers what is wrong in one plan.
type reader struct {
	text    string
	options Options
	report  Report
	written bool
	move    float64 // mm to a unit of moves
	length  float64 // mm to a unit of lengths
}

func (r *reader) fault(at int, message, hint string) {
	if len(r.report) < mostFaults {
		r.report = append(r.report, fault(r.text, at, message, hint))
	}
}

// Keys that are read of a plan by hand. Others of a plan that the program wrote are
// passed over, or read too (limits.go); where a person wrote it they are faults.
var (
	planKeys    = []string{"schema", "title", "units", "status", "machines", "couplings"}
	machineKeys = []string{"name", "feet", "axial", "moved", "held"}
	footKeys    = []string{"name", "up", "left", "axial", "x", "y", "pack"}
)

func (r *reader) plan(root *node) *Plan {
	p := &Plan{text: r.text, options: r.options}
	if root.kind != object {
		r.fault(root.at, "a plan is an object { }, not "+root.kind.String(), "")
		return p
	}
	r.schema(root)
	p.Written = r.written
	r.known(root, planKeys)
	p.Status = r.words(root, "status")
	p.Plain = math.NaN()
	r.units(root)
	if plain := root.fields["plain"]; r.written && plain != nil {
		p.Plain, p.plain = r.number(root, "plain", r.move), plain.at
	}
	machines := root.fields["machines"]
	switch {
	case p.Status == "impossible" || p.Status == "undecided":
		r.fault(root.fields["status"].at, fmt.Sprintf("the plan is %s: it has no moves", p.Status), "take one with the status \"planned\"")
	case machines == nil:
		hint := "write \"machines\": [{\"name\": ..., \"feet\": [{\"name\": ..., \"up\": ..., \"left\": ...}]}]"
		r.fault(root.at, "there are no machines in the plan", hint)
	}
	for _, m := range r.objects(root, "machines") {
		p.Machines = append(p.Machines, r.machine(m))
	}
	if r.written {
		for _, c := range r.objects(root, "couplings") {
			p.Couplings = append(p.Couplings, r.coupling(c))
		}
		p.Packs = r.packs(root)
	}
	return p
}

func (r *reader) schema(root *node) {
	s := root.fields["schema"]
	if s == nil {
		return
	}
	r.written = true
	if s.kind != text || s.text != Schema {
		r.fault(s.at, fmt.Sprintf("this is no plan: its schema is %s, not %q", strconv.Quote(short(s.text)), Schema), "write one with leastmove plan FILE --format json")
	}
}

// units are those of the moves and lengths.
func (r *reader) units(root *node) {
	r.move, r.length = 1, 1
	const hint = `write "units": "mm" (moves in mm) or "units": "inch" (moves in mils)`
	n := root.fields["units"]
	if n == nil {
		r.fault(root.at, "the plan does not say its units", hint)
		return
	}
	said := n
	if n.kind == object {
		if said = n.fields["length"]; said == nil {
			r.fault(n.at, "units has no length", hint)
			return
		}
		if m := n.fields["move"]; m != nil && said.text != "" && m.text != map[string]string{"mm": "mm", "inch": "mil"}[said.text] {
			r.fault(m.at, "the unit of moves does not go with that of lengths: mm with mm, mil with inch", "")
			return
		}
	}
	switch {
	case said.kind == text && said.text == train.Millimetres.String():
	case said.kind == text && said.text == train.Inches.String():
		r.move, r.length = train.Mil, train.Inch
	default:
		r.fault(said.at, "units is neither \"mm\" nor \"inch\"", hint)
	}
}

func (r *reader) machine(n *node) Machine {
	r.known(n, machineKeys)
	m := Machine{Name: r.name(n, "a machine"), Level: unlevelled(), at: n.at, axial: n.at}
	if r.written {
		m.Level, m.Nozzles = r.level(n), r.nozzles(n)
	}
	if a := n.fields["axial"]; a != nil {
		m.axial = a.at
	}
	m.Axial = r.moved(n, "axial", 0)
	for _, f := range r.objects(n, "feet") {
		m.Feet = append(m.Feet, r.foot(f))
	}
	return m
}

func (r *reader) foot(n *node) Foot {
	r.known(n, footKeys)
	f := Foot{
		Name: r.name(n, "a foot"), at: n.at,
		Up: r.moved(n, "up", 0), Left: r.moved(n, "left", 0), Axial: r.moved(n, "axial", math.NaN()),
		X: r.number(n, "x", r.length), Y: r.number(n, "y", r.length),
		Now: math.NaN(), Then: math.NaN(),
	}
	if r.written {
		f.Limits = r.limits(n)
	}
	if pack := r.object(n, "pack"); pack != nil {
		f.Fill, f.Cut = r.moved(n, "fill", 0), r.moved(n, "cut", 0)
		f.Now, f.Then = r.number(pack, "now", r.move), r.number(pack, "then", r.move)
	}
	return f
}

func (r *reader) coupling(n *node) Coupling {
	c := Coupling{
		Name: r.name(n, "a coupling"), From: r.words(n, "from"), To: r.words(n, "to"),
		X: r.number(n, "x", r.length), Half: unstated().Misalignment, at: n.at, text: r.text,
	}
	if flex := n.fields["flex"]; flex != nil && flex.kind == list {
		for _, x := range flex.list {
			if x.kind != number || math.Abs(x.number) > huge {
				r.fault(x.at, "flex is a list of two stations", "")
				continue
			}
			c.Flex = append(c.Flex, x.number*r.length)
		}
	}
	for _, s := range r.objects(n, "states") {
		c.States = append(c.States, r.state(s))
	}
	if rest := r.object(n, "rest"); rest != nil {
		at := r.standing(rest)
		c.Rest = &at
	}
	if readings := r.object(n, "readings"); readings != nil {
		if half := r.object(readings, "half"); half != nil {
			c.Half = r.standing(half).Misalignment
		}
	}
	return c
}

func (r *reader) state(n *node) State {
	s := State{Condition: r.words(n, "condition"), Found: unstated(), Planned: unstated(), UseFound: math.NaN(), UsePlanned: math.NaN()}
	if found := r.object(n, "found"); found != nil {
		s.Found = r.standing(found)
	}
	if planned := r.object(n, "planned"); planned != nil {
		s.Planned = r.standing(planned)
	}
	if use := r.object(n, "use"); use != nil {
		s.UseFound, s.UsePlanned = r.number(use, "found", 1), r.number(use, "planned", 1)
	}
	if worst := r.object(n, "worst"); worst != nil {
		s.WorstFound, s.WorstAfter = r.words(worst, "found"), r.words(worst, "planned")
	}
	return s
}

func (r *reader) standing(n *node) Standing {
	s := unstated()
	s.Gap = r.number(n, "gap", r.length)
	for _, plane := range []struct {
		key string
		t   *train.Tilt
	}{{"v", &s.V}, {"h", &s.H}} {
		key, t := plane.key, plane.t
		if tilt := r.object(n, key); tilt != nil {
			*t = train.Tilt{Offset: r.number(tilt, "offset", r.move), Angle: r.number(tilt, "angle", 1)}
		}
	}
	return s
}
