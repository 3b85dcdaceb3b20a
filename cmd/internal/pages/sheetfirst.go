package pages

import (
	"fmt"

	"leastmove/cmd/internal/words"
)

// first is what a crew looks at before it does anything else. Where a line has no
// source it is common practice.
func (t *order) first() {
	softest := words.With(t.Moved(t.work.SoftFoot), t.MoveUnit())
	known := ""
	if !t.plan.Provisional {
		known = t.softKnown()
	}
	heading, checks := "Before anything is read", []string{
		"Locked out, tagged out, tried; heat and pressure let off. Guards, lifting, torque: site rules, makers' " +
			"manuals first.",
		"Couplings open, and they stay open. Before shafts are turned, each time: lube or jacking oil on, people clear " +
			"and counted, one gives the word; both shafts turned together; bar out before hands go in.",
	}
	if t.plan.Provisional || t.plan.Relieved != nil || len(t.work.Stages) > 0 {
		heading = "Before anything is moved"
		checks = append(checks,
			"Machine in hand, and no other: dowels out, its weight on its feet, pipe hangers set. Jack bolts (to push "+
				"sideways) clear.",
			"Then soft foot: one bolt loose at a time, a dial on the foot. Over "+softest+t.softFirst()+": stop, put it right, "+
				"read again."+known+" All flat, clean.",
			"Then pipe strain: dials up and sideways at its couplings; slacken ONE bolt at a time. Over the site's limit: "+
				"stop, retighten.")
	}
	t.section(heading)
	t.out.Checks(checks)
}

// howStages is how every stage is done, said once: common practice, no source.
func (t *order) howStages() {
	t.out.Section("How each stage is done")
	packs, shifts := false, false
	for n := range t.work.Stages {
		s := &t.work.Stages[n]
		packs, shifts = packs || s.Packs, shifts || s.Sideways || s.Along
	}
	t.out.Say("Dials at each foot of the machine in hand, one up, and at each station one sideways, in mid-travel: " +
		"zeroed with bolts tight, before they are slackened; at other feet they stay at zero.")
	if packs {
		t.out.Say("Packs: slacken this machine only. One end at a time: lift at the maker's points just enough for the " +
			"shims, block, no hands under a foot; shims in; lower. Bolts tight crosswise to the maker's torque. The machine " +
			"sits on all its packs at once, so a foot's dial may go a little further or less far than its own shims.")
	}
	if shifts {
		text := "Sideways: bolts snug, push with the jack bolts, a little at each end in turn, until side dials show what " +
			"they should" + t.placed() + ". Tighten; only then back the jack bolts off."
		if packs {
			text += " Do not zero side dials after the packs: what shimming moved is pushed back."
		}
		t.out.Say(text)
	}
	t.out.Say("Bolts tight, THEN read feet, then couplings. Off by more than ±: stop, set it again, or ask the engineer.")
}

// placed is how near to its number a side dial is set: the error of placing, and no less than a dial shows.
func (t *order) placed() string {
	n := t.Moved(t.work.Placed)
	if n.Zero() {
		return ""
	}
	return fmt.Sprintf(", within ±%s %s", n, t.MoveUnit())
}
