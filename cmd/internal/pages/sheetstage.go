package pages

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"leastmove/cmd/internal/doc"
	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
)

// stage is one stage: what to do at the feet, and what dials show then.
func (t *order) stage(n int) {
	s := &t.work.Stages[n]
	t.section(t.stageTitle(n))
	t.out.Say(steps(s.Work))
	t.out.Says(t.stageNotes(s))
	tables := []doc.Table{t.feetTable(s)}
	for i := max(0, s.Machine-1); i <= min(s.Machine, len(s.Rest)-1); i++ {
		tables = append(tables, t.couplingTables(i, &s.Rest[i], showing{})...)
	}
	for i := range tables {
		tables[i].Bare = tables[i].Form == "coupling" // its words say which way they go, and room is short
	}
	t.out.Tables(tables)
}

// stageTitle is which stage it is and what is done in it.
func (t *order) stageTitle(n int) string {
	s, what := &t.work.Stages[n], "packs"
	if s.Work == view.Shifting {
		what = "sideways"
		if s.Along {
			what += " and along"
		}
		if !s.Sideways {
			what = "along the train"
		}
	}
	if t.work.Void {
		what += ", provisional"
	}
	return fmt.Sprintf("Stage %d of %d, %s: %s", n+1, len(t.work.Stages), t.Machine(s.Machine), what)
}

// toothContact is the hold point behind the last stage of a machine with gears.
func (t *order) toothContact(n int) {
	s := &t.work.Stages[n]
	if !s.Geared {
		return
	}
	t.out.Section("HOLD POINT: tooth contact of "+t.Machine(s.Machine), "checked by", "time")
	t.out.Checks([]string{"Tooth contact checked after this, its last move, as its maker says. Not as it is to be: " +
		"stop, ask the engineer."})
}

// steps are how a stage is done: common practice, no source.
func steps(w view.Work) string {
	if w == view.Shifting {
		return "Bolts snug, push with the jack bolts, a little at each end in turn; tighten; only then back the jack " +
			"bolts off; read."
	}
	return "Slacken this machine only. One end at a time: lift at the maker's points just enough for the shims, " +
		"block, no hands under a foot; shims in; lower. Bolts tight crosswise to the maker's torque, THEN read feet " +
		"and couplings."
}

