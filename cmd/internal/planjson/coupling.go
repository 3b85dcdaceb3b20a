package planjson

import (
	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
)

// A Coupling is one coupling of a plan, or of a train as found.
type Coupling struct {
	Name   string   `json:"name" about:"name in the train file" read:"name"`
	From   string   `json:"from" about:"machine, or machine and shaft, that the signs count from"`
	To     string   `json:"to" about:"the other machine, or machine and shaft"`
	X      Number   `json:"x" about:"train station of the offsets" unit:"length"`
	Flex   []Number `json:"flex,omitempty" about:"stations of the two flex planes" unit:"length"`
	States []State  `json:"states" about:"how it sits in every condition"`
	Warm   WarmUp   `json:"warm_up" about:"its worst state in warm-up, between the conditions; after the moves of a plan"`
	Driven string   `json:"driven_by,omitempty" about:"governing condition: the plan uses most of its limits in it"`

	Readings *Readings `json:"readings,omitempty" about:"what it was read with, and what that comes to"`
	AsRead   *Reading  `json:"as_read,omitempty" about:"misalignment as the file has it, before growth is added"`
	Cold     *Rest     `json:"cold,omitempty" about:"to be read cold and at standstill for what is wanted when running"`
	Rest     *Rest     `json:"rest,omitempty" about:"to be read after the moves, cold and at standstill"`

	Place Place `json:"-"`
}

// A WarmUp is the worst state of a coupling in warm-up.
type WarmUp struct {
	Use   Number `json:"use" about:"share of the limit that is used most, rounded up" unit:"share"`
	Worst string `json:"worst" about:"which limit that is, in words"`
	From  Warmth `json:"from" about:"how far the machine that the signs count from has grown"`
	To    Warmth `json:"to" about:"how far the other machine has grown"`
	Run   Number `json:"run" about:"share of the journal shift" unit:"share"`
}

// A Warmth is how far a machine has grown.
type Warmth struct {
	Share Number `json:"share,omitempty" about:"share of its growth" unit:"share"`
	Own   string `json:"condition,omitempty" about:"condition whose own growth it has"`
}

// A State is a coupling in one condition.
type State struct {
	Condition string   `json:"condition" about:"name of the condition"`
	Use       Shares   `json:"use" about:"share of the limit that is used most, rounded up; 1 is at the limit"`
	Worst     Worst    `json:"worst" about:"which limit is used most, in words"`
	Found     Reading  `json:"found" about:"misalignment before the moves, in this condition"`
	Planned   *Reading `json:"planned,omitempty" about:"misalignment after the moves, in this condition"`
}

// Shares are shares of a limit.
type Shares struct {
	Found   Number `json:"found" about:"before the moves" unit:"share"`
	Planned Number `json:"planned,omitempty" about:"after the moves" unit:"share"`
}

// Worst is which limit is used most.
type Worst struct {
	Found   string `json:"found" about:"before the moves"`
	Planned string `json:"planned,omitempty" about:"after the moves"`
}

// A Reading is how the `to` shaft sits relative to the `from` shaft.
type Reading struct {
	V   Tilt   `json:"v" about:"in the vertical plane"`
	H   Tilt   `json:"h" about:"in the horizontal plane"`
	Gap Number `json:"gap,omitempty" about:"distance between shaft ends" unit:"length"`
}

// A Rest is what is to be read cold and at standstill.
type Rest struct {
	Reading
	Flex  []Flex   `json:"flex,omitempty" about:"angles across the flex planes"`
	Dials []Target `json:"dials,omitempty" about:"what the dials that read it are to show"`
}

// A Flex is the angle across a flex plane.
type Flex struct {
	X Number `json:"x" about:"train station of the flex plane" unit:"length"`
	V Number `json:"v" about:"vertical, + slopes up" unit:"mrad"`
	H Number `json:"h" about:"horizontal, + points left" unit:"mrad"`
}

// A Tilt is an offset with an angle, in one plane.
type Tilt struct {
	Offset Number `json:"offset" about:"offset, + high or left" unit:"move"`
	Angle  Number `json:"angle" about:"angle, + slopes up or points left" unit:"mrad"`
}

// A Half is a tilt in both planes.
type Half struct {
	V Tilt `json:"v" about:"in the vertical plane"`
	H Tilt `json:"h" about:"in the horizontal plane"`
}

// A Far is how far off a foot may be for errors of readings.
type Far struct {
	V Number `json:"v" about:"up or down" unit:"move"`
	H Number `json:"h" about:"sideways" unit:"move"`
}

// Readings are what the readings of a coupling come to.
type Readings struct {
	Spare     int      `json:"spare" about:"count of readings beyond the unknowns"`
	Scatter   Number   `json:"scatter" about:"standard error of one reading by the residuals; null: none" unit:"move"`
	Condition Number   `json:"condition" about:"condition number; 1: all unknowns are told apart well" unit:"ratio"`
	Half      Half     `json:"half" about:"95 % half-widths of what was found"`
	Far       Far      `json:"far" about:"95 % half-widths of that at the farthest foot"`
	Dials     []Dial   `json:"dials" about:"what every instrument read"`
	Checks    []Failed `json:"checks" about:"checks of the readings that failed"`
	Mistakes  []string `json:"mistakes,omitempty" about:"single slips that each explain what failed, in words"`
}

