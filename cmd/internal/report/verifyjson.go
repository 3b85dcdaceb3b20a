package report

import (
	"fmt"
	"io"
	"math"

	"leastmove/cmd/internal/verify"
	"leastmove/optimize/diagnose"
)

// verifySchema names the form of what became of the moves in JSON.
const verifySchema = "leastmove.verify/1"

type verifyDoc struct {
	Schema      string        `json:"schema"`
	Title       string        `json:"title"`
	Units       unitsDoc      `json:"units"`
	Met         bool          `json:"met"` // every coupling is within its limits now
	Use         number        `json:"use"` // worst share of a limit now
	AsPlanned   bool          `json:"as_planned"`
	Square      number        `json:"square"`  // weighted, of what was read less what was planned
	Most        number        `json:"most"`    // that errors alone make in all but one of a thousand
	Freedom     int           `json:"freedom"` // degrees of freedom
	Enough      bool          `json:"enough"`  // the first suspect leaves no more than errors make
	Suspects    []suspectDoc  `json:"suspects"`
	Couplings   []comparedDoc `json:"couplings"`
	Machines    []wentDoc     `json:"machines"`
	Placing     number        `json:"placing"` // move, 95 % half-width reckoned with
	Assumed     []string      `json:"assumed"` // errors that nothing states
	Packs       string        `json:"packs"`   // "now", "before" or "neither"
	Differences []string      `json:"differences"`
	UsedUp      []string      `json:"used_up"`             // of limits, not said in the file: remaining counts on it
	Remaining   *planDoc      `json:"remaining,omitempty"` // the plan from here, where limits are not met
	Warnings    []warningDoc  `json:"warnings"`
}

type suspectDoc struct {
	Kind     string   `json:"kind"`
	Machine  string   `json:"machine,omitempty"`
	Feet     []string `json:"feet,omitempty"`
	Coupling string   `json:"coupling,omitempty"`
	Before   bool     `json:"before"` // of a reading: the one before the moves
	Plane    string   `json:"plane"`
	Share    number   `json:"share"` // of all that explains it
	Text     string   `json:"text"`
}

type comparedDoc struct {
	Name   string             `json:"name"`
	States []comparedStateDoc `json:"states"`
	Rest   comparedRestDoc    `json:"rest"`
}

type comparedStateDoc struct {
	Condition string     `json:"condition"`
	Use       tripleDoc  `json:"use"`
	Worst     string     `json:"worst"` // what takes up most of its limit after
	Before    readingDoc `json:"before"`
	Planned   readingDoc `json:"planned"`
	After     readingDoc `json:"after"`
}

// Shares of a limit; null: the plan does not say.
type tripleDoc struct {
	Before  number `json:"before"`
	Planned number `json:"planned"`
	After   number `json:"after"`
}

// Cold and at standstill.
type comparedRestDoc struct {
	Before  readingDoc `json:"before"`
	Planned readingDoc `json:"planned"`
	After   readingDoc `json:"after"`
	Errors  readingDoc `json:"errors"` // 95 % half-widths of after less planned
}

type wentDoc struct {
	Name     string           `json:"name"`
	Stations []stationWentDoc `json:"stations"`
}

// In moves, + up and + left.
type stationWentDoc struct {
	Feet []string    `json:"feet"`
	Up   wentMoveDoc `json:"up"`
	Left wentMoveDoc `json:"left"`
}

type wentMoveDoc struct {
	Planned number `json:"planned"`
	Went    number `json:"went"`
	Half    number `json:"half"` // 95 % half-width
}

