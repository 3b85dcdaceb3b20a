package report

import (
	"fmt"
	"io"

	"leastmove/optimize"
)

// Text writes a plan for the crew.
func Text(w io.Writer, p *optimize.Plan, layout Page) error {
	t := &planText{page: page{width: layout.width()}, speaker: speakerOf(p.Train), plan: p}
	t.paragraph("", t.title())
	t.line("")
	t.answer()
	switch p.Status {
	case optimize.Planned:
		t.moves()
		t.couplings("Couplings before and after", p.Found.Couplings, p.Planned.Couplings)
		t.ends()
		t.prices()
	case optimize.Impossible:
		t.clash()
		t.couplings("Couplings as found", p.Found.Couplings, nil)
	default:
		t.couplings("Couplings as found", p.Found.Couplings, nil)
	}
	t.unstated()
	t.doubts(layout)
	if p.Status == optimize.Planned {
		t.account()
		t.cautions()
	}
	_, err := t.WriteTo(w)
	return err
}

type planText struct {
	page
	speaker
	plan *optimize.Plan
}

// answer is what came of planning, in a sentence or two.
func (t *planText) answer() {
	p := t.plan
	switch p.Status {
	case optimize.Planned:
		weighted := ""
		if t.weighted() {
			weighted = fmt.Sprintf(" (%s with the file's weights)", t.total(p.Total))
		}
		t.paragraph("", fmt.Sprintf("Move %d of %s; total movement %s%s, largest move at a foot %s; every coupling ends within %s of its limits %s.",
			p.Moved, plural(len(p.Train.Machines), "machine"), with(t.total(p.Plain), t.moveUnit()), weighted, with(t.moved(p.Peak), t.moveUnit()),
			percent(p.Reached), t.conditions()))
		if p.Reached > p.Aim*(1+fair) {
			t.paragraph("", t.missed())
		}
	case optimize.Within:
		t.paragraph("", fmt.Sprintf("Nothing needs to move: as found, every coupling is within %s of its limits %s.", percent(p.Reached), t.conditions()))
	case optimize.Impossible:
		t.paragraph("", fmt.Sprintf("No plan exists: no moves that the feet allow bring every coupling within its limits %s (proven).", t.conditions()))
	case optimize.Undecided:
		t.paragraph("", "Undecided: no plan was found, and it was not proven that there is none.")
		if l := floor(100*p.Lowest, 0); l != "" && p.Lowest >= 0.01 {
			t.paragraph("", fmt.Sprintf("Proven: whatever is moved, some coupling stays at %s %% of a limit or more.", l))
		}
		if b := t.bound(p.Bound); b != "" {
			t.paragraph("", fmt.Sprintf("Proven: no plan has a smaller total than %s.", with(b, t.moveUnit())))
		}
	default:
		panic("report: a plan that was not made")
	}
	if p.Cut != "" {
		t.paragraph("", "The search ended early: "+clean(p.Cut)+".")
	}
}

// missed says that the aim was not met, and what is proven about it.
func (t *planText) missed() string {
	p := t.plan
	if p.Lowest > p.Aim {
		return fmt.Sprintf("The aim of %s cannot be reached: some coupling stays at %s %% of a limit or more, whatever is moved (proven); this plan reaches %s.",
			percent(p.Aim), floor(100*p.Lowest, 0), percent(p.Reached))
	}
	return fmt.Sprintf("No plan at the aim of %s was found, and it was not proven that there is none; this plan reaches %s.",
		percent(p.Aim), percent(p.Reached))
}

// clash says which limits cannot hold together.
func (t *planText) clash() {
	t.heading("What clashes")
	if len(t.plan.Clash) == 0 {
		t.paragraph("", "The limits that cannot hold together were not narrowed down.")
		return
	}
	t.paragraph("", "These limits cannot hold together. There may be other such sets of limits.")
	var items []string
	for _, l := range t.plan.Clash {
		items = append(items, t.limit(l.Limit))
	}
	t.list(items)
}

// cautions are those that no plan should be without.
func (t *planText) cautions() {
	t.line("")
	t.paragraph("", "Lock out and tag out. Mind guards, lifting, stored heat and pressure, torque.")
	t.paragraph("", "Read every coupling again after the moves. Site rules and makers' manuals first.")
}
