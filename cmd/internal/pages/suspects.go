package pages

import (
	"fmt"
	"strings"

	"leastmove/cmd/internal/words"
	"leastmove/optimize/diagnose"
)

// mostSuspects are those that are told one by one.
const mostSuspects = 4

// places names where the suspects lie: "either A or B".
func (v *verified) places(all []diagnose.Suspect) string {
	var parts []string
	for _, s := range all[:min(len(all), mostSuspects)] {
		parts = append(parts, v.place(&s.Fault))
	}
	if len(parts) == 1 {
		return parts[0]
	}
	if n := len(all) - len(parts); n > 0 {
		parts = append(parts, words.Plural(n, "other"))
	}
	return "either " + strings.Join(parts, ", or ") + " (these readings can't tell which)"
}

// place is where a fault lies.
func (v *verified) place(f *diagnose.Fault) string {
	switch {
	case f.Coupling >= 0 && f.Before:
		return "the readings of " + v.Coupling(f.Coupling) + " before the moves"
	case f.Coupling >= 0:
		return "the readings of " + v.Coupling(f.Coupling)
	case f.Cause == diagnose.NoneMade:
		return "the train as a whole"
	case f.Machine < 0:
		return "the side moves of the whole train"
	case f.Feet == nil:
		return v.Machine(f.Machine) + " as a whole"
	}
	return v.Machine(f.Machine) + " at " + v.FeetOf(f.Machine, f.Feet)
}

// suspects says what explains what was read, with likely causes.
func (v *verified) suspects() {
	w := v.r.Verdict
	v.Heading("Did the moves go as planned?")
	for _, s := range w.Suspects[:min(len(w.Suspects), mostSuspects)] {
		v.Item(fmt.Sprintf("%s: %s. %s", capital(v.place(&s.Fault)), v.happened(&s.Fault), v.causes(&s.Fault)))
	}
	v.Say(fmt.Sprintf("Weighed by the errors of reading and placing, what was read is %s off the plan; errors alone make more than %s in one train of a thousand (chi-square, %d degrees of freedom).",
		words.Fixed(w.Square, 1), words.Fixed(w.Most, 1), w.Freedom))
	if len(v.r.Assumed) > 0 {
		v.Say(fmt.Sprintf("Nothing states the errors %s: usual ones were taken.", words.And(v.r.Assumed)))
	}
	if !w.Off {
		v.Say("Nothing is accused.")
		return
	}
	switch {
	case len(w.Suspects) == 0:
		v.Say("Read every coupling again, as it was read before the moves, before anything else is moved.")
	case !w.Enough:
		v.Say("Even so more is left unexplained than errors make: more than one thing went otherwise, or the readings are worse than stated.")
	}
	for _, s := range w.Suspects {
		if s.Plane == diagnose.Sideways && s.Feet != nil {
			v.Say("Both feet of a station go sideways together: side readings can't say which of the two holds.")
			break
		}
	}
	if len(w.Suspects) > 0 {
		v.Say("Causes are common practice, no source. Look before anything is moved again.")
	}
}

// happened is what a fault says took place.
func (v *verified) happened(f *diagnose.Fault) string {
	planned := func() string {
		feet := f.Feet
		if feet == nil {
			return "what was planned"
		}
		m := v.r.Moves[f.Machine][feet[0]]
		if f.Plane == diagnose.Vertical {
			return v.Shim(m.Up)
		}
		return v.Side(m.Left)
	}
	in := map[diagnose.Plane]string{diagnose.Vertical: " up and down", diagnose.Sideways: " sideways", diagnose.Along: " along the train"}[f.Plane]
	switch f.Cause {
	case diagnose.NotMade:
		if f.Feet == nil {
			return "its moves" + in + " were not made, or did not hold"
		}
		return fmt.Sprintf("it was to %s and did not go", imperative(planned()))
	case diagnose.OneFoot:
		return fmt.Sprintf("it was to %s, and this foot alone seems not changed", imperative(planned()))
	case diagnose.WrongWay:
		if f.Feet == nil {
			return "its moves" + in + " went the other way"
		}
		return fmt.Sprintf("it was to %s and went the other way", imperative(planned()))
	case diagnose.Elsewhere:
		return "it went" + in + " by something else than planned" + v.went(f)
	case diagnose.Strained:
		if !v.r.Moves.Moved(f.Machine) {
			return "it was to stay, and moved"
		}
		return "it went somewhere else than planned as a whole"
	case diagnose.SagTwice:
		return "they are off by the sag of the bracket"
	case diagnose.Mirrored:
		return "they fit with left and right swapped"
	case diagnose.Misread:
		return "they fit with nothing else"
	case diagnose.NoneMade:
		return "what was read fits with no move made at all"
	case diagnose.SidesTurned:
		return "they fit with every side move made to the wrong side"
	}
	return ""
}

// imperative is a move as what was to be done.
func imperative(move string) string {
	if strings.HasPrefix(move, "left") || strings.HasPrefix(move, "right") {
		return "go " + move
	}
	return move
}

// went is how far a station is off its plan.
func (v *verified) went(f *diagnose.Fault) string {
	for _, s := range v.r.Verdict.Machines[f.Machine].Stations {
		if len(f.Feet) == 0 || s.Feet[0] != f.Feet[0] {
			continue
		}
		if f.Plane == diagnose.Vertical {
			return ", " + words.Signed(v.Offset, s.Up-s.PlannedUp, "%s "+v.MoveUnit()+" higher", "%s "+v.MoveUnit()+" lower")
		}
		return ", " + words.Signed(v.Offset, s.Left-s.PlannedLeft, "%s "+v.MoveUnit()+" further left", "%s "+v.MoveUnit()+" further right")
	}
	return ""
}

// causes are what in the trade is known to do this.
func (v *verified) causes(f *diagnose.Fault) string {
	switch f.Cause {
	case diagnose.NotMade, diagnose.Elsewhere:
		switch {
		case f.Plane == diagnose.Sideways && f.Feet != nil:
			return "Likely: bolt-bound in its hole; held by a dowel, a jack bolt or a stop; or it came back as the bolts were tightened (pipe strain, a soft foot)."
		case f.Feet != nil:
			return "Likely: shims not changed or changed at another foot; a soft foot, or dirt or a bent shim under it; a pack of many thin pieces that gives."
		}
		return "Likely: the moves were not made, were made at another machine, or pipes and dowels pulled it back."
	case diagnose.OneFoot:
		return "Likely: the pack of one foot was left as it was, or does not bear: a soft foot. Measure every foot of the machine with its bolt loose."
	case diagnose.WrongWay:
		if f.Plane == diagnose.Sideways {
			return "Likely: left and right were swapped, as seen from the other end of the train."
		}
		return "Likely: shims put in where they were to come out, or the other way round."
	case diagnose.Strained:
		return "Likely: pipe strain as flanges or bolts were tightened; a jack bolt left tight; a base or grout that gives. Watch a dial on it while bolts and flanges are loosened."
	case diagnose.SagTwice:
		return "Likely: sag was taken out before the readings were written down and is stated in the file too (a sag entered twice), or they were read with another bracket."
	case diagnose.Mirrored:
		return "Likely: 3 and 9 were read looking from the other end, or written down in each other's place."
	case diagnose.Misread:
		return "Likely: a loose bracket, a zero lost on the way round, a dial at its end, shafts not turned together. Read it again first."
	case diagnose.NoneMade:
		return "Likely: the readings in the train file are still those of before the moves."
	case diagnose.SidesTurned:
		return "Likely: the sheet was read from the other end of the train."
	}
	return ""
}
