package pages

import (
	"fmt"
	"math"
	"strings"

	"leastmove/cmd/internal/doc"
	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
)

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
			room := &t.plan.Rooms[i][f]
			row := []string{t.leftOr(room.Up), t.leftOr(room.Down), t.leftOr(room.Left), t.leftOr(room.Right), nearEnd(room)}
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
	t.Say(fmt.Sprintf("How much further it can go each way on its own, in %s; open: the file states no limit. Named "+
		"at the right: within %s of its end.",
		t.MoveUnit(), string(words.Fixed(100*(1-view.Near), 0))+" %"))
	t.Table(g)
}

func (t *planText) leftOr(mm float64) string { return t.roomOr(math.Max(mm, 0)) }

// nearEnd names the ways in which a foot has used almost all of a limit.
func nearEnd(r *view.FootRoom) string {
	var ways []string
	for _, way := range []struct {
		near bool
		name string
	}{{r.NearUp, "up"}, {r.NearDown, "down"}, {r.NearLeft, "left"}, {r.NearRight, "right"}} {
		if way.near {
			ways = append(ways, way.name)
		}
	}
	return strings.Join(ways, ", ")
}
