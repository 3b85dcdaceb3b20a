package pages

import (
	"fmt"
	"math"
	"strings"

	"leastmove/cmd/internal/doc"
	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
)

// position says how the machines sit after the moves, where the file limits
// that: level, nozzles, soft foot.
func (t *planText) position() {
	g := doc.Table{Columns: []doc.Column{doc.Wide("machine"), doc.Wide("what"), doc.Fixed("after"), doc.Fixed("limit")},
		Names: 2}
	var rolls []string
	for i := range t.Train.Machines {
		m, s := &t.Train.Machines[i], &t.plan.Planned.Machines[i]
		if m.Hold {
			continue
		}
		row := func(what, after string, n words.Number, unit string) {
			limit := "not stated"
			if n != "" {
				limit = words.With(n, unit)
			}
			g.Add(t.Machine(i), what, after, limit)
		}
		if n := t.Angle(m.Level.Pitch); n != "" {
			row(fromFound("level along the train", m.Level.PitchUnknown), words.Signed(t.Angle, -s.Pitch, "slopes up %s",
				"slopes down %s"), n, "mrad")
		}
		if n := t.Angle(m.Level.Roll); n != "" {
			row(fromFound("level across it", m.Level.RollUnknown), words.Signed(t.Angle, s.Roll, "left side high %s",
				"right side high %s"), n, "mrad")
		}
		for z := range m.Nozzles {
			row("nozzle "+t.Nozzle(i, z)+" displaced", string(t.Offset(s.Nozzles[z])), t.Offset(m.Nozzles[z].Limit),
				t.MoveUnit())
		}
		for _, group := range t.softAfter(s) {
			row("soft foot at "+t.FeetOf(i, group.feet), group.words, t.Offset(m.MostSoft()), t.MoveUnit())
		}
		if words := t.rolled(i, s); words != "" {
			rolls = append(rolls, words)
		}
	}
	if len(g.Rows) == 0 && rolls == nil {
		return
	}
	t.Heading("Level, nozzles and soft foot after the moves")
	if len(g.Rows) > 0 {
		t.Table(g)
	}
	t.Items(rolls...)
}

// fromFound names a level; of one that is not stated as found, only how far the moves take it is known.
func fromFound(level string, unknown bool) string {
	if unknown {
		return level + ", by the moves alone (as found: not stated)"
	}
	return level
}

// A footGroup is feet of one machine of which the same is to be said.
type footGroup struct {
	words string
	feet  []int
}

// softAfter are the feet that the packs leave soft.
func (t *planText) softAfter(s *view.MachineState) []footGroup {
	var groups []footGroup
	for f := range s.Feet {
		words := words.Signed(t.Offset, s.Feet[f].Soft, "%s too thick", "%s too thin")
		if t.Offset(math.Abs(s.Feet[f].Soft)).Zero() {
			continue
		}
		groups = grouped(groups, words, f)
	}
	return groups
}

// grouped adds a foot to the group of which the same words are said.
func grouped(groups []footGroup, words string, foot int) []footGroup {
	for i := range groups {
		if groups[i].words == words {
			groups[i].feet = append(groups[i].feet, foot)
			return groups
		}
	}
	return append(groups, footGroup{words, []int{foot}})
}

// rolled says what the roll of a machine does to its shafts.
func (t *planText) rolled(i int, s *view.MachineState) string {
	roll := s.Motion[view.Roll]
	if t.Angle(math.Abs(roll)).Zero() {
		return ""
	}
	m := &t.Train.Machines[i]
	var shafts []string
	for k := range m.Shafts {
		shaft := &m.Shafts[k]
		up, left := t.plan.Rolled[i][k].Up, t.plan.Rolled[i][k].Left
		unit := " " + t.MoveUnit()
		text := words.Signed(t.Offset, left, "%s"+unit+" to the left", "%s"+unit+" to the right")
		if n := words.Signed(t.Offset, up, "%s"+unit+" up", "%s"+unit+" down"); !t.Offset(math.Abs(up)).Zero() {
			text = n + " and " + text
		}
		name := "its shaft"
		if shaft.Name != "" {
			name = t.Name(shaft.Name)
		}
		shafts = append(shafts, name+" "+text)
	}
	side := "left"
	if roll < 0 {
		side = "right"
	}
	return fmt.Sprintf("%s rolls by %s, %s side up. That alone takes %s; the numbers of the couplings have it in them.",
		t.Machine(i), words.With(t.Angle(math.Abs(roll)), "mrad"), side, strings.Join(shafts, ", "))
}
