package pages

import (
	"fmt"

	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
)

// soft says what is to be done about feet that do not bear, before all else.
func (t *planText) soft() {
	if len(t.plan.SoftFeet) == 0 {
		return
	}
	t.Heading("First: soft foot")
	var fills []string
	for _, s := range t.plan.SoftFeet {
		foot := t.Machine(s.Machine) + " " + t.Foot(s.Machine, s.Foot)
		gap := words.With(t.Offset(s.Gap), t.MoveUnit())
		if t.Moved(s.Fill).Zero() {
			fills = append(fills, fmt.Sprintf("Leave %s as it is: %s measured with its bolt loose, and a shim would "+
				"leave no less.", foot, gap))
		} else {
			fills = append(fills, fmt.Sprintf("Put %s under %s: %s measured with its bolt loose.",
				words.With(t.Moved(s.Fill), t.MoveUnit()), foot, gap))
		}
		if s.OverFlat {
			fills = append(fills, fmt.Sprintf("That leaves %s of soft foot, more than shim packs may (flat): "+
				"use a finer shim there.", words.With(t.Offset(s.Off), t.MoveUnit())))
		}
	}
	t.Items(fills...)
	t.Say("Moves are counted from there. Shims and shim packs below are counted from the shim packs as the file has " +
		"them, with what fills a gap among what goes in: do not put it in twice. What is left of a gap counts as soft foot.")
	if !t.plan.Provisional {
		return
	}
	t.Say(softest(t.formatter, t.plan))
	t.Say("Then tighten all bolts, read every coupling again and plan from those readings. The readings in the file " +
		"were taken on soft feet, so all that follows is PROVISIONAL.")
}

// softest names the feet of a plan that are too soft to align on; "" for none.
func softest(s formatter, p *view.Plan) string {
	var feet []string
	for _, f := range p.SoftFeet {
		if f.TooSoft {
			feet = append(feet, s.Machine(f.Machine)+" "+s.Foot(f.Machine, f.Foot))
		}
	}
	if feet == nil {
		return ""
	}
	return fmt.Sprintf("Too soft to align on, over %s (Bloch & Geitner: .002 in): %s.",
		words.With(s.Moved(view.TooSoft(s.Train)), s.MoveUnit()), words.And(feet))
}

// softFeet are the gaps measured under a train's feet, where nothing is planned.
func (p *page) softFeet(s formatter, soft []view.SoftFoot) {
	var gaps []string
	over := false
	for _, f := range soft {
		gaps = append(gaps, fmt.Sprintf("%s %s: %s", s.Machine(f.Machine), s.Foot(f.Machine, f.Foot),
			words.With(s.Offset(f.Gap), s.MoveUnit())))
		over = over || f.TooSoft
	}
	if len(gaps) == 0 {
		return
	}
	p.Heading("Soft feet")
	p.Say("Measured with the foot's own bolt loose:")
	p.Items(gaps...)
	if over {
		p.Say(fmt.Sprintf("Over %s is too soft to align on (Bloch & Geitner: .002 in): fill the gaps, tighten all bolts "+
			"and read every coupling again. leastmove plan says what goes where.", words.With(s.Moved(view.TooSoft(s.Train)),
			s.MoveUnit())))
	}
}
