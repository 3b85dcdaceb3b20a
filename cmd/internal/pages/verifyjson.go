package pages

import (
	"fmt"
	"io"
	"math"
	"slices"

	"leastmove/cmd/internal/planjson"
	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
)

// VerifyJSON writes what became of the moves, for programs.
func VerifyJSON(w io.Writer, r *view.Verified, layout Page) error {
	v := &verified{formatter: formatterOf(r.Train), r: r}
	j := r.Verdict
	doc := planjson.Verify{
		Schema: planjson.VerifySchema, Title: v.Title(), Units: v.unitsDoc(), Met: r.Met(), Use: words.Use(r.Worst()),
		AsPlanned: !j.Off, Square: words.Fixed(j.Square, 1), Most: words.Fixed(j.Most, 1), Freedom: j.Freedom,
		Enough:   j.Enough,
		Suspects: []planjson.Suspect{}, Machines: []planjson.Went{}, Placing: v.Offset(r.Placing), Assumed: []string{},
		Differences: []string{}, UsedUp: []string{},
		Packs: [...]string{"now", "before", "neither"}[r.Packs], Warnings: doubtDocs(layout),
	}
	doc.Assumed = append(doc.Assumed, v.assumed()...)
	doc.Differences = append(doc.Differences, v.differences()...)
	doc.UsedUp = append(doc.UsedUp, v.usedUp()...)
	for _, s := range j.Suspects {
		doc.Suspects = append(doc.Suspects, v.suspectDoc(&s))
	}
	for i := range r.Couplings {
		doc.Couplings = append(doc.Couplings, v.comparedDoc(i))
	}
	for i := range j.Machines {
		d := planjson.Went{Name: v.Machine(i), Stations: []planjson.StationWent{}}
		for _, s := range j.Machines[i].Stations {
			d.Stations = append(d.Stations, planjson.StationWent{
				Feet: v.feetNames(i, s.Feet),
				Up:   planjson.WentMove{Planned: v.Offset(s.PlannedUp), Went: v.Offset(s.Up), Half: v.Offset(s.HalfUp)},
				Left: planjson.WentMove{Planned: v.Offset(s.PlannedLeft), Went: v.Offset(s.Left), Half: v.Offset(s.HalfLeft)},
			})
		}
		doc.Machines = append(doc.Machines, d)
	}
	if !r.Met() {
		p := planDocument(r.Remaining, layout)
		withhold(&p, r)
		doc.Remaining = &p
	}
	return planjson.Write(w, doc)
}

// withhold leaves out the packs that are in doubt, and what to have at hand where that counts them.
func withhold(doc *planjson.Plan, r *view.Verified) {
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
	known := slices.DeleteFunc(doc.Packs, func(p planjson.Pieces) bool { return doubted[[2]string{p.Machine, p.Foot}] })
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
func kindOf(c view.Cause) string {
	return [...]string{"not made", "one foot", "wrong way", "elsewhere", "strained", "sag twice", "mirrored", "misread",
		"sides turned", "none made"}[c]
}

func planeOf(p view.Plane) string {
	return [...]string{"every", "vertical", "sideways", "along"}[p]
}

func (v *verified) suspectDoc(s *view.Suspect) planjson.Suspect {
	d := planjson.Suspect{
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

func (v *verified) comparedDoc(i int) planjson.Compared {
	c := &v.r.Couplings[i]
	d := planjson.Compared{Name: v.Coupling(i), Rest: planjson.ComparedRest{
		Before: v.standingDoc(c.Before), Planned: v.standingDoc(c.Planned), After: v.standingDoc(c.Now),
		Errors: v.standingDoc(v.r.Half(i)),
	}}
	for k := range c.Conditions {
		s := &c.Conditions[k]
		d.States = append(d.States, planjson.ComparedState{
			Condition: v.Condition(k), Use: planjson.Triple{Before: words.Use(s.UseBefore), Planned: words.Use(s.UsePlanned),
				After: words.Use(s.Now.Worst())}, Worst: s.Governing().Kind.String(),
			Before: v.standingDoc(s.Before), Planned: v.standingDoc(s.Planned),
			After: v.standingDoc(s.After()),
		})
	}
	return d
}

func (v *verified) standingDoc(s view.Pose) planjson.Reading {
	d := planjson.Reading{
		V: planjson.Tilt{Offset: v.Offset(s.V.Offset), Angle: v.Angle(s.V.Angle)},
		H: planjson.Tilt{Offset: v.Offset(s.H.Offset), Angle: v.Angle(s.H.Angle)},
	}
	if !math.IsNaN(s.Gap) {
		d.Gap = v.Length(s.Gap)
	}
	return d
}
