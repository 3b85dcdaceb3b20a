package families

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// A page is a train file being written. Lengths are written to 1 mm or 0.01
// inch, bores to 0.01 mm or 0.001 inch, moves to 0.01 mm or 0.1 mil, angles to
// 0.01 mrad.
type page struct {
	strings.Builder
	inch bool
}

func number(v, step float64) string {
	v = math.Round(v/step) * step
	s := strconv.FormatFloat(v, 'f', 4, 64)
	s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	if s == "-0" {
		return "0"
	}
	return s
}

func (p *page) length(v float64) string {
	if p.inch {
		return number(v/25.4, 0.01)
	}
	return number(v, 1)
}

func (p *page) bore(v float64) string {
	if p.inch {
		return number(v/25.4, 0.001)
	}
	return number(v, 0.01)
}

func (p *page) move(v float64) string {
	if p.inch {
		return number(v/0.0254, 0.1)
	}
	return number(v, 0.01)
}

func angle(v float64) string { return number(v, 0.01) }

func (p *page) line(format string, args ...any) { fmt.Fprintf(p, format+"\n", args...) }

// text writes the layout as a train file.
func (t *layout) text() string {
	p := &page{inch: t.inch}
	p.line("title = %q", t.title)
	units, step, flat := "mm", "0.05", "0.05"
	if t.inch {
		units, step, flat = "inch", "1", "2"
	}
	p.line("units = %q", units)
	p.line("\n[shims]\nstep = %s\nflat = %s", step, flat)
	if t.keep > 0 {
		p.line("keep = %s", p.move(t.keep))
	}
	if t.use > 0 || t.transient > 0 {
		p.line("\n[aim]")
	}
	if t.use > 0 {
		p.line("use = %s", number(t.use, 0.01))
	}
	if t.transient > 0 {
		p.line("transient = %s", number(t.transient, 0.01))
	}
	for _, m := range t.machines {
		p.machine(m)
	}
	for _, b := range t.bases {
		p.base(t, b)
	}
	for _, c := range t.couplings {
		p.coupling(t, c)
	}
	for _, c := range t.conditions {
		p.line("\n[[condition]]\nname = %q", c.name)
		if c.grown == nil {
			p.line("growth = %s", number(c.growth, 0.01))
		}
		if c.machine >= 0 {
			p.line("machine = { %q = %s }", t.machines[c.machine].name, number(c.other, 0.01))
		}
		p.line("run = %s\nuse = %s", number(c.run, 0.01), number(c.use, 0.01))
		for _, g := range c.grown {
			p.line("[[condition.growth]]\nmachine = %q\nx = %s\nv = %s\nh = %s\na = %s", t.machines[c.own].name,
				p.length(g.x), p.move(g.v), p.move(g.h), p.move(g.a))
		}
	}
	return p.String()
}

func (p *page) machine(m *machine) {
	p.line("\n[[machine]]\nname = %q\nat = %s\nheight = %s\nrpm = %s", m.name, p.length(m.at), p.length(m.height),
		number(m.rpm, 1))
	p.rules(m)
	for _, s := range m.shafts {
		p.line("\n[[machine.shaft]]\nname = %q\ny = %s\nz = %s", s.name, p.length(s.y), p.length(s.z))
		p.line("run = { v = %s, h = %s }", p.move(s.runV), p.move(s.runH))
	}
	for _, f := range m.feet {
		p.foot("machine", f)
	}
	for _, g := range m.growth {
		p.line("\n[[machine.growth]]\nx = %s\nv = %s\nh = %s\na = %s", p.length(g.x), p.move(g.v), p.move(g.h), p.move(g.a))
	}
	for _, n := range m.nozzles {
		p.line("\n[[machine.nozzle]]\nname = %q\nx = %s\ny = %s\nz = %s\nlimit = %s", n.name, p.length(n.x), p.length(n.y),
			p.length(n.z), p.move(n.limit))
	}
}

func (p *page) base(t *layout, b *base) {
	var names []string
	for _, i := range b.carries {
		names = append(names, strconv.Quote(t.machines[i].name))
	}
	p.line("\n[[base]]\nname = %q\nmachines = [%s]\nat = %s\nheight = %s", b.name, strings.Join(names, ", "),
		p.length(b.at), p.length(b.height))
	p.rules(&b.machine)
	for _, f := range b.feet {
		p.foot("base", f)
	}
}

