package cli

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"leastmove/cmd/internal/doc"
	"leastmove/cmd/internal/explore"
	"leastmove/cmd/internal/pages"
	"leastmove/cmd/internal/planjson"
	"leastmove/cmd/internal/view"
	"leastmove/train/trainfile"
	"leastmove/train/trainfile/rewrite"
)

// An explored is a train file on the page of `explore`: it answers questions by the way of
// the commands, with the texts and flags that the page has.
type explored struct {
	streams
	file  string
	bands *trainfile.File
}

func (x *explored) Name() string { return shown(x.file) }
func (x *explored) Path() string { return x.file }

func (x *explored) Load() ([]byte, error) {
	text, _, err := x.text(x.file)
	return text, err
}

func (x *explored) Read(text []byte) explore.Source {
	src, report := x.parsed(text)
	return explore.Source{Train: src.train, Report: report, Files: src.files}
}

// parsed is a text in place of the file's.
func (x *explored) parsed(text []byte) (*source, trainfile.Report) {
	return x.parse(x.file, text, x.bands)
}

// job is a command with a text and flags in place of a file and a command line.
func (x *explored) job(q *explore.Question, format string) (*job, error) {
	ask := &request{file: x.file, form: form{format: format}}
	c := &cobra.Command{Use: "plan"}
	ask.planning.flags(c)
	if err := c.ParseFlags(q.Flags); err != nil {
		return nil, &ending{exitInput, err}
	}
	if err := ask.look(c.Flags()); err != nil {
		return nil, &ending{exitInput, err}
	}
	src, report := x.parsed(q.Text)
	if src.train == nil {
		return nil, refused("%s", strings.TrimSpace(report.String()))
	}
	if err := ask.fits(src.train); err != nil {
		return nil, err
	}
	j := &job{streams: x.streams, request: ask, src: src}
	ask.pools = x.kept.found()
	j.layout = pages.Page{Input: view.Input{Warnings: src.warnings(), Held: ask.Hold, Freed: ask.Free}}
	if q.Plan != nil {
		p, faults := planjson.Read(q.Plan, planjson.Options{Nearest: nearest})
		if p == nil {
			return nil, refused("%s", strings.TrimSpace(faults.Text("the moves")))
		}
		j.given = p
	}
	return j, nil
}

// soon is how long a search goes on before the page has the best plan so far: with the time that it takes to draw,
// within what feels like at once.
const soon = 40 * time.Millisecond

func (x *explored) Plan(ctx context.Context, q *explore.Question, tell func(string), first func(*explore.Answer)) (
	*explore.Answer, error) {
	j, err := x.job(q, formatText)
	if err != nil {
		return refusal(err)
	}
	units := j.src.train.Units
	j.Tell = func(p view.Progress) { tell(going(p, units)) }
	if j.given != nil {
		moves, faults := j.given.Moves(j.src.train)
		if faults != nil {
			return &explore.Answer{Refused: strings.TrimSpace(faults.Text("the moves"))}, nil
		}
		r, err := view.Replay(ctx, j.src.train, moves, j.Options)
		if err != nil {
			return refusal(err)
		}
		return &explore.Answer{Plan: r.Plan, Replayed: r, Layout: j.layout}, nil
	}
	if first != nil {
		j.First = func(p *view.Solved) {
			early := view.Of(p)
			early.Early, early.Verdict = true, nil
			first(&explore.Answer{Plan: early, Layout: j.layout, SoFar: p.SoFar})
		}
		j.Early = soon
	}
	p, err := j.make(ctx)
	if err != nil {
		return refusal(err)
	}
	return &explore.Answer{Plan: p, Layout: j.layout, Notes: j.notes, Stopped: ctx.Err() != nil}, nil
}

// refusal is the answer where the input is refused; other errors are ours.
func refusal(err error) (*explore.Answer, error) {
	var e *ending
	if errors.As(err, &e) && e.code != exitFault && e.err != nil {
		return &explore.Answer{Refused: printable(e.err)}, nil
	}
	return nil, err
}

