package pages

import (
	"fmt"
	"io"
	"math"
	"strings"

	"leastmove/cmd/internal/doc"
	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
)

// CheckText writes a train as it was found: every coupling in every condition,
// and what every foot can still do.
func CheckText(w io.Writer, c *view.Check, layout Page) error {
	p, s := &page{width: layout.width()}, formatterOf(c.Train)
	p.Doc.Title = s.Title()
	p.Space()
	p.asked(layout)
	p.Say(s.asFound(c))
	p.failed(s, c)
	p.readBack(s, c)
	p.readings(s, c.Readings)
	p.survey(s, c.Survey)
	p.softFeet(s, c.Soft)
	p.Heading("Couplings as found")
	p.couplings(s, c.Found.Couplings, nil)
	p.Items(s.together(c.Together)...)
	p.warmUp(s, c.Warm, "as found")
	p.Heading("Feet as found")
	p.bound(s, c)
	p.Say(s.Sides() + fmt.Sprintf(" How far each foot can still go, on its own, in %s; open: the file states no limit. "+
		"Hole cold, hot: from the bolt to the edge of its hole, the nearest way, cold and where growth leaves the least.",
		s.MoveUnit()))
	for i := range c.Train.Machines {
		p.Space()
		p.feet(s, i, c)
	}
	p.slides(s, c.Slides)
	p.warnings(layout)
	return p.Doc.Text(w, p.width)
}

// failed are the checks of readings that failed: where one did, what is read back below may be wrong.
func (p *page) failed(s formatter, c *view.Check) {
	var items []string
	for _, r := range c.Readings {
		if r == nil {
			continue
		}
		for _, check := range r.Failed {
			items = append(items, s.Coupling(r.Coupling)+": "+words.Clean(check.Message))
		}
	}
	if c.Survey != nil {
		for _, check := range c.Survey.Failed {
			items = append(items, "survey: "+words.Clean(check.Message))
		}
	}
	if items != nil {
		p.Space()
		p.Say("CHECKS OF READINGS FAILED: what follows may be wrong by them. More is said under the readings, below.")
		p.Items(items...)
	}
}

// slides says what is not known of how feet slide in their holes.
func (p *page) slides(s formatter, open []view.OpenSlide) {
	var along, sideways []int
	for _, o := range open {
		if o.Along {
			along = append(along, o.Machine)
		}
		if o.Sideways {
			sideways = append(sideways, o.Machine)
		}
	}
	var parts []string
	if along != nil {
		parts = append(parts, "along the train at "+words.And(s.Machines(along))+" (a of its growth)")
	}
	if sideways != nil {
		parts = append(parts, "sideways at "+words.And(s.Machines(sideways))+" (rise and material of the feet)")
	}
	if parts != nil {
		p.Space()
		p.Say("Not stated is how far feet slide in their holes as machines grow, taken as not at all: " +
			strings.Join(parts, "; ") + ".")
	}
}

// asFound says in a sentence how the couplings stand.
func (s formatter) asFound(c *view.Check) string {
	return s.foundWith(c.Outside, len(c.Found.Couplings), c.Worst, "the worst")
}

// foundWith says of how many couplings they are outside, and what the worst, which has a name, uses of a limit.
func (s formatter) foundWith(outside, all int, worst float64, name string) string {
	if outside == 0 {
		return fmt.Sprintf("As found, every coupling is within %s of its limits %s.", words.Percent(worst), s.Conditions())
	}
	verb := "are"
	if outside == 1 {
		verb = "is"
	}
	text := fmt.Sprintf("As found, %d of %s %s outside the limits", outside, words.Plural(all, "coupling"), verb)
	if len(s.Train.Conditions) > 1 {
		text += " in one condition or more"
	}
	return text + fmt.Sprintf("; %s uses %s.", name, words.Percent(worst))
}

// feet are those of one machine.
func (p *page) feet(s formatter, i int, c *view.Check) {
	m, state := &s.Train.Machines[i], &c.Found.Machines[i]
	words := s.Machine(i)
	if m.Hold {
		words += ": held, may not be moved"
	}
	words += level(s, m, state)
	if len(m.Feet) == 0 {
		p.Subheading(words)
		return
	}
	g := doc.Table{Columns: []doc.Column{
		doc.Wide("foot"), doc.Fixed("pack"), doc.Fixed("up"), doc.Fixed("down"), doc.Fixed("left"),
		doc.Fixed("right"), doc.Fixed("hole cold"), doc.Fixed("hot"), doc.Wide("now"),
	}}
	for f := range m.Feet {
		room := &c.Rooms[i][f]
		g.Add(
			s.Foot(i, f), s.packOr(m.Feet[f].Pack), s.roomOr(room.Up), s.roomOr(room.Down), s.roomOr(room.Left),
			s.roomOr(room.Right), s.roomOr(room.HoleCold), s.roomOr(room.HoleHot),
			strings.Join(room.AtEnd(), ", "),
		)
	}
	g.Caption = words
	p.Table(g)
}

// level says how far off level a machine stands, where a limit is stated.
func level(s formatter, m *view.Machine, state *view.MachineState) string {
	var text string
	switch {
	case math.IsInf(m.Level.Pitch, 1):
	case m.Level.PitchUnknown:
		text += fmt.Sprintf("; off level along the train not stated, of %s", words.With(s.Angle(m.Level.Pitch), "mrad"))
	default:
		text += fmt.Sprintf("; off level along the train %s of %s", s.Angle(math.Abs(state.Pitch)),
			words.With(s.Angle(m.Level.Pitch), "mrad"))
	}
	switch {
	case math.IsInf(m.Level.Roll, 1):
	case m.Level.RollUnknown:
		text += fmt.Sprintf("; across it not stated, of %s", words.With(s.Angle(m.Level.Roll), "mrad"))
	default:
		text += fmt.Sprintf("; across it %s of %s", s.Angle(math.Abs(state.Roll)), words.With(s.Angle(m.Level.Roll), "mrad"))
	}
	return text
}

// open stands where the train file states nothing.
const open = "open"

func (s formatter) packOr(mm float64) string {
	if n := s.Packed(mm); n != "" {
		return string(n)
	}
	return open
}

func (s formatter) roomOr(mm float64) string {
	if n := s.Room(mm); n != "" {
		return string(n)
	}
	return open
}
