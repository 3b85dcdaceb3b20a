package trainfile

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"leastmove/train"
	"leastmove/train/spelling"
	"leastmove/train/trainfile/tree"
)

// A band is the limits up to a speed; +Inf where it does not state one.
type band struct {
	rpm                      float64 // 1/min
	offset, angle, flexAngle float64 // mm, mrad, mrad
}

// bands are the limits by speed, ascending.
func (r *reader) bands(file *section) []band {
	var bands []band
	seen := map[float64]tree.Span{}
	for _, s := range file.subs("band") {
		b := band{
			rpm:    s.number("up_to_rpm"),
			offset: s.numberOr("offset", math.Inf(1)), angle: s.numberOr("angle", math.Inf(1)),
			flexAngle: s.numberOr("flex_angle", math.Inf(1)),
		}
		if s.tried("offset") != s.tried("angle") || !s.tried("angle") && !s.tried("flex_angle") {
			r.fault(s.node.Key, "a band needs offset and angle, or flex_angle, or all three",
				"offset and angle are for one engagement plane, flex_angle is for spacer couplings")
		}
		if first, there := seen[b.rpm]; there && s.good("up_to_rpm") {
			r.fault(s.at("up_to_rpm"), fmt.Sprintf("two bands end at %s", r.value(s, "up_to_rpm", Speed)),
				fmt.Sprintf("the first one is on line %d", r.line(first.Start)))
			continue
		}
		seen[b.rpm] = s.at("up_to_rpm")
		bands = append(bands, b)
	}
	slices.SortFunc(bands, func(a, b band) int {
		switch {
		case a.rpm < b.rpm:
			return -1
		case a.rpm > b.rpm:
			return 1
		}
		return 0
	})
	return bands
}

// A File is a text and what faults call it.
type File struct {
	Name string
	Text []byte
}

// bandFile reads a file of bands that belongs to no train: units, a title if it
// likes, and bands. What is wrong with it is in a report of its own.
func bandFile(f *File) ([]band, Report) {
	file := newTables().bandFile
	src, root, bad := f.decode(file)
	r := &reader{source: src}
	if bad != nil {
		return nil, r.unread(bad)
	}
	r.unread(root.Wrong)
	r.findUnits(root)
	root.Key = tree.Span{}
	bands := r.bands(r.section(root, file))
	r.warnSizes()
	if r.report = r.report.sorted(); r.report.Failed() {
		return nil, r.report
	}
	return bands, r.report
}

// decode is the tree of a file's text, or all that is wrong with its syntax.
func (f *File) decode(file *Table) (*source, *tree.Node, []*tree.Error) {
	text := string(f.Text)
	if len(text) >= 3 && text[:3] == "\ufeff" {
		text = text[3:] // the mark that some editors put at the start of UTF-8
	}
	src, known := newSource(f.Name, text), headers(file)
	root, bad := tree.Read(text, known)
	return src, root, bad
}

// unread notes what is wrong with the syntax of a file, and is the report of one that can't be read for it.
func (r *reader) unread(bad []*tree.Error) Report {
	for _, err := range bad {
		_, before, _ := strings.Cut(r.of(tree.Span{Start: r.lines[r.line(err.At.Start)-1], End: err.At.Start}), "units")
		if meant := unitsMeant(r.of(err.At), ""); meant != "" && strings.TrimSpace(before) == "=" {
			err.Hint = fmt.Sprintf("write units = %q", meant)
		}
		r.fault(err.At, err.Message, err.Hint)
	}
	return r.report.sorted()
}

// outside are the bands of the file that options name, unless the train has
// its own: what is nearest to a coupling counts, its own limits first.
func (r *reader) outside(file *section) []band {
	own := r.bands(file)
	if r.options.Bands == nil {
		return own
	}
	if file.has("band") {
		at := file.key("band")
		if list := file.subs("band"); len(list) > 0 {
			at = list[0].node.Key
		}
		r.warn(at, fmt.Sprintf("this train has bands of its own: those of %s are not used",
			spelling.Quote(r.options.Bands.Name)), "take the bands out here to use those of the other file")
		return own
	}
	r.bandsOf = " of " + spelling.Quote(r.options.Bands.Name)
	return r.plant
}

// banded gives a coupling the limits of the band for its speed.
func (r *reader) banded(s *section, c *train.Coupling, bands []band) {
	at, name := s.node.Key, spelling.Quote(c.Name)
	const hint = "write [coupling.limit] with offset and angle (with flex: angle alone), or a [[band]] for its " +
		"speed, here or in the file of --bands"
	switch {
	case s.has("rpm") && !s.good("rpm") || s.has("flex") && !s.good("flex"):
		return
	case len(bands) == 0 && r.unbanded:
		return // what is wrong with the file of bands has its fault
	case len(bands) == 0:
		r.fault(at, fmt.Sprintf("coupling %s has no limits", name), hint)
		return
	case math.IsNaN(c.RPM):
		r.fault(at, fmt.Sprintf("coupling %s has no limits of its own, and no speed to find its band by", name),
			"give rpm at the coupling or at one of its machines, or write [coupling.limit]")
		return
	}
	for _, b := range bands {
		if !(b.rpm >= c.RPM) {
			continue
		}
		if c.Spacer {
			c.Limit.Angle = b.flexAngle
		} else {
			c.Limit.Offset, c.Limit.Angle = b.offset, b.angle
		}
		if math.IsInf(c.Limit.Angle, 1) {
			key := "offset and angle"
			if c.Spacer {
				key = "flex_angle"
			}
			r.fault(at, fmt.Sprintf("coupling %s has no limits: the band%s up to %s 1/min states no %s", name, r.bandsOf,
				figure(b.rpm), key), hint)
		}
		return
	}
	last := bands[len(bands)-1]
	if !math.IsNaN(last.rpm) {
		r.fault(at, fmt.Sprintf("coupling %s has no limits: it runs at %s 1/min, the bands%s end at %s 1/min", name,
			figure(c.RPM), r.bandsOf, figure(last.rpm)), hint)
	}
}