// VerifyJSON writes what became of the moves, for programs.
func VerifyJSON(w io.Writer, r *verify.Result, layout Page) error {
	v := &verified{speaker: speakerOf(r.Train), r: r}
	j := r.Verdict
	doc := verifyDoc{
		Schema: verifySchema, Title: v.title(), Units: v.unitsDoc(), Met: r.Met(), Use: use(r.Worst()),
		AsPlanned: !j.Off, Square: fixed(j.Square, 1), Most: fixed(j.Most, 1), Freedom: j.Freedom, Enough: j.Enough,
		Suspects: []suspectDoc{}, Machines: []wentDoc{}, Placing: v.offset(r.Placing), Assumed: []string{}, Differences: []string{}, UsedUp: []string{},
		Packs: [...]string{"now", "before", "neither"}[r.Packs], Warnings: doubtDocs(layout),
	}
	doc.Assumed = append(doc.Assumed, r.Assumed...)
	doc.Differences = append(doc.Differences, v.differences()...)
	doc.UsedUp = append(doc.UsedUp, v.usedUp()...)
	for _, s := range j.Suspects {
		doc.Suspects = append(doc.Suspects, v.suspectDoc(&s))
	}
	for i := range r.Couplings {
		doc.Couplings = append(doc.Couplings, v.comparedDoc(i))
	}
	for i := range j.Machines {
		d := wentDoc{Name: v.machine(i), Stations: []stationWentDoc{}}
		for _, s := range j.Machines[i].Stations {
			d.Stations = append(d.Stations, stationWentDoc{
				v.feetNames(i, s.Feet),
				wentMoveDoc{v.offset(s.PlannedUp), v.offset(s.Up), v.offset(s.HalfUp)},
				wentMoveDoc{v.offset(s.PlannedLeft), v.offset(s.Left), v.offset(s.HalfLeft)},
			})
		}
		doc.Machines = append(doc.Machines, d)
	}
	if !r.Met() {
		p := planDocument(r.Remaining, layout)
		doc.Remaining = &p
	}
	return write(w, doc)
}

func (s speaker) feetNames(i int, feet []int) []string {
	var names []string
	for _, f := range feet {
		names = append(names, s.foot(i, f))
	}
	return names
}

// kinds are the words for causes in JSON.
func kindOf(c diagnose.Cause) string {
	return [...]string{"not made", "one foot", "wrong way", "elsewhere", "strained", "sag twice", "mirrored", "misread", "sides turned", "none made"}[c]
}

func planeOf(p diagnose.Plane) string {
	return [...]string{"every", "vertical", "sideways", "along"}[p]
}

func (v *verified) suspectDoc(s *diagnose.Suspect) suspectDoc {
	d := suspectDoc{
		Kind: kindOf(s.Cause), Before: s.Before, Plane: planeOf(s.Plane), Share: fixed(s.Share, 3),
		Text: fmt.Sprintf("%s: %s", v.place(&s.Fault), v.happened(&s.Fault)),
	}
	if s.Machine >= 0 {
		d.Machine, d.Feet = v.machine(s.Machine), v.feetNames(s.Machine, s.Feet)
	}
	if s.Coupling >= 0 {
		d.Coupling = v.coupling(s.Coupling)
	}
	return d
}

func (v *verified) comparedDoc(i int) comparedDoc {
	c := &v.r.Couplings[i]
	e := &v.r.Verdict.Couplings[i]
	d := comparedDoc{Name: v.coupling(i), Rest: comparedRestDoc{
		Before: v.standingDoc(c.Before), Planned: v.standingDoc(c.Planned), After: v.standingDoc(c.Now),
		Errors: v.standingDoc(wider(diagnose.Standing{Misalignment: e.Misalignment, Gap: e.Gap})),
	}}
	for k := range c.Conditions {
		s := &c.Conditions[k]
		d.States = append(d.States, comparedStateDoc{
			Condition: v.condition(k), Use: tripleDoc{use(s.UseBefore), use(s.UsePlanned), use(s.Now.Worst())}, Worst: worst(&s.Now).Kind.String(),
			Before: v.standingDoc(s.Before), Planned: v.standingDoc(s.Planned),
			After: v.standingDoc(diagnose.Standing{Misalignment: s.Now.Misalignment, Gap: s.Now.Gap}),
		})
	}
	return d
}

// wider makes 95 % half-widths of standard errors.
func wider(s diagnose.Standing) diagnose.Standing {
	const wide = 1.96
	for _, n := range []*float64{&s.V.Offset, &s.V.Angle, &s.H.Offset, &s.H.Angle, &s.Gap} {
		*n *= wide
	}
	return s
}

func (v *verified) standingDoc(s diagnose.Standing) readingDoc {
	d := readingDoc{
		V: tiltDoc{v.offset(s.V.Offset), v.angle(s.V.Angle)},
		H: tiltDoc{v.offset(s.H.Offset), v.angle(s.H.Angle)},
	}
	if !math.IsNaN(s.Gap) {
		d.Gap = v.length(s.Gap)
	}
	return d
}