func (x *explored) Write(ctx context.Context, w io.Writer, q *explore.Question, what string) error {
	if what == "toml" {
		_, err := w.Write(q.Text)
		return err
	}
	formats := map[string]string{"json": formatJSON, "html": formatHTML, "pdf": formatPDF, "released": formatPDF,
		"txt": formatText}
	j, err := x.job(q, formats[what])
	if err != nil {
		return err
	}
	solve := solver(plan)
	switch {
	case j.given != nil && (what == "json" || what == "txt"):
		solve = replay
	case j.given != nil:
		return refused("moves that were given have no %s: it is for a plan that was made", what)
	case what == "html":
		solve = reported
	case what == "pdf" || what == "released":
		j.layout.Released = what == "released"
		solve = func(ctx context.Context, j *job) (answer, error) { return workOrder(ctx, j, doc.A4) }
	}
	a, err := solve(ctx, j)
	if err != nil {
		return err
	}
	if ctx.Err() != nil {
		return ctx.Err()
	}
	return a.write(w)
}

func (x *explored) Save(text, was []byte) error {
	now, err := x.Load()
	if err != nil {
		return err
	}
	if !bytes.Equal(now, was) {
		return fmt.Errorf("%s was changed meanwhile: nothing was written", x.Name())
	}
	path, err := filepath.EvalSymlinks(x.file)
	if err != nil {
		return err
	}
	info, err := os.Stat(path)
	if err != nil {
		return err
	}
	return output{path: path, mode: info.Mode().Perm()}.write(x.streams, text)
}

func (x *explored) After(ctx context.Context, q *explore.Question, plan *view.Plan, stage int,
	read []rewrite.Setting) (*explore.After, error) {
	refuse := func(text string) (*explore.After, error) {
		return &explore.After{Refused: strings.TrimSpace(text)}, nil
	}
	j, err := x.job(q, formatJSON)
	if err != nil {
		a, err := refusal(err)
		if err != nil {
			return nil, err
		}
		return refuse(a.Refused)
	}
	work := view.Order(plan)
	if stage < 0 || stage >= len(work.Stages) {
		return refuse("the plan has no such stage")
	}
	// The plan so far, as verify reads it.
	r, err := view.Replay(ctx, j.src.train, work.Stages[stage].Done, j.Options)
	if err != nil {
		return nil, err
	}
	var b bytes.Buffer
	if err := replayJSON(&b, r, j.layout); err != nil {
		return nil, err
	}
	p, faults := planjson.Read(b.Bytes(), planjson.Options{Nearest: nearest})
	if p == nil {
		return nil, errors.New(faults.Text("the moves so far"))
	}
	// The train as it is now.
	text, _, faults, err := withMoves(p, j.src)
	switch {
	case err != nil:
		return nil, err
	case faults != nil:
		return refuse(faults.Text("the moves so far"))
	}
	if text, err = rewrite.SoftFootCorrected([]byte(text)); err != nil {
		return nil, ours(err)
	}
	now, err := rewrite.Open([]byte(text))
	if err == nil {
		text, err = now.With(read)
	}
	if err != nil {
		return refuse(err.Error())
	}
	after, report := x.parsed([]byte(text))
	if after.train == nil {
		return refuse(report.String())
	}
	given, faults := p.Given(after.train)
	if faults != nil {
		return refuse(faults.Text("the moves so far"))
	}
	j.Brief = true
	v, odds, err := view.Verify(ctx, given, after.train, j.Options)
	switch {
	case err != nil:
		return nil, err
	case odds != nil:
		return refuse(p.AtOdds(after.train, odds).Text("the moves so far"))
	}
	typed := make([]bool, len(after.train.Couplings))
	ends := slices.Clone(typed)
	for _, s := range read {
		if n, err := strconv.Atoi(s.Path[1]); err == nil && n < len(typed) {
			typed[n] = true
			ends[n] = ends[n] || s.Path[len(s.Path)-1] == "gap"
		}
	}
	return &explore.After{
		Stage: work.CheckStage(stage, after.train, typed, ends), Verified: v, Text: []byte(text),
		Layout: pages.Page{Input: view.Input{Warnings: after.warnings()}},
	}, nil
}
