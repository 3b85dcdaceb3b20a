package pages

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"leastmove/cmd/internal/sheet"
	"leastmove/cmd/internal/words"
	"leastmove/optimize"
	"leastmove/optimize/staging"
	"leastmove/train"
)

// stage is one stage: what to do at the feet, and what dials show then.
func (t *order) stage(n int) {
	s := &t.staging.Stages[n]
	what := "packs"
	if s.Work == staging.Shifting {
		what = "sideways"
		if t.alongToo(s) {
			what += " and along"
		}
		if !slices.ContainsFunc(s.Moves, func(m train.FootMove) bool { return m.Left != 0 }) {
			what = "along the train"
		}
	}
	b := sheet.Block{Heading: fmt.Sprintf("Stage %d of %d, %s: %s", n+1, len(t.staging.Stages), t.Machine(s.Machine), what), Fields: []string{"by", "time"}}
	if t.void() {
		b.Heading += ", provisional"
	}
	b.Text = append([]string{steps(s.Work)}, t.stageNotes(s)...)
	b.Tables = []sheet.Table{t.feetTable(s)}
	for i := max(0, s.Machine-1); i <= min(s.Machine, len(s.Rest)-1); i++ {
		b.Tables = append(b.Tables, t.couplingTables(i, &s.Rest[i], showing{})...)
	}
	for i := range b.Tables {
		b.Tables[i].Bare = b.Tables[i].Form == "coupling" // its words say which way they go, and room is short
	}
	t.add(b)
}

// steps are how a stage is done: common practice, no source.
func steps(w staging.Work) string {
	if w == staging.Shifting {
		return "Bolts snug, push with the jack bolts, a little at each end in turn; tighten; only then back the jack bolts off; read."
	}
	return "Slacken this machine only. One end at a time: lift at the maker's points just enough for the shims, block, no hands under a foot; shims in; lower. Bolts tight crosswise to the maker's torque, THEN read feet and couplings."
}

func (t *order) alongToo(s *staging.Stage) bool {
	return len(s.Moves) > 0 && !t.Moved(s.Moves[0].Axial).Zero()
}

// stageNotes is what is to be known of a stage beside its numbers.
func (t *order) stageNotes(s *staging.Stage) []string {
	var out []string
	if t.alongToo(s) {
		out = append(out, fmt.Sprintf("%s: the whole machine. Dials along: on is to %s, back to %s.",
			capital(t.Along(s.Moves[0].Axial)), t.Machine(t.Last()), t.Machine(0)))
	}
	if s.Work == staging.Packing {
		if cut := t.cut(s.Machine); cut != "" {
			out = append(out, capital(cut)+".")
		}
		for f := range t.Train.Machines[s.Machine].Feet {
			change := t.PackChange(s.Machine, f, s.Moves[f])
			fill := t.Moved(change.Fill)
			switch {
			case fill.Zero():
			case t.Moved(change.By()).Zero():
				out = append(out, fmt.Sprintf("%s: what fills its soft foot (%s) and what is to come out are the same: its pack stays.", capital(t.Foot(s.Machine, f)), words.With(fill, t.MoveUnit())))
			default:
				out = append(out, fmt.Sprintf("%s: %s of its change fills its soft foot.", capital(t.Foot(s.Machine, f)), words.With(fill, t.MoveUnit())))
			}
		}
	}
	if s.Work == staging.Packing {
		if soft := t.softNote(s.Machine); soft != "" {
			out = append(out, soft)
		}
	}
	if s.Turned {
		out = append(out, "Sideways before packs here: the packs alone would pass a limit of this machine.")
	}
	if tight := t.tight(s.Machine-1, s.Machine); tight != nil {
		out = append(out, t.nothingInHand(tight))
	}
	for _, e := range s.Broken {
		out = append(out, fmt.Sprintf("TAKE CARE: after this stage %s is past its limit (%s of %s) until the machine's other stage is done. No order avoids that: ask before you start.",
			t.limited(e), t.value(e.Kind, e.Value), words.With(t.value(e.Kind, e.Bound), t.unit(e.Kind))))
	}
	for _, w := range s.Over {
		out = append(out, fmt.Sprintf("TAKE CARE: a dial at %s would swing by %s, past a travel of %s, in any order: set one that goes further, or take it off and zero it anew.",
			t.quoted(w.Coupling), words.With(t.Moved(w.Swing), t.MoveUnit()), words.With(t.Moved(w.Travel), t.MoveUnit())))
	}
	return out
}

