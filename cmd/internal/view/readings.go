package view

import (
	"leastmove/train"
	"leastmove/train/readings"
)

// A CouplingRead is what the readings of one coupling come to.
type CouplingRead struct {
	Coupling int             // index into the train's
	Of       *train.Coupling // the same
	Fit      *train.Fit
	Sets     bool // instruments were read in more than one pass
	Dials    []DialRead
	Failed   []FailedCheck
	Mistakes []string // single slips that each explain what failed: "if ..."
}

// A DialRead is one instrument and its own share of the fit.
type DialRead struct {
	Dial *train.Dial
	Fit  *train.DialFit
	On   train.End // the shaft that the plunger touches; of offsets: the To shaft
}

// Offsets says whether it gives offsets: it has no dial that is turned.
func (d *DialRead) Offsets() bool { return d.Dial.Kind == train.OffsetDial }

// Angular says whether Fit.V and Fit.H are slopes in mrad; else they are mm.
func (d *DialRead) Angular() bool { return d.Dial.Kind == train.FaceDial }

// A FailedCheck is a check that failed. What to say and what to do is worded once, by the reader,
// which warns of it too.
type FailedCheck struct {
	Kind          train.CheckKind
	Dial          int     // of Of.Dials; of a survey 0
	Size, Limit   float64 // mm; of an angle mrad
	Span          bool    // they are lengths of a bracket, not moves
	Angular       bool    // they are mrad
	Message, Hint string
}

// readingsOf are those of every coupling of a train.
func readingsOf(t *train.Train) []*CouplingRead {
	var out []*CouplingRead
	for i := range t.Couplings {
		out = append(out, readAt(t, i))
	}
	return out
}

// unseenOf are the couplings of which a misread position of a dial would not show.
func unseenOf(t *train.Train) []int {
	var out []int
	for i := range t.Couplings {
		if readings.Unseen(&t.Couplings[i]) != nil {
			out = append(out, i)
		}
	}
	return out
}

// readAt is one coupling of a train; nil where it has no readings.
func readAt(t *train.Train, i int) *CouplingRead {
	c := &t.Couplings[i]
	if len(c.Dials) == 0 {
		return nil
	}
	out := &CouplingRead{Coupling: i, Of: c, Fit: c.Fit, Sets: len(readings.Different(c.Dials)) < len(c.Dials)}
	for k := range c.Dials {
		d := DialRead{Dial: &c.Dials[k], Fit: &c.Fit.Dials[k], On: c.To}
		if d.Dial.OnFrom {
			d.On = c.From
		}
		out.Dials = append(out.Dials, d)
	}
	out.Failed, out.Mistakes = failed(t, c), readings.Slips(t, c)
	return out
}

// failed are the checks of a coupling's readings that failed.
func failed(t *train.Train, c *train.Coupling) []FailedCheck {
	var out []FailedCheck
	for _, k := range c.Fit.Checks {
		f := FailedCheck{Kind: k.Kind, Dial: k.Dial, Size: k.Size, Limit: k.Limit, Span: k.Kind == train.CheckSag}
		f.Message, f.Hint = readings.CheckWords(t, c, k)
		out = append(out, f)
	}
	return out
}
