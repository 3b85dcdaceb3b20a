package cli

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"leastmove/bolts"
	"leastmove/train"
	"leastmove/train/readings"
	"leastmove/train/trainfile"
)

// largestFile is the size from which on a file is no train file: one with a
// thousand machines is a tenth of it.
const largestFile = 16 << 20 // bytes

// A source is a train file that was read.
type source struct {
	name   string // as it is called in what is said of it
	train  *train.Train
	text   []byte
	doubts trainfile.Report // warnings and notes
	info   fs.FileInfo      // of the file; nil: not one
	read   []fs.FileInfo    // of the files of readings that it names
	plant  string           // name of the file of bands; "": none
	bands  fs.FileInfo      // of that file; nil: not one

	standard *trainfile.File // the file of bands; nil: none
}

// read reads the train file, and the file of bands where one is named, or says on
// the standard error all that is wrong with them. What is doubtful is said there
// too, unless the page that goes to the same screen will list it.
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
		return nil, &ending{exitInput, fmt.Errorf("%s can't be used: %s", files, count(report.Count(trainfile.Error)))}
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
	src.train, src.doubts = trainfile.Read(called(name), text, trainfile.Options{
		ClearanceHole: bolts.ClearanceHole, Thread: bolts.Thread, Minor: bolts.Minor, File: beside(name, &src.read), Bands: plant,
	})
	return src, src.doubts
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
		if slices.ContainsFunc(report, func(f trainfile.Fault) bool { return f.File == file && f.Severity == trainfile.Error }) {
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

// largestBeside is the size from which on a file that a train file names holds
// no readings of a dial.
const largestBeside = 1 << 20 // bytes

// mostBeside is how much is read from such files for one train: the same one
// may be named many times.
const mostBeside = 16 << 20 // bytes

// beside reads files in the folder of a train file and below, and no others,
// whatever links there are. Those that it reads are noted.
func beside(train string, named *[]fs.FileInfo) func(string) ([]byte, error) {
	total := int64(0)
	return func(name string) ([]byte, error) {
		if train == "-" {
			return nil, errors.New("a train file from the standard input has no folder")
		}
		if !filepath.IsLocal(name) {
			return nil, errors.New("it is not in the folder of the train file")
		}
		root, err := os.OpenRoot(filepath.Dir(train))
		if err != nil {
			return nil, plainError(err)
		}
		defer root.Close()
		info, err := root.Stat(name)
		switch {
		case err != nil:
			return nil, plainError(err)
		case !info.Mode().IsRegular():
			return nil, errors.New("it is no file")
		case info.Size() > largestBeside:
			return nil, fmt.Errorf("it is larger than %d MiB", largestBeside>>20)
		}
		if total += info.Size(); total > mostBeside {
			return nil, fmt.Errorf("the files that the train file names are larger than %d MiB together", mostBeside>>20)
		}
		text, err := root.ReadFile(name)
		if err != nil {
			return nil, plainError(err)
		}
		*named = append(*named, info)
		return text, nil
	}
}

// escapes is what os.Root says of a link that leads out of it.
const escapes = "path escapes from parent"

// plainError is an error without the path that it speaks of.
func plainError(err error) error {
	var path *fs.PathError
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return errors.New("there is no such file")
	case errors.As(err, &path) && path.Err.Error() == escapes:
		return errors.New("it leads out of the folder of the train file")
	case errors.As(err, &path):
		return path.Err
	}
	return err
}

// failedChecks is how many checks of readings and of the survey failed.
func (s *source) failedChecks() int {
	n := 0
	for i := range s.train.Couplings {
		c := &s.train.Couplings[i]
		if len(c.Dials) == 0 {
			continue
		}
		if fit, _ := readings.Reduce(c, readings.OptionsOf(s.train, c)); fit != nil {
			n += len(fit.Checks)
		}
	}
	if survey := readings.SurveyOf(s.train); survey != nil {
		n += len(survey.Checks)
	}
	return n
}

func count(errors int) string {
	if errors == 1 {
		return "1 error"
	}
	return fmt.Sprintf("%d errors", errors)
}

// text is what is in the file.
func (s streams) text(name string) ([]byte, fs.FileInfo, error) {
	in := s.in
	if name != "-" {
		f, err := os.Open(name)
		if err != nil {
			return nil, nil, missing(name, err)
		}
		defer f.Close()
		in = f
	}
	var info fs.FileInfo
	if f, ok := in.(*os.File); ok {
		var err error
		if info, err = f.Stat(); err != nil {
			return nil, nil, err
		}
		if info.IsDir() {
			return nil, nil, fmt.Errorf("%s is a folder, not a train file", name)
		}
	}
	text, err := io.ReadAll(io.LimitReader(in, largestFile+1))
	if err != nil {
		return nil, nil, err
	}
	if len(text) > largestFile {
		return nil, nil, fmt.Errorf("%s is larger than %d MiB: not a train file", name, largestFile>>20)
	}
	return text, info, nil
}

// missing adds to the word on a file that does not exist the nearest train
// file beside it.
func missing(name string, err error) error {
	if !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	folder := filepath.Dir(name)
	files, _ := os.ReadDir(folder) // without it there is only no hint
	kind := ".toml"
	if strings.HasPrefix(filepath.Ext(name), ".js") {
		kind = ".json"
	}
	var names []string
	for _, f := range files {
		if strings.HasSuffix(f.Name(), kind) {
			names = append(names, f.Name())
		}
	}
	slices.Sort(names)
	err = fmt.Errorf("there is no file %s", name)
	if near := nearest(filepath.Base(name), names); near != "" {
		return fmt.Errorf("%w\n  did you mean %s?", err, filepath.Join(folder, near))
	}
	return err
}