// stageNotes is what is to be known of a stage beside its numbers.
func (t *order) stageNotes(s *view.WorkStage) []string {
	var out []string
	if s.Along {
		out = append(out, fmt.Sprintf("%s: the whole machine. Dials along: on is to %s, back to %s.",
			capital(t.Along(s.Moves[0].Axial)), t.Machine(t.Last()), t.Machine(0)))
	}
	if s.Work == view.Packing {
		if chocks := t.Stepless(s.Machine); chocks != "" {
			out = append(out, capital(chocks)+".")
		}
		if cut := t.cut(s.Machine); cut != "" {
			out = append(out, capital(cut)+".")
		}
		for f := range s.Feet {
			change := s.Feet[f].Change
			fill := t.Moved(change.Fill)
			switch {
			case fill.Zero():
			case t.Moved(change.By()).Zero():
				out = append(out, fmt.Sprintf("%s: what fills its soft foot (%s) and what is to come out are the same: its "+
					"pack stays.", capital(t.Foot(s.Machine, f)), words.With(fill, t.MoveUnit())))
			default:
				out = append(out, fmt.Sprintf("%s: %s of its change fills its soft foot.", capital(t.Foot(s.Machine, f)),
					words.With(fill, t.MoveUnit())))
			}
		}
	}
	if s.Work == view.Packing {
		if soft := t.softNote(s.Machine); soft != "" {
			out = append(out, soft)
		}
	}
	if s.Turned {
		out = append(out, "Sideways before packs here: the packs alone would pass a limit of this machine.")
	}
	if s.Tight != nil {
		out = append(out, t.nothingInHand(s.Tight))
	}
	for _, e := range s.Broken {
		out = append(out, fmt.Sprintf("TAKE CARE: after this stage %s is past its limit (%s of %s) until the machine's "+
			"other stage is done. No order avoids that: ask before you start.",
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

// each stands behind the name of a pair of feet: what its row has is for each of the two.
const each = ", each"

// feetTable has a row for each foot, or pair of feet that is treated alike.
func (t *order) feetTable(s *view.WorkStage) doc.Table {
	k := doc.Table{Form: "packs", Columns: doc.Wides("foot", "shims", "pack", "take out", "put in", "pack, base up",
		"foot goes", "dial reads")}
	if s.Work == view.Shifting {
		k = doc.Table{Form: "shift", Columns: doc.Wides("foot", "move", "foot goes", "dial reads")}
		if s.Along {
			k = doc.Table{Form: "along", Columns: doc.Wides("foot", "move", "foot goes", "dial reads", "along, foot goes",
				"dial reads")}
		}
	}
	rows := make([][]doc.Cell, len(s.Moves))
	for f := range s.Moves {
		if s.Work == view.Shifting {
			rows[f] = t.shiftRow(s, f)
		} else {
			rows[f] = t.packRow(s, f)
		}
	}
	for f := 0; f < len(rows); f++ {
		if f+1 < len(rows) {
			if table, pair := t.Pair(s.Machine, f, f+1); pair && alike(rows[f], rows[f+1]) {
				rows[f][0].Text = table
				if s.Work == view.Packing {
					rows[f][0].Text += each
				}
				for c := range rows[f] {
					if rows[f][c].Write != nil {
						rows[f][c].Write = []string{"left", "right"}
					}
				}
				k.Rows = append(k.Rows, rows[f])
				f++
				continue
			}
		}
		k.Rows = append(k.Rows, rows[f])
	}
	if s.Drifts {
		head := "side shift"
		if s.Work == view.Shifting {
			head = "side shift"
		}
		k.Form, k.Columns = k.Form+" drift", append(k.Columns, doc.Wide(head))
		for n := range k.Rows {
			k.Rows[n] = append(k.Rows[n], doc.Cell{Write: []string{""}})
		}
	}
	return k
}

// alike says whether two rows have the same cells, but for the first.
func alike(a, b []doc.Cell) bool {
	return slices.EqualFunc(a[1:], b[1:], func(x, y doc.Cell) bool { return x.Text == y.Text })
}

// packRow is what goes out of and into one pack.
func (t *order) packRow(s *view.WorkStage, f int) []doc.Cell {
	change, pieces := s.Feet[f].Change, &s.Feet[f].Pieces
	then := t.pieces(pieces.Then, "")
	if then == "" && !math.IsNaN(change.Then) && !t.Moved(change.By()).Zero() {
		then = "make it " + string(t.Packed(change.Then)) // of what, is for whoever sees the pack
	}
	return []doc.Cell{
		{Text: t.Foot(s.Machine, f)}, {Text: t.bare(t.Shim(change.By())) + t.packRoom(s.Feet[f].PackRoom), Bold: true},
		{Text: t.packThen(change)},
		{Text: t.pieces(pieces.Out, ""), Bold: true}, {Text: t.pieces(pieces.In, ""), Bold: true}, {Text: then, Bold: true},
		{Text: t.way(s.Dials[f].Up, "up", "down"), Bold: true}, {Write: []string{""}},
	}
}

// packThen is a pack before and after; "" where it is not known.
func (t *order) packThen(c view.PackChange) string {
	if math.IsNaN(c.Now) {
		return ""
	}
	return t.Pack(c)
}

// shiftRow is how far one foot goes to a side.
func (t *order) shiftRow(s *view.WorkStage, f int) []doc.Cell {
	move := t.bare(t.Side(s.Moves[f].Left))
	if site := t.Site(s.Moves[f].Left); site != "" && t.OwnSides() {
		move += ", " + site
	}
	move += t.sideRoom(s.Feet[f].SideRoom)
	row := []doc.Cell{
		{Text: t.Foot(s.Machine, f)}, {Text: move, Bold: true},
		{Text: t.way(s.Dials[f].Left, "left", "right"), Bold: true}, {Write: []string{""}},
	}
	if s.Along {
		row = append(row, doc.Cell{Text: t.way(s.Dials[f].Axial, "on", "back"), Bold: true}, doc.Cell{Write: []string{""}})
	}
	return row
}

// bare is a move without its unit, which the sheet has once.
func (t *order) bare(words string) string { return strings.TrimSuffix(words, " "+t.MoveUnit()) }

// way is where a dial's foot goes, and how far.
func (t *order) way(mm float64, plus, minus string) string {
	n := t.Moved(math.Abs(mm))
	switch {
	case n.Zero():
		return string(n)
	case mm > 0:
		return plus + " " + string(n)
	}
	return minus + " " + string(n)
}
