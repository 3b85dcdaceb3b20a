package main

import (
	"context"
	"fmt"
	"math"
	"sync"

	"leastmove/optimize/bnb"
	"leastmove/optimize/mip"
)

// A verdict is what became of one train without whole steps.
type verdict struct {
	family string
	seed   uint64
	ours   bnb.Relaxed
	value  float64 // mm, of our point
	cert   certificate
	they   answers
	unit   float64 // mm, of their values
	doubt  string  // why the third referee was asked; "": it was not
}

// alike is the share by which the optima of two solvers that stop at 1e-9 may
// differ before a third is asked.
const alike = 1e-6

// judge solves a train here and by the referee, and asks for the third opinion
// where the two differ or the outside one is unsure.
func judge(s *subject, r *referee) (verdict, error) {
	v := verdict{family: s.family, seed: s.seed, unit: s.train.Units.Move(), value: math.NaN()}
	q := question{Text: s.text, Use: aim, With: []string{"relaxed", "lp"}, Repeat: 1}
	if err := r.send(q); err != nil {
		return v, err
	}
	v.ours = bnb.Relax(context.Background(), s.problem, mip.Goal{Use: aim})
	if v.ours.X != nil {
		v.value = cost(s.problem, v.ours.X)
	}
	v.cert = certified(s.problem, aim, v.ours)
	var err error
	if v.they, err = r.receive(); err != nil {
		return v, fmt.Errorf("%s: %w", s.name(), err)
	}
	if v.doubt = v.checks(); v.doubt == "" {
		return v, nil
	}
	q.With = []string{"minmax", "cuts", "cuts-minmax"}
	more, err := r.ask(q)
	if err != nil {
		return v, fmt.Errorf("%s: %w", s.name(), err)
	}
	v.they.Lowest, v.they.Cuts, v.they.CutsLowest = more.Lowest, more.Cuts, more.CutsLowest
	return v, nil
}

func (v *verdict) status() string {
	switch {
	case v.ours.Impossible():
		return "infeasible"
	case v.ours.X != nil:
		return "optimal"
	}
	return "unknown"
}

func (v *verdict) mm(a answer) float64 {
	if a.Value == nil {
		return math.NaN()
	}
	return *a.Value * v.unit
}

// off is how far our optimum is from another, as a share.
func (v *verdict) off(a answer) float64 { return share(v.value-v.mm(a), v.value) }

func (v *verdict) checks() string {
	cvx, lp := v.they.Relaxed, v.they.LP
	switch {
	case cvx.Status == "unknown":
		return "CVXOPT gives up"
	case cvx.Status != v.status():
		return "status"
	case v.status() == "optimal" && !(v.off(cvx) <= math.Max(alike, 1e3*cvx.Tolerance)):
		return "optimum"
	case v.status() == "optimal" && lp.Status == "infeasible":
		return "HiGHS: infeasible outside"
	case lp.Status == "optimal" && v.status() == "optimal" && v.mm(lp) > v.value+1e-6*math.Max(1, v.value):
		return "HiGHS: higher outside"
	case cvx.Tolerance > 0:
		return "CVXOPT loosened"
	}
	return ""
}

// settled says with whom the third referee sides.
func (v *verdict) settled() string {
	cuts := v.they.Cuts
	ours, theirs := cuts.Status == v.status(), cuts.Status == v.they.Relaxed.Status
	if v.status() == "optimal" && ours {
		ours = v.off(cuts) <= alike
	}
	if theirs && cuts.Status == "optimal" {
		theirs = share(v.mm(cuts)-v.mm(v.they.Relaxed), v.mm(cuts)) <= alike
	}
	switch {
	case cuts.Status == "unknown":
		return "undecided"
	case ours && theirs:
		return "both"
	case ours:
		return "leastmove"
	case theirs:
		return "CVXOPT"
	}
	return "neither"
}

// differs says whether the two contradict each other, and not only one of them
// gave up or loosened its tolerance.
func (v *verdict) differs() bool { return v.doubt != "" && v.doubt[0] != 'C' }

// relaxed runs the campaign without whole steps over n trains, shared out among
// the referees.
func relaxed(n int, c source, referees []*referee) ([]verdict, error) {
	all, errs := make([]verdict, n), make([]error, len(referees))
	var wait sync.WaitGroup
	for w, r := range referees {
		wait.Go(func() {
			for i := w; i < n; i += len(referees) {
				s, err := c.drawn(i)
				if err == nil {
					all[i], err = judge(s, r)
				}
				if err != nil {
					errs[w] = err
					return
				}
			}
		})
	}
	wait.Wait()
	for _, err := range errs {
		if err != nil {
			return nil, err
		}
	}
	return all, nil
}
