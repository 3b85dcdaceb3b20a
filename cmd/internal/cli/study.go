package cli

import (
	"context"

	"leastmove/cmd/internal/pages"
	"leastmove/cmd/internal/view"
	"leastmove/train"
)

// quickTrade is the gap to which the report searches the trade-off: all of it
// together is to take less than a second for five machines.
const quickTrade = 0.02

// planShare is the share of a limit of time that the plan has before what is looked at beside it.
const planShare = 2. / 3

// A tried is a trade-off under way.
type tried struct {
	trade *view.Trade
	err   error
	panic any // a fault of the program, told where all others are; nil: none
}

// study is a plan and what is looked at beside it. The trade-off takes as long as
// all else, so it is worked out at the same time; what comes of it does not depend
// on that.
func study(ctx context.Context, j *job) (*pages.Study, error) {
	trading, stop := context.WithCancel(ctx)
	defer stop()
	early := tradeOff(trading, j.src.train, j.Options)
	plan, err := within(ctx, planShare, j.make)
	if err != nil {
		return nil, err
	}
	out := &pages.Study{Plan: plan}
	if plan.Status != view.Planned {
		return out, nil
	}
	t := j.planned()
	if j.relieved != nil {
		stop()
		early = tradeOff(ctx, t, j.Options)
	}
	opt := j.Options
	all, err := view.CompareWays(ctx, t, opt, plan)
	if err != nil {
		return nil, err
	}
	trade := <-early
	if trade.panic != nil {
		panic(trade.panic)
	}
	if trade.err != nil {
		return nil, trade.err
	}
	all.Trade = trade.trade.Know(append(all.Planned(), plan)...)
	out.Comparison, out.TradeGap, out.Timed = all, quickTrade, isTimed(ctx)
	return out, nil
}

// tradeOff works the trade-off out beside other work.
func tradeOff(ctx context.Context, t *train.Train, opt view.Options) <-chan tried {
	done := make(chan tried, 1)
	opt.ParetoGap, opt.Tell = quickTrade, nil
	go func() {
		var out tried
		defer func() {
			out.panic = recover()
			done <- out
		}()
		out.trade, out.err = view.TradeOff(ctx, t, opt)
	}()
	return done
}
