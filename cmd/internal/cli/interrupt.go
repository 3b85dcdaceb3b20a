package cli

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/signal"
)

// interruptible is a context that an interrupt ends. It is made once the input is
// there: an interrupt while waiting for that ends the program.
func (s streams) interruptible() (context.Context, context.CancelFunc) {
	if s.context != nil {
		return s.context()
	}
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	context.AfterFunc(ctx, stop) // a second interrupt ends the program at once
	return ctx, stop
}

// interrupted is the word on a result that an interrupt cut. It was written, but for a
// file that was kept instead ("": none).
func interrupted(kept string) error {
	if kept != "" {
		return &ending{exitInterrupted, fmt.Errorf(
			"interrupted before there was a plan or a proof: %s stays as it was", kept)}
	}
	return &ending{exitInterrupted, errors.New("interrupted: the result is what was known by then")}
}

// nothing is the word on a command that ends without a result. Where an interrupt cut it,
// that is why, unless there is a fault.
func nothing(ctx context.Context, err error) error {
	var e *ending
	if ctx.Err() == nil || !errors.As(err, &e) || e.code == exitFault {
		return err
	}
	return &ending{exitInterrupted, fmt.Errorf("interrupted, nothing was written: %w", err)}
}

// sparing are the results that replace no file, and the first file that another would
// have replaced ("": none).
func sparing(results []placed) (kept []placed, spared string) {
	for _, r := range results {
		if !r.replaces() {
			kept = append(kept, r)
		} else if spared == "" {
			spared = r.path
		}
	}
	return kept, spared
}
