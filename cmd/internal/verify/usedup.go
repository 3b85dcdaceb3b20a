package verify

import (
	"fmt"
	"math"
	"strings"

	"leastmove/bolts"
	"leastmove/cmd/internal/planjson"
	"leastmove/train"
)

// This file says what the plan used up of limits that count from where a machine
// stands, where the train file does not have it: it still has the room of before the
// moves, and what is left to do would be reckoned from that.

// least in mm and mrad is what is measured at all.
const least = 0.02

// usedUp goes through the machines that were moved.
func (r *Result) usedUp(p *planjson.File) {
	state := r.Train.Check(r.Moves)
	for n := range p.Machines {
		g := &p.Machines[n]
		for i := range r.Train.Machines {
			if r.Train.Machines[i].Name == g.Name && r.Moves.Moved(i) {
				r.tilted(g, i, &state.Machines[i])
				r.pulled(p, g, i, &state.Machines[i])
				r.bolted(p, g, i, state.Machines[i].Feet)
				r.limited(p, g, i)
			}
		}
	}
}

func (r *Result) used(format string, args ...any) {
	r.UsedUp = append(r.UsedUp, fmt.Sprintf(format, args...))
}

// move is a move in mm in the file's unit.
func (r *Result) move(mm float64) string { return fmt.Sprintf("%.2f", mm/r.Train.Units.Move()) }

func (r *Result) unit() string {
	if r.Train.Units == train.Inches {
		return "mil"
	}
	return "mm"
}

// tilted says what became of level: it is that of before the plan, or nobody stated it.
func (r *Result) tilted(g *planjson.Machine, i int, state *train.MachineState) {
	const rounding = 0.002 // mrad, of the plan's figures
	m := &r.Train.Machines[i]
	pitch, roll := planjson.LevelOf(g)
	for _, l := range []struct {
		way                       string
		limit, found, by, planned float64 // mrad
	}{
		{"along the train", m.Level.Pitch, m.Level.FoundPitch, state.Motion[train.Pitch], pitch},
		{"across it", m.Level.Roll, m.Level.FoundRoll, state.Motion[train.Roll], roll},
	} {
		if math.IsInf(l.limit, 1) || !(math.Abs(l.by) > least) {
			continue
		}
		if before := l.planned - l.by; l.found == 0 && !(math.Abs(l.planned) <= rounding) || math.Abs(l.found-before) <= rounding {
			r.used("%s: the plan tilted it %s by %.3f mrad, and level.found in the file has %.3f as before: state what the level shows now", m.Name, l.way, math.Abs(l.by), l.found)
		}
	}
}

// pulled says what became of nozzles, unless the limit in the file is less than it was.
func (r *Result) pulled(p *planjson.File, g *planjson.Machine, i int, state *train.MachineState) {
	m := &r.Train.Machines[i]
	for n, nozzle := range m.Nozzles {
		by := state.Nozzles[n]
		if math.IsInf(nozzle.Limit, 1) || by <= least || nozzle.Limit < p.NozzleLimit(g, nozzle.Name)-slack/2 {
			continue
		}
		r.used("%s, nozzle %s: the plan displaced it by %s %s, and the limit in the file counts from where it is now: take off what is used up", m.Name, nozzle.Name, r.move(by), r.unit())
	}
}

// A footList are feet of a machine by what is said of them.
type footList struct {
	said []string
	feet map[string][]string
}

func (l *footList) add(foot, words string) {
	if l.feet == nil {
		l.feet = map[string][]string{}
	}
	if l.feet[words] == nil {
		l.said = append(l.said, words)
	}
	l.feet[words] = append(l.feet[words], foot)
}

func (l *footList) String() string {
	var items []string
	for _, words := range l.said {
		items = append(items, strings.Join(l.feet[words], ", ")+" "+words)
	}
	return strings.Join(items, "; ")
}

// bolted says where bolts sit nearer to the middle of their holes by the file than by the
// plan. A foot does not come back by itself, so where rounding and placing do not explain
// it nobody stated bolt_at anew, or the foot did not go.
func (r *Result) bolted(p *planjson.File, g *planjson.Machine, i int, went []train.FootState) {
	m := &r.Train.Machines[i]
	var nearer, unsaid footList
	r.each(g, i, func(f *planjson.Foot, k int) {
		foot := &m.Feet[k]
		hole := bolts.Hole{Bolt: foot.Bolt, Diameter: foot.Hole, At: foot.BoltAt}
		if !hole.Known() {
			return
		}
		is, room := hole.Off(0, 0), hole.Travel()
		by := math.Hypot(went[k].Axial, went[k].Left)
		switch bolt, _ := p.UsedOf(f, "bolt"); {
		case math.IsNaN(bolt) && foot.BoltAt == [2]float64{} && by > least:
			unsaid.add(foot.Name, fmt.Sprintf("by %s of %s %s", r.move(by), r.move(room), r.unit()))
		case is < bolt-slack-r.Placing:
			nearer.add(foot.Name, fmt.Sprintf("%s %s, by the plan %s of %s", r.move(is), r.unit(), r.move(bolt), r.move(room)))
		}
	})
	const todo = "measure where they sit now and state bolt_at, unless the foot did not go"
	if nearer.said != nil {
		r.used("%s: by bolt_at in the file bolts are nearer to the middle of their holes than the plan left them, %s: %s", m.Name, &nearer, todo)
	}
	if unsaid.said != nil {
		r.used("%s: the file has the bolts in the middle of their holes, and the plan moved the feet, %s: %s", m.Name, &unsaid, todo)
	}
}

// limited says where raise, lower and travel in the file are those from before the moves.
// A default is not: lower follows the pack, and a pack from before the moves is told as
// such.
func (r *Result) limited(p *planjson.File, g *planjson.Machine, i int) {
	m := &r.Train.Machines[i]
	lists := map[string]*footList{"raise": {}, "lower": {}, "travel": {}}
	r.each(g, i, func(f *planjson.Foot, k int) {
		foot := &m.Feet[k]
		say := func(key, more string, is float64) {
			used, limit := p.UsedOf(f, key)
			if used > slack && math.Abs(is-limit) <= slack { // not where one is NaN
				lists[key].add(foot.Name, fmt.Sprintf("%s%s %s, of which the plan took %s", more, r.move(is), r.unit(), r.move(used)))
			}
		}
		say("raise", "", foot.Raise)
		then := p.PackChangeOf(f).Then
		if math.IsNaN(foot.Pack) || math.Abs(foot.Pack-then) <= slack {
			say("lower", "", foot.Lower)
		}
		if p.LeftOf(f) > 0 {
			say("travel", "left ", foot.TravelLeft)
		} else {
			say("travel", "right ", foot.TravelRight)
		}
	})
	for _, key := range []string{"lower", "raise", "travel"} {
		if l := lists[key]; l.said != nil {
			r.used("%s: %s in the file is that of before the plan, %s: state what is left now", m.Name, key, l)
		}
	}
}

// each goes through the feet of machine i that the plan names.
func (r *Result) each(g *planjson.Machine, i int, do func(f *planjson.Foot, k int)) {
	for f := range g.Feet {
		for _, k := range planjson.Named(&r.Train.Machines[i], g.Feet[f].Name) {
			do(&g.Feet[f], k)
		}
	}
}
