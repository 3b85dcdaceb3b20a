package planjson

import (
	"io"
	"math"
	"slices"

	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
)

// WriteVerify writes what became of the moves, for programs.
func WriteVerify(out io.Writer, r *view.Verified, in *view.Input, texts Texts) error {
	w := filler{words.FormatterOf(r.Train), in, texts}
	j := r.Verdict
	doc := Verify{
		Schema: VerifySchema, Title: w.Title(), Units: w.units(), Met: r.Met(), Use: words.Use(r.Worst()),
		AsPlanned: !j.Off, Square: words.Fixed(j.Square, 1), Most: words.Fixed(j.Most, 1), Freedom: j.Freedom,
		Enough:   j.Enough,
		Suspects: []Suspect{}, Machines: []Went{}, Placing: w.Offset(r.Placing),
		Assumed: append([]string{}, texts.Assumed(r)...), Differences: append([]string{}, texts.Differences(r)...),
		UsedUp: append([]string{}, texts.UsedUp(r)...),
		Packs:  [...]string{"now", "before", "neither"}[r.Packs], Warnings: warningsOf(in),
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