// rules writes how a machine or a base may be moved, and what its packs are made of.
func (p *page) rules(m *machine) {
	for _, flag := range []struct {
		key string
		set bool
	}{{"hold", m.hold}, {"roll", m.roll}, {"axial", m.axial}} {
		if flag.set {
			p.line("%s = true", flag.key)
		}
	}
	if m.effort != 1 {
		p.line("effort = %s", number(m.effort, 0.1))
	}
	if m.step != "" {
		p.line("step = %s", m.step)
	}
	if m.flat > 0 {
		p.line("flat = %s", number(m.flat, 0.005))
	}
	if l := m.level; l != nil {
		p.line("level = { pitch = %s, roll = %s, found = { pitch = %s, roll = %s } }", angle(l.pitch), angle(l.roll),
			angle(l.foundPitch), angle(l.foundRoll))
	}
}

func (p *page) foot(of string, f foot) {
	p.line("\n[[%s.foot]]\nname = %q\nx = %s", of, f.name, p.length(f.x))
	if f.spread > 0 {
		p.line("spread = %s", p.length(f.spread))
	} else {
		p.line("y = %s", p.length(f.y))
	}
	p.line("shim = %s", p.move(f.shim))
	if f.lower > 0 {
		p.line("lower = %s", p.move(f.lower))
	}
	if f.raise > 0 {
		p.line("raise = %s", p.move(f.raise))
	}
	if f.bolt > 0 {
		p.line("bolt = %s\nhole = %s", p.bore(f.bolt), p.bore(f.hole))
	}
	if f.axial != 0 || f.left != 0 {
		p.line("bolt_at = [%s, %s]", p.bore(f.axial), p.bore(f.left))
	}
	if f.rise > 0 {
		p.line("rise = %s\nmaterial = \"steel\"", number(f.rise, 1))
	}
	if f.free > 0 {
		p.line("free = %s", p.move(f.free))
	}
	for i, side := range [2]string{"left", "right"} {
		if f.other[i] > 0 {
			p.line("%s = { shim = %s }", side, p.move(f.other[i]))
		}
	}
	var travel []string
	for i, side := range [2]string{"left", "right"} {
		if f.travel[i] > 0 {
			travel = append(travel, side+" = "+p.move(f.travel[i]))
		}
	}
	if len(travel) > 0 {
		p.line("travel = { %s }", strings.Join(travel, ", "))
	}
}

func (p *page) coupling(t *layout, c *coupling) {
	end := func(i int, shaft string) string {
		if shaft != "" {
			return t.machines[i].name + "/" + shaft
		}
		return t.machines[i].name
	}
	p.line("\n[[coupling]]\nname = %q\nfrom = %q\nto = %q\nx = %s", c.name, end(c.from, c.fromShaft),
		end(c.to, c.toShaft), p.length(c.x))
	if c.spacer {
		p.line("flex = [%s, %s]", p.length(c.flex[0]), p.length(c.flex[1]))
	}
	p.line("[coupling.limit]")
	if !c.spacer {
		p.line("offset = %s", p.move(c.offset))
	}
	p.line("angle = %s", angle(c.angle))
	if c.gap > 0 {
		p.line("gap = %s", p.bore(c.gap))
	}
	if c.eachPlane {
		p.line("each_plane = true")
	}
	if c.combined {
		p.line("combined = \"sum\"")
	}
	p.misalignment("found", c.found)
	if c.gap > 0 {
		p.line("gap = %s", p.bore(c.foundGap))
	}
	if c.taken > 0 {
		p.line("taken = { growth = %s, run = 0 }", number(c.taken, 0.01))
	}
	if c.wanted != [4]float64{} || c.gap > 0 {
		p.misalignment("wanted", c.wanted)
		if c.gap > 0 {
			p.line("gap = %s", p.bore(c.wantedGap))
		}
	}
}

func (p *page) misalignment(key string, m [4]float64) {
	p.line("[coupling.%s]\nv = { offset = %s, angle = %s }\nh = { offset = %s, angle = %s }", key, p.move(m[0]),
		angle(m[1]), p.move(m[2]), angle(m[3]))
}
