package verify

import (
	"fmt"
	"math"

	"leastmove/cmd/internal/planjson"
)

// slack in mm is how far lengths and packs of two files may differ.
const slack = planjson.Rounding

// geometry says where the plan and the train file do not have the same train.
func (r *Result) geometry(p *planjson.File, couplings []*planjson.Coupling) {
	t := r.Train
	length := func(mm float64) string { return fmt.Sprintf("%.6g %s", mm/t.Units.Length(), t.Units) }
	say := func(format string, args ...any) { r.Differences = append(r.Differences, fmt.Sprintf(format, args...)) }
	apart := func(a, b float64) bool { return math.Abs(a-b) > slack } // not where one is NaN
	there := map[string]bool{}
	for n := range p.Machines {
		g := &p.Machines[n]
		there[g.Name] = true
		for i := range t.Machines {
			if t.Machines[i].Name != g.Name {
				continue
			}
			for _, f := range g.Feet {
				x, y := p.Length(f.X), p.Length(f.Y)
				for _, k := range planjson.Named(&t.Machines[i], f.Name) {
					foot := &t.Machines[i].Feet[k]
					if apart(foot.X, x) {
						say("%s %s stands at x = %s, in the plan at %s", g.Name, foot.Name, length(foot.X), length(x))
					}
					if apart(foot.Y, y) {
						say("%s %s stands at y = %s, in the plan at %s", g.Name, foot.Name, length(foot.Y), length(y))
					}
				}
			}
		}
	}
	for i := range t.Machines {
		if !there[t.Machines[i].Name] {
			say("machine %s is not in the plan", t.Machines[i].Name)
		}
	}
	for i, g := range couplings {
		c := &t.Couplings[i]
		x, flex := p.Length(g.X), p.FlexOf(g)
		if apart(c.X, x) {
			say("%s: the offsets are given at x = %s, in the plan at %s; what the plan says was carried over along its angle", c.Name, length(c.X), length(x))
		}
		switch {
		case c.Spacer != (len(flex) == 2):
			say("%s: it has flex planes in one of the two files only", c.Name)
		case c.Spacer && (apart(c.Flex[0], flex[0]) || apart(c.Flex[1], flex[1])):
			say("%s: its flex planes are at %s and %s, in the plan at %s and %s", c.Name, length(c.Flex[0]), length(c.Flex[1]), length(flex[0]), length(flex[1]))
		}
		r.warmth(i, say)
	}
}

// warmth says where growth or running shift is not that of the plan: what a
// condition adds to the coupling at rest differs.
func (r *Result) warmth(i int, say func(string, ...any)) {
	const most = 0.006 // mm and mrad: both sides are rounded, and geometry adds a little
	c := &r.Couplings[i]
	for k := range c.Conditions {
		s := &c.Conditions[k]
		if math.IsNaN(s.UsePlanned) {
			say("%s: the plan does not have the condition %q", r.Train.Couplings[i].Name, r.Train.Conditions[k].Name)
			continue
		}
		var worst float64
		now := parts(s.Now.Misalignment, c.Now.Misalignment)
		for n, v := range parts(s.Planned.Misalignment, c.Planned.Misalignment) {
			worst = math.Max(worst, math.Abs(v-now[n]))
		}
		if worst > most {
			say("%s, %s: growth, running shift or the share of it that was there is not that of the plan, so what was found and planned can't be set beside what is now",
				r.Train.Couplings[i].Name, r.Train.Conditions[k].Name)
		}
	}
}

// packs says whether the train file has the packs from before or after the moves.
func (r *Result) packs(p *planjson.File) {
	old, now := 0, 0
	for n := range p.Machines {
		for i := range r.Train.Machines {
			m := &r.Train.Machines[i]
			if m.Name != p.Machines[n].Name {
				continue
			}
			for n, feet := 0, p.Machines[n].Feet; n < len(feet); n++ {
				c := p.PackChangeOf(&feet[n])
				for _, k := range planjson.Named(m, feet[n].Name) {
					is := m.Feet[k].Pack
					switch {
					case !(math.Abs(c.Now-c.Then) > slack) || math.IsNaN(is):
					case math.Abs(is-c.Then) <= slack:
						now++
					case math.Abs(is-c.Now) <= slack:
						old++
						r.Doubted = append(r.Doubted, Pack{i, k, is, c.Then})
					default:
						r.Doubted = append(r.Doubted, Pack{i, k, is, c.Then})
					}
				}
			}
		}
	}
	switch {
	case old > 0 && now == 0:
		r.Packs = PacksOld
	case len(r.Doubted) > 0:
		r.Packs = PacksNeither
	}
}
