package planjson

import (
	"math"

	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
)

func (w filler) machine(p *view.Plan, i int) Machine {
	m := &w.Train.Machines[i]
	doc := Machine{Name: w.Machine(i), Moved: p.Moves.Moved(i), Held: m.Hold, Feet: []Foot{},
		Carries: w.Machines(m.Carries)}
	if own := w.Train.ShimsOf(i); own.Stepless || own.Step != w.Train.Shims.Step {
		doc.Step, doc.Chocks = w.Moved(own.Step), own.Stepless
	}
	for f, move := range p.Moves[i] {
		foot := &m.Feet[f]
		change := p.Changes[i][f]
		room := &p.Rooms[i][f]
		d := Foot{
			Name: w.Foot(i, f), X: w.Length(foot.X), Y: w.Length(foot.Y),
			Up: w.Moved(move.Up), Left: w.Moved(move.Left), Axial: w.Moved(move.Axial),
			Limits: []FootLimit{}, Soft: w.Offset(p.Planned.Machines[i].Feet[f].Soft),
			Cut: w.unlessZero(change.Cut), Fill: w.unlessZero(change.Fill),
			Room: Left{
				Up: w.Left(room.Up), Down: w.Left(room.Down), Left: w.Left(room.Left), Right: w.Left(room.Right),
			},
		}
		if !math.IsNaN(change.Now) {
			d.Pack = &Pack{Now: w.Packed(change.Now), Then: w.Packed(change.Then)}
		}
		for _, l := range room.Limits {
			d.Limits = append(d.Limits, FootLimit{Kind: string(l.Kind), Value: w.Limit(l.Kind, l.Value),
				Limit: w.Limit(l.Kind, l.Bound)})
			if l.Condition >= 0 {
				d.Limits[len(d.Limits)-1].Condition = w.Condition(l.Condition)
			}
		}
		doc.Feet = append(doc.Feet, d)
	}
	if l := m.Level; !math.IsInf(l.Pitch, 1) || !math.IsInf(l.Roll, 1) {
		doc.Level = w.level(p, i)
	}
	for n := range m.Nozzles {
		z := &m.Nozzles[n]
		doc.Nozzles = append(doc.Nozzles, Nozzle{Name: w.Nozzle(i, n),
			Value: w.Offset(p.Planned.Machines[i].Nozzles[n]), Limit: w.Offset(z.Limit)})
	}
	return doc
}

// unlessZero is what comes off a foot or its base, or goes into a gap; "" where that is
// nothing.
func (w filler) unlessZero(mm float64) words.Number {
	if n := w.Moved(mm); !n.Zero() {
		return n
	}
	return ""
}

// level is how far off level a machine stands after the moves.
func (w filler) level(p *view.Plan, i int) *Level {
	l, state := &w.Train.Machines[i].Level, &p.Planned.Machines[i]
	return &Level{
		Pitch: LevelValue{Value: w.Angle(state.Pitch), Limit: w.Angle(l.Pitch)},
		Roll:  LevelValue{Value: w.Angle(state.Roll), Limit: w.Angle(l.Roll)},
	}
}
