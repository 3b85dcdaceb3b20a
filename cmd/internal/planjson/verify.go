package planjson

import (
	"io"
	"math"
	"slices"

	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
)

// VerifySchema names the form of what became of the moves.
const VerifySchema = "leastmove.verify/1"

// A Verify is what `verify` writes: what became of the moves.
type Verify struct {
	Schema      string     `json:"schema" about:"name and version of this form"`
	Title       string     `json:"title" about:"title of the train file"`
	Units       Units      `json:"units" about:"units of all numbers here"`
	Met         bool       `json:"met" about:"every coupling is within its limits now"`
	ReadAgain   []string   `json:"read_again" about:"readings that disagree, to be read again: met is undecided till then"`
	Use         Number     `json:"use" about:"share of the limit that is used most now, rounded up" unit:"share"`
	AsPlanned   bool       `json:"as_planned" about:"errors alone explain what was read"`
	Square      Number     `json:"square" about:"chi-square of what was read less what was planned" unit:"ratio"`
	Most        Number     `json:"most" about:"that errors alone stay below in 999 of 1000 jobs" unit:"ratio"`
	Freedom     int        `json:"freedom" about:"degrees of freedom"`
	Enough      bool       `json:"enough" about:"the first suspect leaves no more than errors make"`
	Suspects    []Suspect  `json:"suspects" about:"what may have gone wrong, the likeliest first"`
	Couplings   []Compared `json:"couplings" about:"every coupling before, planned and after"`
	Machines    []Went     `json:"machines" about:"where every machine went, as far as the readings tell"`
	Placing     Number     `json:"placing" about:"95 % half-width of where feet are set" unit:"move"`
	Assumed     []string   `json:"assumed" about:"errors that nothing states, in words"`
	Packs       string     `json:"packs" about:"shim packs that the train file has: now, before or neither"`
	Differences []string   `json:"differences" about:"between the plan and the train file, in words"`
	UsedUp      []string   `json:"used_up" about:"what the plan used of limits and the train file does not say"`
	Remaining   *Plan      `json:"remaining,omitempty" about:"the plan from here, where limits are not met"`
	Warnings    []Warning  `json:"warnings" about:"what to check in the train file"`
}

// A Suspect is what may have gone wrong.
type Suspect struct {
	Kind     string   `json:"kind" about:"kind of fault"`
	Machine  string   `json:"machine,omitempty" about:"machine that it is at"`
	Feet     []string `json:"feet,omitempty" about:"feet that it is at"`
	Coupling string   `json:"coupling,omitempty" about:"coupling that it is at"`
	Before   bool     `json:"before" about:"of a reading: it is the one before the moves"`
	Plane    string   `json:"plane" about:"every, vertical, sideways or along"`
	Share    Number   `json:"share" about:"probability among all that explains it" unit:"share"`
	Text     string   `json:"text" about:"what may have happened, in words"`
}

// A Compared is a coupling before, planned and after.
type Compared struct {
	Name   string          `json:"name" about:"name of the coupling"`
	States []ComparedState `json:"states" about:"every condition"`
	Rest   ComparedRest    `json:"rest" about:"cold and at standstill"`
}

// A ComparedState is that in one condition.
type ComparedState struct {
	Condition string  `json:"condition" about:"name of the condition"`
	Use       Triple  `json:"use" about:"share of the limit that is used most, rounded up"`
	Worst     string  `json:"worst" about:"which limit is used most after the moves, in words"`
	Before    Reading `json:"before" about:"misalignment before the moves; null: the plan does not say"`
	Planned   Reading `json:"planned" about:"misalignment that was planned; null: the plan does not say"`
	After     Reading `json:"after" about:"misalignment as read after the moves"`
}

// A Triple is shares of a limit.
type Triple struct {
	Before  Number `json:"before" about:"before the moves; null: the plan does not say" unit:"share"`
	Planned Number `json:"planned" about:"as planned; null: the plan does not say" unit:"share"`
	After   Number `json:"after" about:"after the moves" unit:"share"`
}

// A ComparedRest is a coupling cold and at standstill.
type ComparedRest struct {
	Before  Reading `json:"before" about:"misalignment before the moves; null: the plan does not say"`
	Planned Reading `json:"planned" about:"misalignment that was planned"`
	After   Reading `json:"after" about:"misalignment as read after the moves"`
	Errors  Reading `json:"errors" about:"95 % half-widths of after less planned"`
}

// A Went is where a machine went.
type Went struct {
	Name     string        `json:"name" about:"name in the train file"`
	Stations []StationWent `json:"stations" about:"every station of feet"`
}

// A StationWent is where the feet of a station went.
type StationWent struct {
	Feet []string `json:"feet" about:"feet of the station"`
	Up   WentMove `json:"up" about:"up, + shims added"`
	Left WentMove `json:"left" about:"sideways, + to the left"`
}

// A WentMove is a move as planned and as made.
type WentMove struct {
	Planned Number `json:"planned" about:"move that was planned, signs as at a foot" unit:"move"`
	Went    Number `json:"went" about:"move by the readings, signs as at a foot" unit:"move"`
	Half    Number `json:"half" about:"95 % half-width of that" unit:"move"`
}

