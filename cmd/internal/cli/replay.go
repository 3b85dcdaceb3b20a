package cli

import (
	"context"
	"io"

	"leastmove/cmd/internal/pages"
	"leastmove/cmd/internal/view"
)

// replay says what a plan does that someone wrote.
func replay(ctx context.Context, j *job) (answer, error) {
	moves, faults := j.given.Moves(j.src.train)
	if faults != nil {
		return answer{}, j.faulty(j.plan, faults)
	}
	r, err := view.Replay(ctx, j.src.train, moves, j.Options)
	if err != nil {
		return answer{}, err
	}
	a := answer{write: written(j, r, writers[*view.Replayed]{
		formatText: pages.Replay, formatJSON: replayJSON,
		formatCSV: func(w io.Writer, r *view.Replayed, layout pages.Page) error { return pages.PlanCSV(w, r.Plan, layout) },
	})}
	if !r.Holds {
		a.ending = &ending{code: exitImpossible}
	}
	return a, nil
}
