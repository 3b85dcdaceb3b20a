package trainfile

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"leastmove/train"
	"leastmove/train/spelling"
)

// sweepFile reads the positions of a dial from a file of its own: degrees
// clockwise from 12 and the reading, one position a line, separated by commas,
// semicolons or tabs; a first line of words is passed over, and so are lines that
// start with #. With semicolons and tabs a comma may be the decimal point. Units are
// those of the train file.
func (r *reader) sweepFile(e *section, d *train.Dial) bool {
	if !e.good("file") {
		return false
	}
	name := e.text("file")
	src, err := r.sibling(name)
	if err != nil {
		r.fault(e.at("file"), fmt.Sprintf("file %s can't be read: %s", spelling.Quote(name), oneLine(err)),
			"it is looked for in the folder of the train file and below, and nowhere else")
		return false
	}
	if err := r.sweepRows(string(src), d); err != nil {
		r.fault(e.at("file"), fmt.Sprintf("%s, %s", spelling.Quote(name), oneLine(err)),
			"each line is an angle and a reading, with a comma, a semicolon or a tab between; lines that start with # "+
				"are passed over")
		return false
	}
	return true
}

// sibling is what is in a file that the train file names.
func (r *reader) sibling(name string) ([]byte, error) {
	if r.options.File == nil {
		return nil, errors.New("no other file is read here")
	}
	return r.options.File(name)
}

// The most that such a file may have: two numbers take some twenty bytes, and
// there may be empty lines.
const (
	longestRow = 1000 // bytes
	mostRows   = 10 * mostPositions
)

// sweepRows adds the lines of a file to the dial. The error says which one can't
// be used.
func (r *reader) sweepRows(text string, d *train.Dial) error {
	number := 0
	for row := range strings.Lines(text) {
		if number++; len(row) > longestRow {
			return fmt.Errorf("line %d has %d bytes, at most %d are read", number, len(row), longestRow)
		}
		if number > mostRows {
			return fmt.Errorf("more than %d lines", mostRows)
		}
	}
	text = bareLines(strings.TrimPrefix(text, "\ufeff"))
	rows := csv.NewReader(strings.NewReader(text))
	rows.FieldsPerRecord, rows.TrimLeadingSpace = -1, true
	point := "."
	switch {
	case strings.Contains(text, ";"):
		rows.Comma, point = ';', ","
	case strings.Contains(text, "\t"):
		rows.Comma = '\t'
		if strings.Contains(text, ",") {
			point = ","
		}
	}
	for first := true; ; first = false {
		cells, err := rows.Read()
		var parse *csv.ParseError
		switch {
		case err == io.EOF:
			return nil
		case errors.As(err, &parse):
			return fmt.Errorf("line %d, column %d: %w", parse.Line, parse.Column, parse.Err)
		}
		line, _ := rows.FieldPos(0)
		if first && len(cells) == 2 && !isNumber(cells[0], point) && !isNumber(cells[1], point) {
			continue // the heads of the columns
		}
		if len(d.Angles) == mostPositions {
			return fmt.Errorf("line %d: more than %d positions", line, mostPositions)
		}
		if err := r.sweepRow(cells, point, d); err != nil {
			return fmt.Errorf("line %d%w", line, err)
		}
	}
}

// bareLines is a text whose remarks and blank lines are empty, so that every line
// keeps its number.
func bareLines(text string) string {
	lines := strings.Split(text, "\n")
	for i, line := range lines {
		if line = strings.TrimSpace(line); line == "" || line[0] == '#' {
			lines[i] = ""
		}
	}
	return strings.Join(lines, "\n")
}

// sweepRow adds one line to the dial. The error goes on from the number of the
// line.
func (r *reader) sweepRow(cells []string, point string, d *train.Dial) error {
	if len(cells) != 2 {
		return fmt.Errorf(": %d columns, it must have 2", len(cells))
	}
	for i, k := range [...]Key{{Name: "the angle", Range: turns}, {Name: "the reading", Unit: Move, Range: offsets}} {
		if !isNumber(cells[i], point) {
			return fmt.Errorf(", column %d: %s is no number", i+1, spelling.Quote(cells[i]))
		}
		v := cellNumber(cells[i], point) * k.Unit.size(r.units)
		if !k.Range.holds(v) {
			return fmt.Errorf(", column %d: %s is %s, it must be %s", i+1, k.Name, spelling.Quote(cells[i]), k.Allowed(r.units))
		}
		if k.Unit == Move {
			d.Values = append(d.Values, v)
		} else {
			d.Angles = append(d.Angles, v)
		}
	}
	return nil
}

// cellNumber is the number in a cell; NaN where it is none.
func cellNumber(cell, point string) float64 {
	v, err := strconv.ParseFloat(strings.Replace(strings.TrimSpace(cell), point, ".", 1), 64)
	if err != nil || math.IsInf(v, 0) {
		return math.NaN()
	}
	return v
}

func isNumber(cell, point string) bool { return !math.IsNaN(cellNumber(cell, point)) }

// oneLine is an error as a message has it.
func oneLine(err error) string { return spelling.Printable(err.Error()) }
