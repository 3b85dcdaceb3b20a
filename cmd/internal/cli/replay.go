package cli

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"

	"leastmove/cmd/internal/planjson"
	"leastmove/cmd/internal/report"
	"leastmove/optimize"
)

// planned reads a plan, or says on the standard error all that is wrong with it.
func (s streams) planned(name string) (*planjson.File, fs.FileInfo, error) {
	text, info, err := s.text(name)
	if err != nil {
		return nil, nil, &ending{exitInput, err}
	}
	p, faults := planjson.Read(text, planjson.Options{Nearest: nearest})
	if p == nil {
		return nil, nil, s.faulty(name, faults)
	}
	return p, info, nil
}

// faulty tells the faults of a plan.
func (s streams) faulty(name string, faults planjson.Report) error {
	called := name
	if name == "-" {
		called = "standard input"
	}
	fmt.Fprint(s.err, faults.Text(called))
	return &ending{exitInput, fmt.Errorf("%s can't be used: %s", called, count(len(faults)))}
}

// replay says what a plan does that someone wrote.
func (s streams) replay(name, given string, f *form, opt optimize.Options) error {
	if name == "-" && given == "-" {
		return &ending{exitInput, errors.New("--plan: the standard input can't be the train file and the plan")}
	}
	src, out, err := s.begin(name, f)
	if err != nil {
		return err
	}
	if err := inTrain(src.train, &opt); err != nil {
		return err
	}
	p, info, err := s.planned(given)
	if err != nil {
		return err
	}
	if err := out.spares(info, given); err != nil {
		return err
	}
	moves, faults := p.Moves(src.train)
	if faults != nil {
		return s.faulty(given, faults)
	}
	ctx, stop := interruptible()
	defer stop()
	tell, done := s.progress(src.train.Units)
	opt.Tell = tell
	r, err := optimize.Replay(ctx, src.train, moves, opt)
	done()
	if err != nil {
		return &ending{exitFault, err}
	}
	layout := out.page(s, src)
	layout.Held, layout.Freed = opt.Hold, opt.Free
	write := report.Replay
	if f.format == formatJSON {
		write = report.ReplayJSON
	}
	var result bytes.Buffer
	if err := write(&result, r, layout); err != nil {
		return &ending{exitFault, err}
	}
	if err := out.finish(ctx, s, result.Bytes()); err != nil {
		return err
	}
	if !r.Holds() {
		return &ending{code: exitImpossible}
	}
	return nil
}

// spares is the word on a result that would go over a file that was read.
func (o output) spares(read fs.FileInfo, name string) error {
	if o.path == "" || read == nil || !read.Mode().IsRegular() {
		return nil
	}
	if info, err := os.Stat(o.path); err == nil && os.SameFile(info, read) {
		return &ending{exitInput, fmt.Errorf("-o: %s is the plan %s itself", o.path, name)}
	}
	return nil
}
