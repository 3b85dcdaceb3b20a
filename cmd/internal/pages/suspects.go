package pages

import (
	"fmt"
	"strings"

	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
)

// mostSuspects are those that are told one by one.
const mostSuspects = 4

// places names where the suspects lie: "either A or B".
func (v *verified) places(all []view.Suspect) string {
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
func (v *verified) place(f *view.Fault) string {
	switch {
	case f.Coupling >= 0 && f.Before:
		return "the readings of " + v.Coupling(f.Coupling) + " before the moves"
	case f.Coupling >= 0:
		return "the readings of " + v.Coupling(f.Coupling)
	case f.Cause == view.NoneMade:
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
		v.Item(fmt.Sprintf("%s: %s. %s", words.Capital(v.place(&s.Fault)), v.happened(&s.Fault), v.causes(&s.Fault)))
	}
	v.Say(fmt.Sprintf("The squares of what was read off the plan, in errors of reading and placing, add up to %s; "+
		"errors alone make more than %s in one train of a thousand (chi-square, %d degrees of freedom).",
		words.Fixed(w.Square, 1), words.Fixed(w.Most, 1), w.Freedom))
	if len(v.r.Assumed) > 0 {
		v.Say(fmt.Sprintf("Nothing states the errors %s: usual ones were taken.", words.And(v.assumed())))
	}
	if !w.Off {
		v.Say("No move and no reading is suspected.")
		return
	}
	switch {
	case len(w.Suspects) == 0:
		v.Say("Read every coupling again, as it was read before the moves, before anything else is moved.")
	case !w.Enough:
		v.Say("Even so more is left unexplained than errors make: more than one thing went otherwise, or the readings " +
			"are worse than stated.")
	}
	if v.r.SidewaysPair() {
		v.Say("Both feet of a station go sideways together: side readings can't say which of the two holds.")
	}
	if len(w.Suspects) > 0 {
		v.Say("Causes are common practice, no source. Look before anything is moved again.")
	}
}

// happened is what a fault says took place.
func (v *verified) happened(f *view.Fault) string {
	planned := func() string {
		switch {
		case f.Feet == nil:
			return "what was planned"
		case f.Plane == view.Vertical:
			return v.Shim(v.r.PlannedAt(f).Up)
		case f.Plane == view.Every:
			return v.Shim(v.r.PlannedAt(f).Up) + " and " + imperative(v.Side(v.r.PlannedAt(f).Left))
		}
		return v.Side(v.r.PlannedAt(f).Left)
	}
	in := map[view.Plane]string{view.Vertical: " up and down", view.Sideways: " sideways",
		view.Along: " along the train"}[f.Plane]
	switch f.Cause {
	case view.NotMade:
		if f.Feet == nil {
			return "its moves" + in + " were not made, or did not hold"
		}
		if f.Plane == view.Every {
			return fmt.Sprintf("it was to %s, and did neither", planned())
		}
		return fmt.Sprintf("it was to %s and did not go", imperative(planned()))
	case view.OneFoot:
		return fmt.Sprintf("it was to %s, and this foot alone seems not changed", imperative(planned()))
	case view.WrongWay, view.MovedTwice:
		moves, foot := "went the other way", "went the other way"
		if f.Cause == view.MovedTwice {
			moves, foot = "seem made twice", "went about twice that"
		}
		switch {
		case f.Feet == nil && f.Plane == view.Every:
			return "all its moves " + moves
		case f.Feet == nil:
			return "its moves" + in + " " + moves
		case f.Plane == view.Every:
			return fmt.Sprintf("it was to %s, and %s in both", planned(), foot)
		}
		return fmt.Sprintf("it was to %s and %s", imperative(planned()), foot)
	case view.Elsewhere:
		return "it went" + in + " by something else than planned" + v.went(f)
	case view.Strained:
		if !v.r.Moves.Moved(f.Machine) {
			return "it was to stay, and moved"
		}
		return "it went somewhere else than planned as a whole"
	case view.SagTwice:
		return "they are off by the sag of the bracket"
	case view.Mirrored:
		return "they fit with left and right swapped"
	case view.Misread:
		return "they fit with nothing else"
	case view.NoneMade:
		return "what was read fits with no move made at all"
	case view.SidesTurned:
		return "they fit with every side move made to the wrong side"
	}
	return ""
}

// undo says what would undo a suspected fault alone, and how the couplings would then be; "" where that is not known.
func (v *verified) undo(s *view.Suspect) string {
	u := v.r.UndoOf(s)
	if u == nil {
		return ""
	}
	var stations []string
	for _, at := range u.Stations {
		var moves []string
		add := func(move string, made bool) {
			if made {
				moves = append(moves, move)
			}
		}
		add(v.Shim(at.Move.Up), at.Move.Up != 0)
		add(v.Side(at.Move.Left), at.Move.Left != 0)
		add(v.Along(at.Move.Axial), at.Move.Axial != 0)
		name := ""
		if s.Feet == nil {
			name = v.station(s.Machine, at.Feet) + " "
		}
		stations = append(stations, name+strings.Join(moves, ", "))
	}
	then := fmt.Sprintf("the worst coupling (%s) would then use %s of its limit", v.Coupling(u.Coupling),
		words.Percent(u.Worst))
	if u.Worst <= 1 {
		then += ", within it"
	}
	if u.NoRoom {
		then += ", but by the train file its feet have no room for it"
	}
	return " To undo that alone: " + strings.Join(stations, "; ") + "; " + then + "."
}

// imperative is a move as what was to be done.
func imperative(move string) string {
	if strings.HasPrefix(move, "left") || strings.HasPrefix(move, "right") {
		return "go " + move
	}
	return move
}

// went is how far a station is off its plan.
func (v *verified) went(f *view.Fault) string {
	off, known := v.r.WentOff(f)
	switch {
	case !known:
		return ""
	case f.Plane == view.Vertical:
		return ", " + words.Signed(v.Offset, off, "%s "+v.MoveUnit()+" higher", "%s "+v.MoveUnit()+" lower")
	}
	return ", " + words.Signed(v.Offset, off, "%s "+v.MoveUnit()+" further left", "%s "+v.MoveUnit()+" further right")
}

// causes are what in the trade is known to do this.
func (v *verified) causes(f *view.Fault) string {
	switch f.Cause {
	case view.NotMade, view.Elsewhere:
		switch {
		case f.Plane == view.Sideways && f.Feet != nil:
			return "Likely: bolt-bound in its hole; held by a dowel, a jack bolt or a stop; or it came back as the bolts " +
				"were tightened (pipe strain, a soft foot)."
		case f.Feet != nil:
			return "Likely: shims not changed or changed at another foot; a soft foot, or dirt or a bent shim under it; a " +
				"pack of many thin pieces that gives."
		}
		return "Likely: the moves were not made, were made at another machine, or pipes and dowels pulled it back."
	case view.OneFoot:
		return "Likely: the pack of one foot was left as it was, or does not bear: a soft foot. Measure every foot of " +
			"the machine with its bolt loose."
	case view.WrongWay:
		if f.Plane == view.Every {
			return "Likely: every sign was taken the wrong way round, as if the machine at the other side of the coupling " +
				"were to move."
		}
		if f.Plane == view.Sideways {
			return "Likely: left and right were swapped, as seen from the other end of the train."
		}
		return "Likely: shims put in where they were to come out, or the other way round."
	case view.MovedTwice:
		return "Likely: it was done again by somebody who did not know that it was done, or on top of a move made before; " +
			"or the full reading of a dial over half a turn was taken for the offset, which is half of it."
	case view.Strained:
		return "Likely: pipe strain as flanges or bolts were tightened; a jack bolt left tight; a base or grout that " +
			"gives. Watch a dial on it while bolts and flanges are loosened."
	case view.SagTwice:
		return "Likely: sag was taken out before the readings were written down and is stated in the file too (a sag " +
			"entered twice), or they were read with another bracket."
	case view.Mirrored:
		return "Likely: 3 and 9 were read looking from the other end, or written down in each other's place."
	case view.Misread:
		return "Likely: a loose bracket, a zero lost on the way round, a dial at its end, shafts not turned together. " +
			"Read it again first."
	case view.NoneMade:
		return "Likely: the readings in the train file are still those of before the moves."
	case view.SidesTurned:
		return "Likely: the sheet was read from the other end of the train."
	}
	return ""
}