// A Mount is how a dial sits.
type Mount struct {
	Kind     string `json:"kind" about:"rim, face or offset"`
	On       string `json:"on,omitempty" about:"shaft that the plunger touches"`
	X        Number `json:"x" about:"train station of the plunger or the offsets" unit:"length"`
	Radius   Number `json:"radius" about:"radius of its circle; null: not stated, or none" unit:"length"`
	Away     bool   `json:"away,omitempty" about:"of a face: it looks away from the gap"`
	Pair     bool   `json:"pair,omitempty" about:"of a face: half the difference of two dials half a turn apart"`
	Sag      Number `json:"sag" about:"as the dial reads it at 6 on a sag bar" unit:"move"`
	PushedIn string `json:"pushed_in" about:"sign that the dial reads when pushed in: + or -"`
}

// A Dial is what an instrument read.
type Dial struct {
	Mount
	Set       int        `json:"set" about:"which set of readings it belongs to"`
	V         Number     `json:"v" about:"by itself, + high; of a face (mrad) + slopes up" unit:"move"`
	H         Number     `json:"h" about:"by itself, + left; of a face (mrad) + points left" unit:"move"`
	Ring      Number     `json:"ring" about:"top + bottom - left - right; null: not all were read" unit:"move"`
	Positions []Position `json:"positions,omitempty" about:"every position that was read"`
}

// A Clock is what a dial shows at an angle.
type Clock struct {
	Angle   Number `json:"angle" about:"clockwise from 12" unit:"degree"`
	Reading Number `json:"reading" about:"as the dial shows it" unit:"move"`
}

// A Position is one reading of a dial.
type Position struct {
	Clock
	Corrected Number `json:"corrected" about:"+ pushed in; without zero, sag, second order" unit:"move"`
	Residual  Number `json:"residual" about:"residual, + more than all readings together say" unit:"move"`
}

// A Target is what a dial is to show, zeroed at 12, sag in it; of offsets v and h.
type Target struct {
	Mount
	Clock []Clock `json:"clock,omitempty" about:"what it is to show at 12, 3, 6 and 9"`
	V     Number  `json:"v,omitempty" about:"offset to be read, + high" unit:"move"`
	H     Number  `json:"h,omitempty" about:"offset to be read, + left" unit:"move"`
}

// A Failed is a check of readings that failed.
type Failed struct {
	Kind  string `json:"kind" about:"ring, return, residual, repeat, method, sag, range or copy"`
	Dial  int    `json:"dial" about:"index into dials, from 0"`
	Size  Number `json:"size" about:"how far it is off, in size" unit:"check"`
	Limit Number `json:"limit" about:"how far it may be off" unit:"check"`
	Text  string `json:"text" about:"what to check, in words"`
}

// couplings are those of a train: as found, and as planned where there is a plan.
func (w filler) couplings(read []*view.CouplingRead, found, planned [][]view.Reading,
	warm []view.Transient) []Coupling {
	var docs []Coupling
	for i := range w.Train.Couplings {
		c := &w.Train.Couplings[i]
		doc := Coupling{Name: w.Coupling(i), From: w.Shaft(c.From), To: w.Shaft(c.To), X: w.Length(c.X),
			Readings: ReadingsOf(w.Formatter, read[i]), Warm: warmUp(&warm[i])}
		if c.Spacer {
			doc.Flex = []words.Number{w.Length(c.Flex[0]), w.Length(c.Flex[1])}
		}
		for k := range w.Train.Conditions {
			f := &found[i][k]
			state := State{
				Condition: w.Condition(k), Found: w.reading(f),
				Use: Shares{Found: words.Use(f.Worst())}, Worst: Worst{Found: view.Governs(f)},
			}
			if planned != nil {
				r := &planned[i][k]
				after := w.reading(r)
				state.Planned, state.Use.Planned = &after, words.Use(r.Worst())
				state.Worst.Planned = view.Governs(r)
			}
			doc.States = append(doc.States, state)
		}
		if planned != nil {
			doc.Driven = w.Condition(view.Driving(planned[i]))
		}
		docs = append(docs, doc)
	}
	return docs
}

func warmUp(t *view.Transient) WarmUp {
	return WarmUp{Use: words.Use(t.Worst()), Worst: view.Governs(&t.Reading), From: warmth(t.From), To: warmth(t.To),
		Run: words.Fixed(t.Run, 3)}
}

func warmth(w view.Warmth) Warmth {
	return Warmth{Share: words.Fixed(w.Share, 3), Own: words.Clean(w.Own)}
}

func (w filler) reading(r *view.Reading) Reading {
	return Reading{V: tiltOf(w.Formatter, r.V), H: tiltOf(w.Formatter, r.H), Gap: w.Length(r.Gap)}
}

func (w filler) rest(i int, r *view.Reading) *Rest {
	doc := Rest{Reading: w.reading(r), Dials: w.targets(&w.Train.Couplings[i], r)}
	c := &w.Train.Couplings[i]
	for _, u := range r.Uses {
		if u.Kind == view.Flex1 || u.Kind == view.Flex2 {
			doc.Flex = append(doc.Flex, Flex{X: w.Length(c.Flex[u.Kind-view.Flex1]), V: w.Angle(u.V), H: w.Angle(u.H)})
		}
	}
	return &doc
}

// targets are the targets of a coupling's dials for programs.
func (w filler) targets(c *view.Coupling, r *view.Reading) []Target {
	var docs []Target
	for _, target := range view.Targets(c, r.Misalignment) {
		doc := Target{Mount: MountOf(w.Formatter, c, target.Dial)}
		if target.Offsets() {
			doc.V, doc.H = w.Offset(target.V), w.Offset(target.H)
		}
		for i, v := range target.Clock {
			doc.Clock = append(doc.Clock, Clock{Angle: words.Fixed(view.Quarters()[i], 0), Reading: w.Offset(v)})
		}
		docs = append(docs, doc)
	}
	return docs
}
