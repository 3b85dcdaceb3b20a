package cli

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"io/fs"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"leastmove/cmd/internal/pages"
	"leastmove/cmd/internal/planjson"
	"leastmove/cmd/internal/view"
)

// A request is what a command was asked for: its files and flags.
type request struct {
	file      string // the train file; "-": the standard input
	plan      string // a plan to read, JSON; "": none
	planFirst bool   // the plan stands before the train file on the command line
	chart     string // file of a figure beside the result; "": none
	quick     bool   // there is no search: an interrupt ends the program at once
	form
	planning
}

// A job is a command under way: what it was asked for, what was read, and where its
// results go.
type job struct {
	streams
	*request
	src       *source
	given     *planjson.File // the plan that was read; nil: none was asked for
	givenInfo fs.FileInfo    // of its file; nil: not one
	out       output
	figure    *figure        // nil: none was asked for
	layout    pages.Page     // of the page
	relieved  *view.Relieved // the option that the plan depends on; nil: none
	notes     []string       // what is said on the standard error when the work is done
}

// An answer is what a command found: how it is written and how the command ends with it.
type answer struct {
	write  func(io.Writer) error
	figure func(io.Writer) error // for job.figure; nil: there is none
	ending error                 // nil: done
	open   bool                  // there is neither a plan nor a proof in it
}

// A solver is what is special to a command. An error that is no ending is a fault.
type solver func(context.Context, *job) (answer, error)

// run is the whole way of every command that reads a train file:
//
//	command line ─▶ request
//	                   │
//	train file ─▶ read ┤                                      -o, --chart
//	 plan file ─▶ read ┤                                           ▲
//	                   ▼                                           │
//	                  job ─▶ solve ─▶ answer ─▶ page, figure ─▶ write ─▶ exit code
//
// What is wrong with the input or with the place of a result is said before any work,
// and nothing is written before all of it is there.
func (s streams) run(ask *request, solve solver) error {
	// Read.
	j, err := s.open(ask)
	if err != nil {
		return err
	}
	// Solve.
	ctx, stop := context.Background(), context.CancelFunc(func() {})
	if !ask.quick {
		ctx, stop = s.interruptible()
	}
	defer stop()
	work, end := ask.limited(ctx)
	defer end()
	tell, done := s.progress(j.src.train.Units)
	ask.Tell = tell
	a, err := solve(work, j)
	done()
	for _, note := range j.notes {
		fmt.Fprintf(s.err, "leastmove: %s\n", note)
	}
	if err != nil {
		return nothing(ctx, fault(err))
	}
	// View and page: numbers, then words in the format that was asked for.
	var page, drawn bytes.Buffer
	if err := a.write(&page); err != nil {
		return fault(err)
	}
	results := []placed{{j.out, page.Bytes()}}
	if a.figure != nil {
		if err := a.figure(&drawn); err != nil {
			return fault(err)
		}
		results = append(results, placed{j.figure.output, drawn.Bytes()})
	}
	// Write, all of it or nothing.
	kept := ""
	if a.open && ctx.Err() != nil {
		results, kept = sparing(results)
	}
	if err := s.place(results...); err != nil {
		return err
	}
	if ctx.Err() != nil {
		return interrupted(kept)
	}
	return a.ending
}

// open reads the files in the order in which the command line names them, and finds the
// places of the results.
func (s streams) open(ask *request) (j *job, err error) {
	if err := ask.known(); err != nil {
		return nil, err
	}
	j = &job{streams: s, request: ask}
	ask.pools = s.kept.found()
	if ask.planFirst {
		if err := s.openPlan(j); err != nil {
			return nil, err
		}
	}
	if j.src, err = s.openTrain(&ask.form, ask.file); err != nil {
		return nil, err
	}
	if j.out, err = j.src.output("-o", ask.output); err != nil {
		return nil, err
	}
	if err := ask.fits(j.src.train); err != nil {
		return nil, err
	}
	if ask.plan != "" && !ask.planFirst {
		if err := s.openPlan(j); err != nil {
			return nil, err
		}
	}
	if err := j.spared(); err != nil {
		return nil, err
	}
	if j.figure, err = j.src.figure(ask.chart, j.out); err != nil {
		return nil, err
	}
	j.layout = j.out.page(s, j.src)
	j.layout.Held, j.layout.Freed = ask.Hold, ask.Free
	return j, nil
}

// onTrain makes a command go the way of run. The train file is its last argument, and a
// plan may stand before it; look is the word on flags that ask for what can't be.
func (s streams) onTrain(c *cobra.Command, ask *request, look func(*pflag.FlagSet) error, solve solver) *cobra.Command {
	c.Args, c.ValidArgsFunction = oneFile, completeFile
	c.RunE = func(c *cobra.Command, args []string) error {
		if !c.Flags().Changed("format") {
			ask.byEnding()
		}
		if err := look(c.Flags()); err != nil {
			return err
		}
		ask.file = args[len(args)-1]
		if len(args) > 1 {
			ask.plan, ask.planFirst = args[0], true
		}
		return s.run(ask, solve)
	}
	return c
}

// writers write a page of a value, each in one format.
type writers[T any] map[string]func(io.Writer, T, pages.Page) error

// written is the page of a value in the format that was asked for.
func written[T any](j *job, value T, by writers[T]) func(io.Writer) error {
	return func(w io.Writer) error { return by[j.format](w, value, j.layout) }
}
