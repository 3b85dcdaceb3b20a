package pages

import (
	"fmt"
	"math"
	"strings"

	"leastmove/cmd/internal/doc"
	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
)

// near is the share of a limit from which on a foot counts as near its end.
const near = view.Near

// reserve says how far each foot still is from its limits.
func (t *planText) reserve() {
	g := doc.Table{Columns: []doc.Column{
		doc.Wide("machine"), doc.Wide("foot"), doc.Fixed("up"), doc.Fixed("down"), doc.Fixed("left"),
		doc.Fixed("right"), doc.Wide("near its end"),
	}, Names: 2}
	for i := range t.Train.Machines {
		m := &t.Train.Machines[i]
		if m.Hold {
			continue
		}
		var groups []footGroup
		rows := make(map[string][]string)
		for f := range m.Feet {
			_, room := t.plan.FootLimits(i, f)
			row := []string{t.leftOr(room.Up), t.leftOr(room.Down), t.leftOr(room.Left), t.leftOr(room.Right), strings.Join(t.nearEnd(i, f), ", ")}
			key := strings.Join(row, "\x00")
			rows[key] = row
			groups = grouped(groups, key, f)
		}
		for _, group := range groups {
			row := rows[group.words]
			if strings.Join(row[:4], " ") == strings.TrimSpace(strings.Repeat(open+" ", 4)) {
				continue
			}
			feet := t.FeetOf(i, group.feet)
			if len(group.feet) == len(m.Feet) {
				feet = "every foot"
			}
			g.Add(append([]string{t.Machine(i), feet}, row...)...)
		}
	}
	if len(g.Rows) == 0 {
		return
	}
	t.Heading("What is left to each foot after the moves")
	t.Say(fmt.Sprintf("How much further it can go each way on its own, in %s; open: the file states no limit. Named at the right: within %s of its end.",
		t.MoveUnit(), string(words.Fixed(100*(1-near), 0))+" %"))
	t.Table(g)
}

func (t *planText) leftOr(mm float64) string { return t.roomOr(math.Max(mm, 0)) }

// nearEnd are the ways in which a foot has taken up almost all of a limit.
func (t *planText) nearEnd(m, f int) []string {
	foot := &t.Train.Machines[m].Feet[f]
	_, room := t.plan.FootLimits(m, f)
	var ends []string
	add := func(parts []string, left, whole float64, way string) []string {
		if !math.IsInf(whole, 1) && left <= (1-near)*math.Max(whole, 0)+words.Fair {
			return append(parts, way)
		}
		return parts
	}
	ends = add(ends, room.Up, foot.Raise, "up")
	ends = add(ends, room.Down, foot.Lower, "down")
	hole := math.Inf(1)
	if !math.IsNaN(foot.Hole) && !math.IsNaN(foot.Bolt) {
		hole = (foot.Hole - foot.Bolt) / 2
	}
	ends = add(ends, room.Left, math.Min(foot.TravelLeft, hole), "left")
	return add(ends, room.Right, math.Min(foot.TravelRight, hole), "right")
}
