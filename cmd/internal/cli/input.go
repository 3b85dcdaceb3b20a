package cli

import (
	"crypto/sha256"
	"errors"
	"fmt"
	"io/fs"
	"slices"
	"strings"
	"sync"

	"leastmove/bolts"
	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
	"leastmove/train"
	"leastmove/train/trainfile"
)

// A source is a train file that was read.
type source struct {
	name   string // as it is called in what is said of it
	train  *train.Train
	text   []byte
	warned trainfile.Report  // warnings and notes
	info   fs.FileInfo       // of the file; nil: not one
	read   []fs.FileInfo     // of the files of readings that it names
	files  [sha256.Size]byte // sum of what is in them
	plant  string            // name of the file of bands; "": none
	bands  fs.FileInfo       // of that file; nil: not one

	standard *trainfile.File // the file of bands; nil: none
}

// openTrain reads the train file of a command. With --strict a check of readings that
// failed refuses it.
func (s streams) openTrain(f *form, name string) (*source, error) {
	src, err := s.read(name, f.bands, f.lists())
	if err != nil {
		return nil, err
	}
	if n := src.failedChecks(); f.strict && n > 0 {
		return nil, refused("--strict: %d of the checks of readings failed, see the warnings above", n)
	}
	return src, nil
}

// read reads the train file, and the file of bands where one is named, or says on
// the standard error all that is wrong with them. What is doubtful is said there
// too, unless the page on the standard output will list it.
func (s streams) read(name, bands string, listed bool) (*source, error) {
	plant, bandsInfo, err := s.plant(name, bands)
	if err != nil {
		return nil, &ending{exitInput, err}
	}
	text, info, err := s.text(name)
	if err != nil {
		return nil, &ending{exitInput, err}
	}
	src, report := s.parse(name, text, plant)
	src.info, src.bands = info, bandsInfo
	if src.train == nil || !listed {
		if _, err := report.WriteTo(s.err); err != nil {
			return nil, &ending{exitFault, err}
		}
	}
	if src.train == nil {
		files := called(name)
		if plant != nil && files != plant.Name {
			files = blamed(report, files, plant.Name)
		}
		return nil, refused("%s can't be used: %s", files, words.Plural(report.Count(trainfile.Error), "error"))
	}
	return src, nil
}

// parse reads the text of a train file, and files that it names; the train is nil where
// it can't be used.
func (s streams) parse(name string, text []byte, plant *trainfile.File) (*source, trainfile.Report) {
	src := &source{name: called(name), text: text, standard: plant}
	if plant != nil {
		src.plant = plant.Name
	}
	read, files := beside(name, &src.read), sha256.New()
	src.train, src.warned = trainfile.Read(called(name), text, trainfile.Options{
		ClearanceHole: bolts.ClearanceHole, Thread: bolts.Thread, Minor: bolts.Minor,
		File: func(name string) ([]byte, error) {
			content, err := read(name)
			files.Write(content)
			return content, err
		}, Bands: plant,
	})
	src.files = [sha256.Size]byte(files.Sum(nil))
	if s.kept != nil && src.train != nil {
		src.train = s.kept.same(src)
	}
	return src, src.warned
}

// called is what faults call a file.
func called(name string) string {
	if name == "-" {
		return "standard input"
	}
	return name
}

// blamed are those of two files that have errors.
func blamed(report trainfile.Report, files ...string) string {
	var bad []string
	for _, file := range files {
		wrong := func(f trainfile.Fault) bool { return f.File == file && f.Severity == trainfile.Error }
		if slices.ContainsFunc(report, wrong) {
			bad = append(bad, file)
		}
	}
	return strings.Join(bad, " and ")
}

// plant is the file of bands; nil where none is named.
func (s streams) plant(train, name string) (*trainfile.File, fs.FileInfo, error) {
	switch name {
	case "":
		return nil, nil, nil
	case "-":
		if train == "-" {
			return nil, nil, errors.New("--bands: the train file and the bands can't both be the standard input")
		}
	}
	text, info, err := s.text(name)
	if err != nil {
		return nil, nil, fmt.Errorf("--bands: %w", err)
	}
	return &trainfile.File{Name: called(name), Text: text}, info, nil
}

// failedChecks is how many checks of readings and of the survey failed.
func (s *source) failedChecks() int {
	n := 0
	for i := range s.train.Couplings {
		if fit := s.train.Couplings[i].Fit; fit != nil {
			n += len(fit.Checks)
		}
	}
	if survey := s.train.Survey; survey != nil {
		n += len(survey.Checks)
	}
	return n
}

// warnings are what to check in the train file, and in the file of bands.
func (s *source) warnings() []view.Warning {
	var out []view.Warning
	for _, f := range s.warned {
		w := view.Warning{Line: f.Line, Column: f.Column, Message: f.Message, Hint: f.Hint}
		if s.plant != "" && f.File == s.plant {
			w.File = f.File
		}
		out = append(out, w)
	}
	return out
}

// line says where a key stands in the train file, which is gone through once, when
// it is first asked for. 0: nowhere, as hold of a machine that the file does not hold.
func (s *source) line() func(view.Place) int {
	places := sync.OnceValue(func() *trainfile.Places { return trainfile.Locate(s.train, s.text) })
	return func(at view.Place) int {
		p := places()
		switch {
		case at.Coupling >= 0:
			return p.Coupling(at.Coupling, at.Key)
		case at.Nozzle >= 0:
			return p.Nozzle(at.Machine, at.Nozzle, at.Key)
		case at.Foot >= 0:
			return p.Foot(at.Machine, at.Foot, at.Key)
		case at.Machine >= 0 && at.Key == "hold" && !s.train.Machines[at.Machine].Hold:
			return 0
		case at.Machine >= 0:
			return p.Machine(at.Machine, at.Key)
		}
		return p.Train(at.Key)
	}
}
