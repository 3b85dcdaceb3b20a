package cli

import (
	"bytes"
	"context"
	"io"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/cmd/internal/view"
)

// A command has one deadline: what it does one thing after another finds no limit of its own to apply again.
func TestOneDeadline(t *testing.T) {
	const limit = time.Hour
	for _, asked := range []time.Duration{0, limit} {
		var stdout, stderr bytes.Buffer
		s := streams{in: strings.NewReader(""), out: &stdout, err: &stderr}
		ask := &request{file: trainFile, form: form{format: formatText, offers: []string{formatText}}}
		ask.Limit = asked
		looked := 0
		err := s.run(ask, func(ctx context.Context, j *job) (answer, error) {
			looked++
			assert.Zero(t, j.Limit, "a second limit")
			assert.Equal(t, asked > 0, isTimed(ctx))
			first, stop := view.PartOfTime(ctx, 0.5)
			defer stop()
			assert.Equal(t, asked > 0, isTimed(first))
			if asked > 0 {
				all, _ := ctx.Deadline()
				half, _ := first.Deadline()
				assert.InDelta(t, (limit / 2).Seconds(), all.Sub(half).Seconds(), 60)
			}
			return answer{write: func(w io.Writer) error { return nil }}, nil
		})
		require.NoError(t, err)
		assert.Equal(t, 1, looked)
	}
}

// An option starts from the plan that was found when it was listed.
func TestAnOptionStartsFromItsPlan(t *testing.T) {
	var stdout, stderr bytes.Buffer
	s := streams{in: strings.NewReader(""), out: &stdout, err: &stderr}
	ask := &request{file: "../../../optimize/ways/testdata/edge.toml", form: form{format: formatText,
		offers: []string{formatText}}}
	ask.relieve, ask.Widen = 1, true
	require.NoError(t, s.run(ask, func(ctx context.Context, j *job) (answer, error) {
		p, err := j.make(ctx)
		require.NoError(t, err)
		require.NotNil(t, p.Relieved)
		assert.NotNil(t, p.Relieved.Moves)
		assert.Equal(t, p.Relieved.Moves, j.Start)
		return answer{write: func(w io.Writer) error { return nil }}, nil
	}))
}
