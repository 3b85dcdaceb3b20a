package pages

import (
	"fmt"
	"strings"

	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
)

// stage is one stage: what to do at the feet of a machine, and what couplings show then.
func (t *order) stage(n int) {
	s := &t.work.Stages[n]
	t.section(t.stageTitle(n))
	t.out.ShortChecks(t.readyChecks(s))
	t.out.Says(t.stageNotes(s))
	t.out.Table(t.feetTable(s))
	t.along = s.Along
	for i := max(0, s.Machine-1); i <= min(s.Machine, len(s.Rest)-1); i++ {
		t.out.Tables(t.couplingTables(i, &s.Rest[i], inStage))
	}
}

// stageTitle is which stage it is and what is done in it.
func (t *order) stageTitle(n int) string {
	s := &t.work.Stages[n]
	var parts []string
	for _, p := range partsOf(s) {
		parts = append(parts, p.title)
	}
	if s.Turned {
		parts[0], parts[1] = parts[1], parts[0]
	}
	return fmt.Sprintf("Stage %d of %d, %s: %s", n+1, len(t.work.Stages), t.Machine(s.Machine),
		strings.Join(parts, ", then "))
}

// A stagePart is a part of the work of a stage, as a title and as a sentence name it.
type stagePart struct{ title, sentence string }

// partsOf are the parts of the work of a stage.
func partsOf(s *view.WorkStage) (parts []stagePart) {
	for _, p := range []struct {
		is bool
		stagePart
	}{
		{s.Packs, stagePart{"packs", "packs"}},
		{s.Sideways, stagePart{"sideways", "side moves"}},
		{s.Along, stagePart{"along the train", "the shift along the train"}},
	} {
		if p.is {
			parts = append(parts, p.stagePart)
		}
	}
	return parts
}

// toothContact is the hold point behind the last stage of a machine with gears.
func (t *order) toothContact(n int) {
	s := &t.work.Stages[n]
	if !s.Geared {
		return
	}
	t.out.Section("HOLD POINT: tooth contact of "+t.Machine(s.Machine), "checked by", "time")
	t.out.Checks([]string{"Tooth contact as its maker says, after this, its last move? Else stop, ask the engineer."})
}

// stageNotes is what is to be known of a stage beside its numbers.
func (t *order) stageNotes(s *view.WorkStage) []string {
	var out []string
	if s.Along {
		out = append(out, fmt.Sprintf("%s: the whole machine. Dials along: on is to %s, back to %s.",
			words.Capital(t.Along(s.Moves[0].Axial)), t.Machine(t.Last()), t.Machine(0)))
	}
	if s.Packs {
		if chocks := t.Stepless(s.Machine); chocks != "" {
			out = append(out, words.Capital(chocks)+".")
		}
		if cut := t.cut(s.Machine); cut != "" {
			out = append(out, words.Capital(cut)+".")
		}
		for f := range s.Feet {
			change := s.Feet[f].Change
			fill := t.Moved(change.Fill)
			switch {
			case fill.Zero():
			case t.Moved(change.By()).Zero():
				out = append(out, fmt.Sprintf("%s: what fills its soft foot (%s) and what is to come out are the same: its "+
					"pack stays.", words.Capital(t.Foot(s.Machine, f)), words.With(fill, t.MoveUnit())))
			default:
				out = append(out, fmt.Sprintf("%s: %s of its change fills its soft foot.", words.Capital(t.Foot(s.Machine, f)),
					words.With(fill, t.MoveUnit())))
			}
		}
	}
	if s.Packs {
		if soft := t.softNote(s.Machine); soft != "" {
			out = append(out, soft)
		}
	}
	if s.Turned {
		out = append(out, "SIDEWAYS BEFORE PACKS here: the packs alone would pass a limit of this machine.")
	}
	if s.Tight != nil {
		out = append(out, t.noMargin(s.Tight))
	}
	for _, e := range s.Broken {
		out = append(out, fmt.Sprintf("TAKE CARE: in this stage %s goes past its limit (%s of %s). No order avoids that: "+
			"ask before you start.",
			words.Fill(words.PhrasesOf(e.Kind, e.Bound).Subject, "{at}", t.at(e.Limit)), t.Limit(e.Kind, e.Value),
			t.withUnit(e.Kind, e.Bound)))
	}
	for _, w := range s.Over {
		out = append(out, fmt.Sprintf("TAKE CARE: a dial at %s would swing by %s, past a travel of %s, in any order: "+
			"set one that goes further, or take it off and zero it anew.",
			t.quoted(w.Coupling), words.With(t.Moved(w.Swing), t.MoveUnit()), words.With(t.Moved(w.Travel), t.MoveUnit())))
	}
	return out
}
