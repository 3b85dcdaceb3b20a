package cli

import (
	"fmt"
	"io/fs"
	"os"

	"leastmove/cmd/internal/planjson"
	"leastmove/cmd/internal/words"
)

// openPlan reads the plan that a command names.
func (s streams) openPlan(j *job) (err error) {
	j.given, j.givenInfo, err = s.readPlan(j.plan)
	return err
}

// readPlan reads a plan, or says on the standard error all that is wrong with it.
func (s streams) readPlan(name string) (*planjson.File, fs.FileInfo, error) {
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
	fmt.Fprint(s.err, faults.Text(called(name)))
	return refused("%s can't be used: %s", called(name), words.Plural(len(faults), "error"))
}

// spared is the word on a result that would go over the plan that was read.
func (j *job) spared() error {
	if j.out.path == "" || j.givenInfo == nil || !j.givenInfo.Mode().IsRegular() {
		return nil
	}
	if info, err := os.Stat(j.out.path); err == nil && os.SameFile(info, j.givenInfo) {
		return refused("-o: %s is the plan %s itself", j.out.path, j.plan)
	}
	return nil
}
