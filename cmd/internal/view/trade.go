package view

import (
	"context"
	"math"

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
	Closest float64 // mm, movement from the knee to the closest alignment; NaN without a knee
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

// TradeOf are the facts of a curve.
func TradeOf(t *train.Train, front *ways.ParetoFront) *Trade {
	out := &Trade{ParetoFront: *front, Units: t.Units, Weighted: ways.Weighted(t), More: math.NaN(), Closest: math.NaN()}
	if front.Knee < 0 {
		return out
	}
	first, knee, last := front.Points[0], front.Points[front.Knee], front.Points[len(front.Points)-1]
	if last.Total > 0 {
		out.More = math.Max(0, knee.Total/last.Total-1)
	}
	out.Closest = first.Total - knee.Total
	return out
}
