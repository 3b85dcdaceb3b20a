package report

import (
	"fmt"
	"io"
	"math"
	"slices"

	"leastmove/cmd/internal/verify"
	"leastmove/cmd/internal/words"
	"leastmove/optimize/diagnose"
)

// verifySchema names the form of what became of the moves in JSON.
const verifySchema = "leastmove.verify/1"

type verifyDoc struct {
	Schema      string        `json:"schema"`
	Title       string        `json:"title"`
	Units       unitsDoc      `json:"units"`
	Met         bool          `json:"met"` // every coupling is within its limits now
	Use         words.Number  `json:"use"` // worst share of a limit now
	AsPlanned   bool          `json:"as_planned"`
	Square      words.Number  `json:"square"`  // weighted, of what was read less what was planned
	Most        words.Number  `json:"most"`    // that errors alone make in all but one of a thousand
	Freedom     int           `json:"freedom"` // degrees of freedom
	Enough      bool          `json:"enough"`  // the first suspect leaves no more than errors make
	Suspects    []suspectDoc  `json:"suspects"`
	Couplings   []comparedDoc `json:"couplings"`
	Machines    []wentDoc     `json:"machines"`
	Placing     words.Number  `json:"placing"` // move, 95 % half-width reckoned with
	Assumed     []string      `json:"assumed"` // errors that nothing states
	Packs       string        `json:"packs"`   // "now", "before" or "neither"
	Differences []string      `json:"differences"`
	UsedUp      []string      `json:"used_up"`             // of limits, not said in the file: remaining counts on it
	Remaining   *planDoc      `json:"remaining,omitempty"` // the plan from here, where limits are not met
	Warnings    []warningDoc  `json:"warnings"`
}

type suspectDoc struct {
	Kind     string       `json:"kind"`
	Machine  string       `json:"machine,omitempty"`
	Feet     []string     `json:"feet,omitempty"`
	Coupling string       `json:"coupling,omitempty"`
	Before   bool         `json:"before"` // of a reading: the one before the moves
	Plane    string       `json:"plane"`
	Share    words.Number `json:"share"` // of all that explains it
	Text     string       `json:"text"`
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
	Before  words.Number `json:"before"`
	Planned words.Number `json:"planned"`
	After   words.Number `json:"after"`
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
	Planned words.Number `json:"planned"`
	Went    words.Number `json:"went"`
	Half    words.Number `json:"half"` // 95 % half-width
}

// VerifyJSON writes what became of the moves, for programs.
func VerifyJSON(w io.Writer, r *verify.Result, layout Page) error {
	v := &verified{formatter: formatterOf(r.Train), r: r}
	j := r.Verdict
	doc := verifyDoc{
		Schema: verifySchema, Title: v.Title(), Units: v.unitsDoc(), Met: r.Met(), Use: words.Use(r.Worst()),
		AsPlanned: !j.Off, Square: words.Fixed(j.Square, 1), Most: words.Fixed(j.Most, 1), Freedom: j.Freedom, Enough: j.Enough,
		Suspects: []suspectDoc{}, Machines: []wentDoc{}, Placing: v.Offset(r.Placing), Assumed: []string{}, Differences: []string{}, UsedUp: []string{},
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
		d := wentDoc{Name: v.Machine(i), Stations: []stationWentDoc{}}
		for _, s := range j.Machines[i].Stations {
			d.Stations = append(d.Stations, stationWentDoc{
				v.feetNames(i, s.Feet),
				wentMoveDoc{v.Offset(s.PlannedUp), v.Offset(s.Up), v.Offset(s.HalfUp)},
				wentMoveDoc{v.Offset(s.PlannedLeft), v.Offset(s.Left), v.Offset(s.HalfLeft)},
			})
		}
		doc.Machines = append(doc.Machines, d)
	}
	if !r.Met() {
		p := planDocument(r.Remaining, layout)
		withhold(&p, r)
		doc.Remaining = &p
	}
	return write(w, doc)
}

// withhold leaves out the packs that are in doubt, and what to have at hand where that counts them.
func withhold(doc *planDoc, r *verify.Result) {
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
	known := slices.DeleteFunc(doc.Packs, func(p piecesDoc) bool { return doubted[[2]string{p.Machine, p.Foot}] })
	if len(known) < len(doc.Packs) {
		doc.Packs, doc.Shims = known, nil
	}
}

func (s formatter) feetNames(i int, feet []int) []string {
	var names []string
	for _, f := range feet {
		names = append(names, s.Foot(i, f))
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
		Kind: kindOf(s.Cause), Before: s.Before, Plane: planeOf(s.Plane), Share: words.Fixed(s.Share, 3),
		Text: fmt.Sprintf("%s: %s", v.place(&s.Fault), v.happened(&s.Fault)),
	}
	if s.Machine >= 0 {
		d.Machine, d.Feet = v.Machine(s.Machine), v.feetNames(s.Machine, s.Feet)
	}
	if s.Coupling >= 0 {
		d.Coupling = v.Coupling(s.Coupling)
	}
	return d
}

func (v *verified) comparedDoc(i int) comparedDoc {
	c := &v.r.Couplings[i]
	e := &v.r.Verdict.Couplings[i]
	d := comparedDoc{Name: v.Coupling(i), Rest: comparedRestDoc{
		Before: v.standingDoc(c.Before), Planned: v.standingDoc(c.Planned), After: v.standingDoc(c.Now),
		Errors: v.standingDoc(wider(diagnose.Standing{Misalignment: e.Misalignment, Gap: e.Gap})),
	}}
	for k := range c.Conditions {
		s := &c.Conditions[k]
		d.States = append(d.States, comparedStateDoc{
			Condition: v.Condition(k), Use: tripleDoc{words.Use(s.UseBefore), words.Use(s.UsePlanned), words.Use(s.Now.Worst())}, Worst: worst(&s.Now).Kind.String(),
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
		V: tiltDoc{v.Offset(s.V.Offset), v.Angle(s.V.Angle)},
		H: tiltDoc{v.Offset(s.H.Offset), v.Angle(s.H.Angle)},
	}
	if !math.IsNaN(s.Gap) {
		d.Gap = v.Length(s.Gap)
	}
	return d
}
