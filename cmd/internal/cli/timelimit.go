package cli

import (
	"context"

	"leastmove/cmd/internal/view"
)

// A command has one deadline, from the time at which its search begins. What is done one thing after another shares
// out what is left until then.

// limited is a context that ends when the time that was asked for is up.
func (p *planning) limited(ctx context.Context) (context.Context, context.CancelFunc) {
	ctx, stop := p.Limited(ctx)
	p.Limit = 0
	return ctx, stop
}

// within does something in a share of the time that a deadline leaves.
func within[T any](ctx context.Context, share float64, do func(context.Context) (T, error)) (T, error) {
	ctx, stop := view.PartOfTime(ctx, share)
	defer stop()
	return do(ctx)
}

// isTimed says whether a clock bounds the work.
func isTimed(ctx context.Context) bool {
	_, timed := ctx.Deadline()
	return timed
}
