package pages

import (
	"fmt"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"leastmove/cmd/internal/doc"
	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
)

// options lists them, cheapest first.
func (t *planText) options(layout Page) {
	t.Heading("Options")
	if len(t.plan.Relaxations) == 0 {
		words := "None was found."
		if t.plan.Hopeless {
			words = "There is none but wider limits at the couplings: other holes, bolts, shim packs, shifts and releases, " +
				"all together and as far as they go, are not enough (proven)."
		}
		t.Say(words)
	} else {
		t.Say("The least that opens a way, cheapest first; what moves a held machine comes after that, wider limits " +
			"last. Each was proven by a plan; the totals here are at all of the limits. Costs are those of the file and " +
			"compare with each other alone. To plan with one: leastmove plan FILE --relieve NUMBER. That keeps the aim " +
			"where it can be kept, so its total may be larger.")
	}
	list, widened := &doc.List{Kind: doc.Numbers, Loose: true}, false
	for i := range t.plan.Relaxations {
		r := &t.plan.Relaxations[i]
		widened = widened || slices.ContainsFunc(r.Edits, func(e view.Edit) bool { return e.Coupling >= 0 })
		total := fmt.Sprintf("With that, a plan of %s exists", words.With(t.Total(r.Total), t.MoveUnit()))
		var moved []int
		for m := range r.Moves {
			if r.Moves.Moved(m) {
				moved = append(moved, m)
			}
		}
		if moved != nil {
			total += ", which moves " + words.And(t.Machines(moved))
		}
		if b := t.Bound(r.Bound); b != "" && !b.Zero() {
			total += fmt.Sprintf("; none is below %s (proven)", words.With(b, t.MoveUnit()))
		}
		list.Items = append(list.Items, []string{fmt.Sprintf("%s%s. %s. Cost %s.", words.Capital(t.advice(*r)),
			lines(layout, editPlaces(r.Edits)), total, words.Cost(r.Cost).Short()),
			strings.Join(t.optionCautions(r.Edits), " ")})
	}
	if list.Items != nil {
		t.Put(list)
	}
	if words := t.travelFixed(); words != "" {
		t.Space()
		t.Say(words)
	}
	if !widened {
		words := "No coupling limit was widened. With --widen that is looked at too."
		if layout.Widened {
			words = "Wider limits at one coupling alone were looked at too: none was found that is enough."
		}
		t.Space()
		t.Say(words)
	}
}

// travelFixed says of a conflict with the travel of feet that no option makes it more; "" where none is in the way.
func (t *planText) travelFixed() string {
	var feet []string
	for _, g := range t.conflictGroups() {
		if g.member.Kind == view.LimitTravel {
			feet = append(feet, t.Machine(g.member.Machine)+" "+t.FeetOf(g.member.Machine, g.feet))
		}
	}
	if feet == nil {
		return ""
	}
	return "No option changes travel: that of " + words.And(feet) + " is taken as fixed. Where what stands in the way " +
		"can be taken away, as a jack bolt can, state more travel and plan again; the conflict says how much."
}

// advice is an option in words: what to do to the machines or to the limits.
func (s formatter) advice(r view.Relaxation) string {
	var words, limits []string
	coupling := -1
	for _, g := range view.Groups(r.Edits) {
		if g.Coupling < 0 {
			words = append(words, s.edit(g))
			continue
		}
		if coupling >= 0 && coupling != g.Coupling {
			words, limits = append(words, s.widen(coupling, limits)), nil
		}
		coupling, limits = g.Coupling, append(limits, s.edit(g))
	}
	if limits != nil {
		words = append(words, s.widen(coupling, limits))
	}
	if n := len(words); n > 1 {
		words[n-1] = "and " + words[n-1]
	}
	return strings.Join(words, ", ")
}

// widen is wider limits at one coupling in words.
func (s formatter) widen(coupling int, limits []string) string {
	return fmt.Sprintf("widen the limits at %s: %s", s.Coupling(coupling), words.And(limits))
}

// What an engineer would want said beside a change.
const (
	cautionHole   = "Maker and owner must agree. A plate washer must cover the hole."
	cautionBolt   = "Maker and owner must agree. No shank below the minor diameter of its thread, or the bolt is weakened."
	cautionCut    = "Mill the feet or the baseplate by as much, or raise everything else by it."
	cautionLower  = "Some of the shim pack must stay for the next job."
	cautionRaise  = "A machined plate and not a stack of shims, bolts long enough, and somewhere for the pipes to go."
	cautionAxial  = "Mind thrust, keys and stops, pipes, and the distance between shaft ends at both couplings."
	cautionRoll   = "Mind the level: oil drains, gear contact, seals."
	cautionHold   = "Ask first why it is held: pipes, guides, anchors. Watch pipe strain while it moves."
	cautionWidens = "Needs the agreement of the coupling maker and of the owner."
)

// optionCautions are those of the keys that an option changes, each once.
func (s formatter) optionCautions(edits []view.Edit) []string {
	byKey := map[string]string{
		"hole": cautionHole, "bolt": cautionBolt, "cut": cautionCut, "lower": cautionLower, "raise": cautionRaise,
		"axial": cautionAxial, "roll": cautionRoll, "hold": cautionHold,
	}
	var out []string
	for _, e := range edits {
		c := byKey[e.Key]
		if e.Coupling >= 0 {
			c = cautionWidens
		}
		if c != "" && !slices.Contains(out, c) {
			out = append(out, c)
		}
	}
	return out
}

func uncapital(s string) string {
	first, size := utf8.DecodeRuneInString(s)
	if size == 0 {
		return s
	}
	return string(unicode.ToLower(first)) + s[size:]
}
