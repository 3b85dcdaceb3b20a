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

// feetTable has a row for each foot, or pair of feet that is treated alike: what is done to its pack, and what the
// dials at the foot show once all of the stage is done. A machine goes sideways by one dial a station.
func (t *order) feetTable(s *view.WorkStage) doc.Table {
	k := doc.Table{Form: "feet", Columns: doc.Wides("foot")}
	if s.Packs {
		k.Form += " packs"
		k.Columns = append(k.Columns, doc.Wides("shims", "pack, pieces", t.headWithin("dial", t.work.Risen), "reads")...)
	}
	if s.Sideways {
		k.Form += " sideways"
		k.Columns = append(k.Columns, doc.Wides(t.headWithin("side", t.work.Placed), "reads")...)
	}
	if s.Along {
		k.Form += " along"
		k.Columns = append(k.Columns, doc.Wides(t.headWithin("along", t.work.Placed), "reads")...)
	}
	feet := t.Train.Machines[s.Machine].Feet
	dialled := map[float64]string{} // stations that have their side dial, with the foot that has it
	for f := 0; f < len(feet); f++ {
		row := t.footRow(s, f, dialled[feet[f].X])
		if dialled[feet[f].X] == "" {
			dialled[feet[f].X] = t.number(s.Machine, f)
		}
		if table, pair := t.pairAt(s.Machine, f); pair &&
			(!s.Packs || slices.Equal(t.packWords(s, f), t.packWords(s, f+1))) &&
			(!s.Along || t.alongWords(s, f) == t.alongWords(s, f+1)) {
			numbers := t.number(s.Machine, f) + ", " + t.number(s.Machine, f+1)
			row[0].Text = fmt.Sprintf("%s %s, each", numbers, table)
			if s.Packs {
				row[4].Write = []string{"left foot", "right foot"}
			} else {
				row[0].Text = fmt.Sprintf("%s %s", numbers, table)
			}
			f++
		}
		k.Rows = append(k.Rows, row)
	}
	if s.Packs && slices.ContainsFunc(k.Rows, func(row []doc.Cell) bool { return len(row[4].Write) > 1 }) {
		k.Form += " pairs"
	}
	return k
}

// headWithin is the head of a column of dials, with what they may be off by in mm.
func (t *order) headWithin(head string, mm float64) string {
	return fmt.Sprintf("%s\u00a0±%s", head, words.Floor(mm/t.Units.Move()+view.Fair, t.DialDigits()))
}

// pairAt says whether foot f and the next one are a pair, and its name.
func (t *order) pairAt(m, f int) (table string, pair bool) {
	if f+1 >= len(t.Train.Machines[m].Feet) {
		return "", false
	}
	return t.Pair(m, f, f+1)
}

// footRow is one foot; a foot whose station has its side dial, at a foot of that number, has none of its own.
func (t *order) footRow(s *view.WorkStage, f int, dialled string) []doc.Cell {
	row := []doc.Cell{{Text: t.number(s.Machine, f) + " " + t.Foot(s.Machine, f)}}
	if s.Packs {
		w := t.packWords(s, f)
		row = append(row, bold(w[0]), bold(w[1]), bold(w[2]), box())
	}
	if s.Sideways {
		if dialled != "" {
			row = append(row, doc.Cell{Text: "as foot " + dialled}, doc.Cell{})
		} else {
			row = append(row, bold(t.sideWords(s, f)), box())
		}
	}
	if s.Along { // a machine that turns takes its left feet another way than its right ones
		row = append(row, bold(t.alongWords(s, f)), box())
	}
	return row
}

// packWords are the change of a pack, its pieces, and what the foot's dial shows.
func (t *order) packWords(s *view.WorkStage, f int) []string {
	change, pieces := s.Feet[f].Change, &s.Feet[f].Pieces
	shims := t.bare(t.Shim(change.By()))
	out, in, then := t.pieces(pieces.Out, ""), t.pieces(pieces.In, ""), t.pieces(pieces.Then, "")
	if len(pieces.In) == len(pieces.Then) { // all of it is new, and goes in in this order
		in, then = then, ""
	}
	what := t.packThen(change)
	switch {
	case t.Moved(change.By()).Zero():
	case out != "":
		what += "; out " + out
		if in != "" {
			what += ", in " + in
		}
		if len(pieces.Then) > 1 && then != "" {
			what += "; then " + then
		}
	case in != "":
		what += "; in " + in
	case math.IsNaN(change.Then):
		what = "measure it first"
	case change.By() < 0:
		what += ", or a new pack"
	}
	shims += t.packRoom(s.Feet[f].PackRoom)
	return []string{shims, strings.TrimPrefix(what, "; "), t.way(s.Dials[f].Up, "up", "down")}
}

// packThen is a pack before and after; "" where it is not known.
func (t *order) packThen(c view.PackChange) string {
	if math.IsNaN(c.Now) {
		return ""
	}
	return t.Pack(c)
}

// bare is a move without its unit, which the sheet has once.
func (t *order) bare(move string) string { return strings.TrimSuffix(move, " "+t.MoveUnit()) }

// sideWords are what a side dial shows once a stage is done, and what room is left there.
func (t *order) sideWords(s *view.WorkStage, f int) string {
	text := t.way(s.Dials[f].Left, "left", "right")
	if site := t.Site(s.Moves[f].Left); site != "" && t.OwnSides() {
		text += ", " + site
	}
	return text + t.sideRoom(s.Feet[f].SideRoom)
}

// alongWords are what a dial along shows at a foot.
func (t *order) alongWords(s *view.WorkStage, f int) string {
	return t.way(s.Dials[f].Axial, "on", "back")
}

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
