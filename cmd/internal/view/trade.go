package view

import (
	"context"
	"math"
	"slices"

	"leastmove/cmd/internal/words"
	"leastmove/optimize"
	"leastmove/optimize/ways"
	"leastmove/train"
)

// A Trade is the least total movement against the worst use of a coupling limit.
type Trade struct {
	ways.ParetoFront
	Units    train.Units // of the train file
	Weighted bool        // totals have the file's weights in them
	// ratio, movement at the knee above that where all of the limits are used, at least 0; NaN where that is 0 or
	// there is no knee
	More    float64
	Closest float64   // mm, movement from the knee to the closest alignment; NaN without a knee
	This    *ThisPlan // nil: none is marked
}

// ThisPlan is where a plan stands beside the curve.
type ThisPlan struct {
	Aim, Use float64 // shares of limit: what the plan may use, and the worst that it has
	Total    float64 // mm, as the plan's total
	Decimals int     // of moves on its pages
}

// Mark marks a plan; one without moves is not marked.
func (t *Trade) Mark(p *Plan) {
	if p != nil && p.Status == Planned {
		t.This = &ThisPlan{Aim: p.Aim, Use: p.Reached, Total: p.Total, Decimals: words.NumbersOf(p.Train).MoveDecimals}
	}
}

// A TradePoint is one point of it.
type TradePoint = ways.ParetoPoint

// TradeOff works it out. An error is one of planning.
func TradeOff(ctx context.Context, t *train.Train, opt optimize.Options) (*Trade, error) {
	front, err := ways.Pareto(ctx, t, opt)
	if err != nil {
		return nil, err
	}
	return TradeOf(t, front), nil
}

// Know is the curve where plans of the same run are known too: their totals are on no page below it.
func (t *Trade) Know(plans ...*Plan) *Trade {
	front := t.ParetoFront
	front.Points = slices.Clone(front.Points)
	for _, p := range plans {
		if p.Status != Planned {
			continue
		}
		front.Know(TradePoint{Total: p.Total, Reached: p.Reached, Largest: p.Largest, Moved: p.Moved})
		if p.Others == nil {
			continue
		}
		for _, o := range p.Others.Rows {
			if o.Found {
				front.Know(TradePoint{Total: o.Total, Reached: o.Share, Largest: o.Largest, Moved: len(o.Machines)})
			}
		}
	}
	out := tradeOf(&front)
	out.Units, out.Weighted, out.This = t.Units, t.Weighted, t.This
	return out
}

// A knee counts where the curve falls by a twentieth of its highest total or more, and bends there
// by three twentieths of what it falls below the straight line between its ends.
const (
	leastFall = 0.05
	leastBend = 0.15
)

// bent says whether a curve has a knee that a reader can see.
func bent(front *ways.ParetoFront) bool {
	if front.Knee < 0 {
		return false
	}
	first, knee, last := front.Points[0], front.Points[front.Knee], front.Points[len(front.Points)-1]
	fall := first.Total - last.Total
	along := (knee.Use - first.Use) / (last.Use - first.Use)
	return fall >= leastFall*first.Total && 1-along-(knee.Total-last.Total)/fall >= leastBend
}

// TradeOf are the facts of a curve.
func TradeOf(t *train.Train, front *ways.ParetoFront) *Trade {
	out := tradeOf(front)
	out.Units, out.Weighted = t.Units, ways.Weighted(t)
	return out
}

// tradeOf are those that follow from the points alone.
func tradeOf(front *ways.ParetoFront) *Trade {
	out := &Trade{ParetoFront: *front, More: math.NaN(), Closest: math.NaN()}
	if !bent(front) {
		out.Knee = -1
	}
	if out.Knee < 0 {
		return out
	}
	first, knee, last := front.Points[0], front.Points[front.Knee], front.Points[len(front.Points)-1]
	if last.Total > 0 {
		out.More = math.Max(0, knee.Total/last.Total-1)
	}
	out.Closest = first.Total - knee.Total
	return out
}
