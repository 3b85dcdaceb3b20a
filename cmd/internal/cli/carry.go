package cli

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"leastmove/cmd/internal/planjson"
	"leastmove/cmd/internal/view"
	"leastmove/train"
	"leastmove/train/trainfile"
	"leastmove/train/trainfile/rewrite"
	"leastmove/train/trainfile/tree"
)

// A renewal is what a new train file is carried over from.
type renewal struct {
	from  string // the old train file
	plan  string // whose moves count as made; "": none
	bands string // that the old train goes by; "": none
}

// renew writes an old train without its readings, and with what the moves of a plan
// change where one is named.
func (s streams) renew(r renewal, to string) error {
	if r.plan == "-" && r.from == "-" {
		return refused("--plan: the standard input can't be the train file and the plan")
	}
	src, err := s.read(r.from, r.bands, true)
	if err != nil {
		return err
	}
	text, head := string(src.text), carried(r.from)
	if r.plan != "" {
		made, changes, err := s.made(r, src)
		if err != nil {
			return err
		}
		text, head = made, head+believed(r.plan, changes)
	}
	if text, err = rewrite.WithoutReadings([]byte(text)); err != nil {
		return ours(err)
	}
	return s.fresh(to, head+"\n"+text)
}

// ours is the word on a text that could not be edited.
func ours(err error) error {
	return &ending{exitFault, fmt.Errorf("%w. This is a fault of the program: please "+
		"report it with the train file", err)}
}

// made is the text of a train file with the moves of a plan made.
func (s streams) made(r renewal, src *source) (string, []rewrite.Change, error) {
	p, _, err := s.readPlan(r.plan)
	if err != nil {
		return "", nil, err
	}
	if p.Status != statusPlanned && p.Status != statusTried {
		return "", nil, refused("--plan: the status of %s is %q, and only moves of a plan with the status %q or %q "+
			"are taken as made: leave --plan out, and state in the new file what was moved",
			r.plan, p.Status, statusPlanned, statusTried)
	}
	text, changes, faults, err := withMoves(p, src)
	switch {
	case faults != nil:
		return "", nil, s.faulty(r.plan, faults)
	case err != nil:
		return "", nil, err
	}
	// The gaps that the file has were filled: what is left may not be enough for them.
	corrected, err := rewrite.SoftFootCorrected([]byte(text))
	if err != nil {
		return "", nil, ours(err)
	}
	again, report := s.parse(r.from, []byte(corrected), src.standard)
	if again.train == nil {
		for _, f := range report {
			if f.Severity == trainfile.Error {
				return "", nil, refused("--plan: with the moves of %s made the train file could not be used: %s. The plan "+
					"is not one for this train, or was changed",
					r.plan, f.Message)
			}
		}
	}
	return text, changes, nil
}

// withMoves is the text of a train file with the moves of a plan made; what is wrong with the
// plan is told.
func withMoves(p *planjson.File, src *source) (string, []rewrite.Change, planjson.Report, error) {
	moves, faults := p.Moves(src.train)
	if faults == nil {
		faults = p.Edited()
	}
	if faults == nil {
		faults = p.Fits(src.train)
	}
	if faults != nil {
		return "", nil, faults, nil
	}
	now := cut(src.train, p).Made(moves)
	pieced(now, src.train, p)
	text, changes, err := rewrite.WithMoves(src.text, src.train, now)
	if err != nil {
		return "", nil, nil, ours(err)
	}
	return text, changes, nil, nil
}

// statusPlanned and statusTried are those of plans whose moves may be made: the program's own,
// and one that a person wrote and the program went through.
const statusPlanned, statusTried = "planned", "tried"

// cut is a train with what the plan takes off its feet or their bases, as an option does.
func cut(t *train.Train, p *planjson.File) *train.Train {
	out := *t
	out.Machines = slices.Clone(t.Machines)
	for n := range p.Machines {
		for i := range out.Machines {
			m := &out.Machines[i]
			if m.Name != p.Machines[n].Name {
				continue
			}
			m.Feet = slices.Clone(m.Feet)
			for n, feet := 0, p.Machines[n].Feet; n < len(feet); n++ {
				cut := p.PackChangeOf(&feet[n]).Cut
				for _, k := range planjson.Named(m, feet[n].Name) {
					m.Feet[k].Lower += cut - m.Feet[k].Cut // it counts what is cut
					m.Feet[k].Cut = cut
				}
			}
		}
	}
	return &out
}

// pieced says what packs are made of now where the plan lists it. Those of a file that
// only states how thick a pack is stay so: the plan takes such a pack for one piece.
func pieced(now, was *train.Train, p *planjson.File) {
	for i := range now.Machines {
		m := &now.Machines[i]
		for f := range m.Feet {
			foot := &m.Feet[f]
			then, listed := p.ThenUnder(m.Name, foot.Name)
			if !listed || foot.Pieces != nil || was.Machines[i].Feet[f].Pieces == nil {
				continue
			}
			sum := 0.0
			for _, piece := range then {
				sum += piece
			}
			if math.Abs(sum-foot.Pack) <= was.ShimsOf(i).Step/2+view.FileRounding {
				foot.Pieces = then
			}
		}
	}
}

// inComment is the name of a file in a comment.
func inComment(name string) string {
	if name == "-" {
		return "the standard input"
	}
	return shown(name)
}

// carried is what stands above a train that was carried over.
func carried(from string) string {
	return fmt.Sprintf(`# Carried over from %s,
# without what was read there. Where a line starts with %q, fill in what is
# read now and take those words away; what stood in braces goes back into them.
# Look through what may have changed since: shim and pieces (the packs that lie
# under the feet now), lower, raise, travel, bolt_at, level.found.
`, inComment(from), strings.TrimSpace(tree.ToRead))
}

// believed is what is said of what comes from a plan.
func believed(plan string, changes []rewrite.Change) string {
	var b strings.Builder
	fmt.Fprintf(&b, `#
# The moves of %s
# count as made: what follows from them was worked out, as if every foot had gone
# just where it was sent. MEASURE IT, do not believe it: a foot that did not go is
# not known here.
`, inComment(plan))
	if len(changes) == 0 {
		b.WriteString("# They change nothing that this file states.\n")
	}
	for _, c := range changes {
		const width = 80
		line := "#   " + c.Machine + ":"
		for k, key := range c.Keys {
			if k < len(c.Keys)-1 {
				key += ","
			}
			if len(line)+1+len(key) > width {
				b.WriteString(line + "\n")
				line = "#    "
			}
			line += " " + key
		}
		b.WriteString(line + "\n")
	}
	return b.String()
}