// limited names what a machine's own limit holds.
func (t *order) limited(e optimize.Constraint) string {
	at := t.footOf(e.Limit)
	switch e.Kind {
	case optimize.LimitNozzle:
		return at + ", nozzle " + t.Nozzle(e.Machine, e.Nozzle)
	case optimize.LimitPitch:
		return at + ", its level along the train,"
	case optimize.LimitRoll:
		return at + ", its level across the train,"
	case optimize.LimitBolt:
		return at + ", the bolt in its hole,"
	case optimize.LimitTravel:
		return at + ", its side travel,"
	case optimize.LimitFlat:
		return at + ", its soft foot,"
	}
	return at + ", its pack,"
}

// each stands behind the name of a pair of feet: what its row has is for each of the two.
const each = ", each"

// feetTable has a row for each foot, or pair of feet that is treated alike.
func (t *order) feetTable(s *staging.Stage) sheet.Table {
	k := sheet.Table{Form: "packs", Head: []string{"foot", "shims", "pack", "take out", "put in", "pack, base up", "foot goes", "dial reads"}}
	if s.Work == staging.Shifting {
		k = sheet.Table{Form: "shift", Head: []string{"foot", "move", "foot goes", "dial reads"}}
		if t.alongToo(s) {
			k = sheet.Table{Form: "along", Head: []string{"foot", "move", "foot goes", "dial reads", "along, foot goes", "dial reads"}}
		}
	}
	rows := make([][]sheet.Cell, len(s.Moves))
	for f := range s.Moves {
		if s.Work == staging.Shifting {
			rows[f] = t.shiftRow(s, f)
		} else {
			rows[f] = t.packRow(s, f)
		}
	}
	for f := 0; f < len(rows); f++ {
		if f+1 < len(rows) {
			if table, pair := t.Pair(s.Machine, f, f+1); pair && alike(rows[f], rows[f+1]) {
				rows[f][0].Text = table
				if s.Work == staging.Packing {
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
	if t.drifts(s) {
		head := "side drift"
		if s.Work == staging.Shifting {
			head = "drift before"
		}
		k.Form, k.Head = k.Form+" drift", append(k.Head, head)
		for n := range k.Rows {
			k.Rows[n] = append(k.Rows[n], sheet.Cell{Write: []string{""}})
		}
	}
	return k
}

// drifts says whether a stage is the one to write down in how far the machine went to a
// side as its packs were made: its side move after them, or the packs where none follows.
func (t *order) drifts(s *staging.Stage) bool {
	packs, shifts := false, false
	for n := range t.staging.Stages {
		o := &t.staging.Stages[n]
		if o.Machine != s.Machine {
			continue
		}
		packs, shifts = packs || o.Work == staging.Packing, shifts || o.Work == staging.Shifting
	}
	if s.Work == staging.Packing {
		return !shifts || s.Turned
	}
	return packs && !s.Turned
}

// alike says whether two rows have the same cells, but for the first.
func alike(a, b []sheet.Cell) bool {
	return slices.EqualFunc(a[1:], b[1:], func(x, y sheet.Cell) bool { return x.Text == y.Text })
}

// packRow is what goes out of and into one pack.
func (t *order) packRow(s *staging.Stage, f int) []sheet.Cell {
	change := t.PackChange(s.Machine, f, s.Moves[f])
	out, in, then := t.packPieces(s.Machine, f)
	if then == "" && !math.IsNaN(change.Then) && !t.Moved(change.By()).Zero() {
		then = "make it " + string(t.Packed(change.Then)) // of what, is for whoever sees the pack
	}
	return []sheet.Cell{
		{Text: t.Foot(s.Machine, f)}, {Text: t.bare(t.Shim(change.By())) + t.packRoom(s, f), Bold: true}, {Text: t.packThen(change)},
		{Text: out, Bold: true}, {Text: in, Bold: true}, {Text: then, Bold: true},
		{Text: t.way(s.Dials[f].Up, "up", "down"), Bold: true}, {Write: []string{""}},
	}
}

// packThen is a pack before and after; "" where it is not known.
func (t *order) packThen(c train.PackChange) string {
	if math.IsNaN(c.Now) {
		return ""
	}
	return t.Pack(c)
}

// shiftRow is how far one foot goes to a side.
func (t *order) shiftRow(s *staging.Stage, f int) []sheet.Cell {
	move := t.bare(t.Side(s.Moves[f].Left))
	if site := t.Site(s.Moves[f].Left); site != "" && t.OwnSides() {
		move += ", " + site
	}
	move += t.sideRoom(s, f)
	row := []sheet.Cell{
		{Text: t.Foot(s.Machine, f)}, {Text: move, Bold: true},
		{Text: t.way(s.Dials[f].Left, "left", "right"), Bold: true}, {Write: []string{""}},
	}
	if t.alongToo(s) {
		row = append(row, sheet.Cell{Text: t.way(s.Dials[f].Axial, "on", "back"), Bold: true}, sheet.Cell{Write: []string{""}})
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
