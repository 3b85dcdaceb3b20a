package planjson

import (
	"math"

	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
)

// A Machine is one machine of a plan.
type Machine struct {
	Name    string   `json:"name" about:"name in the train file" hand:"read" read:"name"`
	Moved   bool     `json:"moved" about:"a foot of it moves" hand:"passed"`
	Held    bool     `json:"held" about:"it may not be moved" hand:"passed"`
	Feet    []Foot   `json:"feet" about:"every foot" hand:"read"`
	Step    Number   `json:"step,omitempty" about:"finest change of its shims, where it has one of its own" unit:"move"`
	Carries []string `json:"carries,omitempty" about:"it is a base: the machines on it"`
	Chocks  bool     `json:"chocks,omitempty" about:"it is on chocks or wedges: any size, no shims"`
	Level   *Level   `json:"level,omitempty" about:"how far off level it sits after the moves"`
	Nozzles []Nozzle `json:"nozzles,omitempty" about:"every nozzle"`

	// A person says it once for the machine; the program says it at every foot.
	Axial Number `json:"axial,omitempty" about:"by hand: move along, as at a foot" unit:"move" hand:"only" read:"set"`
	Place Place  `json:"-"`
}

// A Level is how far off level a machine sits after the moves.
type Level struct {
	Pitch LevelValue `json:"pitch" about:"along the train, + lowers what lies further along"`
	Roll  LevelValue `json:"roll" about:"across the train, + raises the left side"`
}

// A LevelValue is that one way.
type LevelValue struct {
	Value Number `json:"value" about:"angle off level" unit:"mrad"`
	Limit Number `json:"limit" about:"largest angle allowed, in size; null: not stated" unit:"mrad"`
}

// A Foot is one foot of a machine, or by hand the two of a pair.
type Foot struct {
	Name  string `json:"name" about:"name in the train file" hand:"read" read:"name"`
	X     Number `json:"x" about:"station of the machine's own, + toward the last machine" unit:"length" hand:"read"`
	Y     Number `json:"y" about:"position, + left of the machine's centreline" unit:"length" hand:"read"`
	Up    Number `json:"up" about:"move up, + shims added" unit:"move" hand:"read" read:"set"`
	Left  Number `json:"left" about:"move sideways, + to the left" unit:"move" hand:"read" read:"set"`
	Axial Number `json:"axial" about:"move along, + toward the last machine" unit:"move" hand:"read" read:"set"`
	Cut   Number `json:"cut,omitempty" about:"+ cut off the foot or its base first, and put in" unit:"move" read:"set"`
	Fill  Number `json:"fill,omitempty" about:"+ put into the gap found under it; no move" unit:"move" read:"set"`
	Pack  *Pack  `json:"pack,omitempty" about:"thickness of the shim pack" hand:"read"`
	Soft  Number `json:"soft" about:"soft foot that the packs leave, + too thick" unit:"move"`
	Room  Left   `json:"room" about:"how much further it can go each way on its own"`

	Limits []FootLimit `json:"limits" about:"what the plan uses of the limits that are stated"`
	Place  Place       `json:"-"`
}

// Left is how much further a foot can go.
type Left struct {
	Up    Number `json:"up" about:"room upward; null: no limit" unit:"move"`
	Down  Number `json:"down" about:"room downward; null: no limit" unit:"move"`
	Left  Number `json:"left" about:"room to the left; null: no limit" unit:"move"`
	Right Number `json:"right" about:"room to the right; null: no limit" unit:"move"`
}

// A Pack is the thickness of a shim pack.
type Pack struct {
	Now  Number `json:"now" about:"before the moves, as the train file has it" unit:"move"`
	Then Number `json:"then" about:"after them, with what fills a gap under it" unit:"move"`
}

// A FootLimit is what is used of one limit of a foot.
type FootLimit struct {
	Kind      string `json:"kind" about:"lower, raise, bolt, travel or flat"`
	Condition string `json:"condition,omitempty" about:"of a bolt when hot: condition; else cold"`
	Value     Number `json:"value" about:"what is used of it, in size" unit:"move"`
	Limit     Number `json:"limit" about:"how much may be used of it" unit:"move"`
}

// A Nozzle is what is used of what a nozzle may be displaced.
type Nozzle struct {
	Name  string `json:"name" about:"name in the train file"`
	Value Number `json:"value" about:"displacement by the moves, in any direction" unit:"move"`
	Limit Number `json:"limit" about:"largest displacement allowed; null: not stated" unit:"move"`
}

// Pieces is the shim pack under a foot, shim by shim from the base up.
type Pieces struct {
	Machine string   `json:"machine" about:"machine"`
	Foot    string   `json:"foot" about:"foot of it"`
	Now     []Number `json:"now" about:"thicknesses before the moves; null: not stated" unit:"move" null:"yes"`
	Out     []Number `json:"out" about:"thicknesses to take out" unit:"move"`
	In      []Number `json:"in" about:"thicknesses to put in" unit:"move"`
	Then    []Number `json:"then" about:"thicknesses after; null: not stated" unit:"move" null:"yes" read:"shim"`
}

// A Shim is how many shims of a thickness are put in.
type Shim struct {
	Thickness Number `json:"thickness" about:"thickness" unit:"move"`
	Count     int    `json:"count" about:"how many"`
}

// A Soft is a soft foot.
type Soft struct {
	Machine string `json:"machine" about:"machine"`
	Foot    string `json:"foot" about:"foot of it"`
	Gap     Number `json:"gap" about:"gap under it, as measured" unit:"move"`
	Fill    Number `json:"fill" about:"to be put under it first" unit:"move"`
}

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