// WriteVerify writes what became of the moves, for programs.
func WriteVerify(out io.Writer, r *view.Verified, in *view.Input, texts Texts) error {
	w := filler{words.FormatterOf(r.Train), in, texts}
	j := r.Verdict
	doc := Verify{
		Schema: VerifySchema, Title: w.Title(), Units: w.units(), Met: r.Met(), Use: words.Use(r.Worst()),
		AsPlanned: !j.Off, Square: words.Fixed(j.Square, 1), Most: words.Fixed(j.Most, 1), Freedom: j.Freedom,
		Enough:   j.Enough,
		Suspects: []Suspect{}, Machines: []Went{}, Placing: w.Offset(r.Placing),
		ReadAgain: []string{}, Assumed: append([]string{}, texts.Assumed(r)...),
		Differences: append([]string{}, texts.Differences(r)...), UsedUp: append([]string{}, texts.UsedUp(r)...),
		Packs: [...]string{"now", "before", "neither"}[r.Packs], Warnings: warningsOf(in),
	}
	for _, k := range r.ReadAgain() {
		doc.ReadAgain = append(doc.ReadAgain, words.Clean(k.Message))
	}
	for n := range j.Suspects {
		doc.Suspects = append(doc.Suspects, w.suspect(r, &j.Suspects[n]))
	}
	for i := range r.Couplings {
		doc.Couplings = append(doc.Couplings, w.compared(r, i))
	}
	for i := range j.Machines {
		d := Went{Name: w.Machine(i), Stations: []StationWent{}}
		for _, s := range j.Machines[i].Stations {
			d.Stations = append(d.Stations, StationWent{
				Feet: w.Feet(i, s.Feet),
				Up:   WentMove{Planned: w.Offset(s.PlannedUp), Went: w.Offset(s.Up), Half: w.Offset(s.HalfUp)},
				Left: WentMove{Planned: w.Offset(s.PlannedLeft), Went: w.Offset(s.Left), Half: w.Offset(s.HalfLeft)},
			})
		}
		doc.Machines = append(doc.Machines, d)
	}
	if !r.Met() {
		p := fillerFor(r.Remaining, in, texts).plan(r.Remaining)
		withhold(&p, r)
		doc.Remaining = &p
	}
	return Write(out, doc)
}

// withhold leaves out the packs that are in doubt, and what to have at hand where that counts them.
func withhold(doc *Plan, r *view.Verified) {
	doubted := map[[2]string]bool{}
	for i := range doc.Machines {
		for f := range doc.Machines[i].Feet {
			if r.PackInDoubt(i, f) {
				foot := &doc.Machines[i].Feet[f]
				foot.Pack = nil
				doubted[[2]string{doc.Machines[i].Name, foot.Name}] = true
			}
		}
	}
	known := slices.DeleteFunc(doc.Packs, func(p Pieces) bool { return doubted[[2]string{p.Machine, p.Foot}] })
	if len(known) < len(doc.Packs) {
		doc.Packs, doc.Shims = known, nil
	}
}

// causeOf and planeOf are the words for causes and planes.
func causeOf(c view.Cause) string {
	return [...]string{"not made", "one foot", "wrong way", "elsewhere", "strained", "sag twice", "mirrored", "misread",
		"sides turned", "none made", "moved twice"}[c]
}

func planeOf(p view.Plane) string {
	return [...]string{"every", "vertical", "sideways", "along"}[p]
}

func (w filler) suspect(r *view.Verified, s *view.Suspect) Suspect {
	d := Suspect{
		Kind: causeOf(s.Cause), Before: s.Before, Plane: planeOf(s.Plane), Share: words.Fixed(s.Share, 3),
		Text: w.texts.Suspect(r, s),
	}
	if s.Machine >= 0 {
		d.Machine, d.Feet = w.Machine(s.Machine), w.Feet(s.Machine, s.Feet)
	}
	if s.Coupling >= 0 {
		d.Coupling = w.Coupling(s.Coupling)
	}
	return d
}

func (w filler) compared(r *view.Verified, i int) Compared {
	c := &r.Couplings[i]
	d := Compared{Name: w.Coupling(i), Rest: ComparedRest{
		Before: w.pose(c.Before), Planned: w.pose(c.Planned), After: w.pose(c.Now), Errors: w.pose(r.Half(i)),
	}}
	for k := range c.Conditions {
		s := &c.Conditions[k]
		d.States = append(d.States, ComparedState{
			Condition: w.Condition(k), Use: Triple{Before: words.Use(s.UseBefore), Planned: words.Use(s.UsePlanned),
				After: words.Use(s.Now.Worst())}, Worst: view.Governs(&s.Now),
			Before: w.pose(s.Before), Planned: w.pose(s.Planned), After: w.pose(s.After()),
		})
	}
	return d
}

func (w filler) pose(s view.Pose) Reading {
	d := Reading{V: tiltOf(w.Formatter, s.V), H: tiltOf(w.Formatter, s.H)}
	if !math.IsNaN(s.Gap) {
		d.Gap = w.Length(s.Gap)
	}
	return d
}
