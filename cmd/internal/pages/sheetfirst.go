package pages

import (
	"strings"

	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
)

// first is what a crew looks at before it does anything else. Where a line has no
// source it is common practice. What is looked at machine by machine each stage begins
// with; where there are none it stands here.
func (t *order) first() {
	heading, checks := "Before anything is read", []string{
		"Locked out, tagged out, tried; heat and pressure let off. Guards, lifting, torque: site rules, makers' " +
			"manuals first.",
		"Couplings open, and they stay open. Before shafts are turned, each time: lube or jacking oil on, people clear " +
			"and counted, one gives the word; both shafts turned together; bar out before hands go in.",
	}
	switch {
	case t.plan.Provisional || t.plan.Relieved != nil:
		heading = "Before anything is moved"
		checks = append(checks, t.prepared(words.With(t.Moved(t.work.SoftFoot), t.MoveUnit()))...)
	case len(t.work.Stages) > 0:
		heading = "Before anything is moved"
	}
	t.section(heading)
	t.out.Checks(checks)
}

// prepared is how a machine is made ready before it is moved, softest being from where on a foot is soft.
func (t *order) prepared(softest string) []string {
	known := ""
	if !t.plan.Provisional {
		known = t.softKnown()
	}
	return []string{
		"One machine at a time: its dowels out, its weight on its feet, pipe hangers set, jack bolts (to push " +
			"sideways) clear.",
		"Soft foot: one bolt loose at a time, a dial on the foot. Over " + softest + ": stop, put it right, read " +
			"couplings again." + known + " All flat, clean.",
		"Pipe strain: dials up and sideways at its couplings; slacken ONE bolt at a time. Over the site's limit: " +
			"stop, retighten.",
	}
}

// readyChecks are what each stage begins with, said at length in howStages.
func (t *order) readyChecks(s *view.WorkStage) []string {
	return []string{"Dowels out, jack bolts clear.", "Soft foot: " + t.softFirst(s.Machine) + " at most.",
		"Pipe strain.", "Dials at 0."}
}

// howStages is how every stage is done, said once: common practice, no source.
func (t *order) howStages() {
	t.out.Section("How each stage is done")
	packs, shifts := false, false
	for n := range t.work.Stages {
		s := &t.work.Stages[n]
		packs, shifts = packs || s.Packs, shifts || s.Sideways || s.Along
	}
	t.out.Say(strings.Join(t.prepared("what the stage says"), " "))
	t.out.Say("Dials at each foot of it, one up, and at each station one sideways, in mid-travel: zeroed with bolts " +
		"tight, before they are slackened; at other machines they stay at zero.")
	if packs {
		t.out.Say("Packs: slacken this machine only. One end at a time: lift at the maker's points just enough for the " +
			"shims, block, no hands under a foot; shims in; lower. Bolts tight crosswise to the maker's torque. It sits on " +
			"all its packs at once: a foot's dial may go a little further or less far than its own shims.")
	}
	if shifts {
		text := "Sideways: bolts snug, push with the jack bolts, a little at each end in turn, to what side dials should " +
			"show. Tighten; only then jack bolts off."
		if packs {
			text += " Do not zero side dials after the packs: shims move it sideways too."
		}
		t.out.Say(text)
	}
	t.out.Say("Bolts tight, THEN read feet, then couplings, which decide: feet within ± do not make sure of limits. " +
		"Off by more than ±: stop, set it again, or ask the engineer.")
}
