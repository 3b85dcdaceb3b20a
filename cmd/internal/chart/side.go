package chart

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/plot/vg"

	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
	"leastmove/train"
)

// Elevation draws the train from the right side, Plan from above: machines, feet
// and couplings, and the shafts before and after, running, much exaggerated. A
// long train goes over several strips, each of which may stand on a sheet of paper of its own.
func Elevation(f *view.Figures) []Drawing { return views(f, true) }

// Plan is the train from above, the left side up.
func Plan(f *view.Figures) []Drawing { return views(f, false) }

func views(f *view.Figures, elevation bool) []Drawing {
	var all []*side
	for _, s := range strips(f, 12) {
		before, after := s.misalignments()
		all = append(all, newSide(s, elevation, before, after))
	}
	oneScale(all)
	title := "Elevation, seen from the right side; running"
	if !elevation {
		title = "Plan, seen from above, left side up; running"
	}
	var parts, below []Drawing
	for n, v := range all {
		v.goesOn = n < len(all)-1
		parts, below = append(parts, v.drawing(title)), append(below, v.below(title))
	}
	d, narrow := Stacked(title, parts), Stacked(title, below)
	d.parts, d.narrow = parts, &narrow
	return []Drawing{d}
}

// oneScale has all sides exaggerate alike.
func oneScale(all []*side) {
	scale := math.Inf(1)
	for _, v := range all {
		scale = math.Min(scale, v.exaggerated)
	}
	for _, v := range all {
		v.exaggerated = scale
	}
}

func (v *side) drawing(title string) Drawing {
	return Drawing{Title: title, Desc: v.desc(), Width: v.width, Height: v.height(),
		draw: func(c *sheet) { v.draw(c, title) }}
}

// below is a side for a narrow screen: a few machines at a time, one below the other, with the scales under the last.
func (v *side) below(title string) Drawing {
	var all []*side
	for _, s := range parted(v.Figures, v.from, v.to, mostInNarrow, 8, phoneWidth) {
		all = append(all, newSide(s, v.elevation, s.of(v.before), s.of(v.after)))
	}
	oneScale(all)
	var drawings []Drawing
	for n, one := range all {
		one.goesOn = n < len(all)-1
		drawings = append(drawings, one.drawing(title))
	}
	return Stacked(title, drawings)
}

// A side is a strip with its shafts, in one plane.
type side struct {
	strip
	elevation     bool
	before, after []train.Centreline
	levels        []float64 // mm, heights or sides at which shafts run, descending
	swing         vg.Length // room for a shaft above and below its level
	exaggerated   float64   // points for each mm of misalignment
	named, joined int       // lines of names of machines and of couplings
	nearest       string    // what its datum is
	goesOn        bool      // the train does, in a drawing below that has the scales
}

// apart is the distance of two levels, and half the height of a machine beyond
// its outermost ones.
const (
	apart  = 34
	beyond = 32
)

func newSide(s strip, elevation bool, before, after []train.Centreline) *side {
	v := &side{strip: s, elevation: elevation, before: before, after: after, nearest: "straight line nearest to all"}
	if s.Course.Apart {
		v.nearest = "straight line nearest to each"
	}
	for _, c := range v.before {
		if at := v.nominal(c); !slices.ContainsFunc(v.levels, func(l float64) bool { return math.Abs(l-at) < 1 }) {
			v.levels = append(v.levels, at)
		}
	}
	slices.Sort(v.levels)
	slices.Reverse(v.levels)
	v.swing = 28
	if len(v.levels) > 1 {
		v.swing = 16
	}
	const least = 0.02 // mm, that is worth a scale
	most := least
	for _, c := range slices.Concat(v.before, v.after) {
		off := v.off(c)
		most = math.Max(most, math.Max(math.Abs(off[0]), math.Abs(off[1])))
	}
	// The scale is a round number of times that of the stations.
	v.exaggerated = handy(float64(v.swing)/most/s.scale()) * s.scale()
	v.named = v.names(nil, 0)
	v.joined = v.joints(nil, 0)
	return v
}

func (v *side) nominal(c train.Centreline) float64 {
	if v.elevation {
		return c.Z
	}
	return c.Y
}

func (v *side) off(c train.Centreline) [2]float64 {
	if v.elevation {
		return c.Up
	}
	return c.Left
}

// Where things are, in points from the top and from the bottom.
const (
	titleRoom = 20
	nameRoom  = 11 // a line of names
	nameGap   = 6  // between it and a machine with its feet
	footRoom  = 18
	jointRoom = 9 // a line of names of couplings
	belowRoom = 34
	scaleRoom = 14 // a scale more, below the others
	tallRoom  = 26 // one that stands upright
)

func (v *side) span() vg.Length { return apart * vg.Length(len(v.levels)-1) }

func (v *side) height() vg.Length {
	return titleRoom + nameRoom*vg.Length(v.named) + beyond + v.span() + beyond + footRoom +
		jointRoom*vg.Length(v.joined) + v.belowRoom()
}

// belowRoom is that under the names of couplings.
func (v *side) belowRoom() vg.Length {
	switch {
	case v.goesOn:
		return 4
	case v.width < usualWidth:
		return belowRoom + scaleRoom + tallRoom
	}
	return belowRoom
}

// level is how far below the first level a centreline runs, in points.
func (v *side) level(c train.Centreline) vg.Length {
	return apart * vg.Length(slices.IndexFunc(v.levels, func(l float64) bool { return math.Abs(l-v.nominal(c)) < 1 }))
}

func (v *side) draw(c *sheet, title string) {
	c.title(title)
	top := c.Max.Y - titleRoom - nameRoom*vg.Length(v.named) - beyond // the first level
	v.names(c, top+beyond+nameGap)
	for i := v.from; i < v.to; i++ {
		v.machine(c, i, top)
	}
	if v.elevation {
		base := top - v.span() - beyond - 14
		c.line(outline(), 4, base, v.width-4, base)
	}
	v.joints(c, top)
	for n, line := range v.before {
		v.shaft(c, top, line, false)
		if v.after != nil {
			v.shaft(c, top, v.after[n], true)
		}
	}
	for _, i := range v.couplings() {
		if k := &v.Train.Couplings[i]; k.Spacer {
			v.spacer(c, top, k, v.before, before())
			v.spacer(c, top, k, v.after, pen(0.9))
		}
	}
	v.called(c, top)
	v.scales(c)
}

// machine is its outline, about the levels of its shafts, and its feet.
func (v *side) machine(c *sheet, i int, top vg.Length) {
	high, low := vg.Length(math.Inf(1)), vg.Length(0)
	for _, line := range v.before {
		if line.Machine == i {
			high, low = min(high, v.level(line)), max(low, v.level(line))
		}
	}
	x := v.body(i)
	y0, y1 := top-low-beyond, top-high+beyond
	c.box(outline(), v.at(x[0]), y0, v.at(x[1]), y1)
	m := &v.Train.Machines[i]
	const half, tall = 4, 8
	for f := range m.Feet {
		at := v.at(m.At + m.Feet[f].X)
		switch {
		case v.elevation:
			c.box(outline(), at-half, top-v.span()-beyond-14, at+half, y0)
		case m.Feet[f].Y >= 0:
			c.box(outline(), at-half, y1, at+half, y1+tall-5)
		default:
			c.box(outline(), at-half, y0-tall+5, at+half, y0)
		}
	}
}

// joints are the planes of the couplings, and their names below, of which it says
// how many lines they take. On no sheet it only says that.
func (v *side) joints(c *sheet, top vg.Length) (lines int) {
	var r rows
	for _, i := range v.couplings() {
		k := &v.Train.Couplings[i]
		planes := k.Planes()
		middle := (planes[0] + planes[len(planes)-1]) / 2
		name, share := short(small, v.words.Coupling(i), 110), v.share(i)
		longest := name
		if wide(small, share) > wide(small, longest) {
			longest = share
		}
		n, left := v.label(&r, small, middle, longest, 2)
		if lines = max(lines, n+2); c == nil {
			continue
		}
		level := vg.Length(0)
		for _, line := range v.before {
			if line.End == k.From || line.End == k.To {
				level = v.level(line)
			}
		}
		for _, x := range planes {
			c.line(hair(), v.at(x), top-level-v.swing, v.at(x), top-level+v.swing)
		}
		y := top - v.span() - beyond - footRoom - jointRoom*vg.Length(n+1)
		c.line(hair(), v.at(middle), y+8, v.at(middle), top-level-v.swing)
		room := wide(small, longest)
		c.over(small, left+(room-wide(small, name))/2, y, name)
		c.over(small, left+(room-wide(small, share))/2, y-jointRoom, share)
	}
	return lines
}

// share is the worst share of limit of a coupling in any condition: at the first time that is known, and the last.
func (v *side) share(coupling int) string {
	worst := map[view.Time]float64{}
	for _, l := range v.Limits {
		for _, u := range l.Uses {
			if l.Coupling == coupling {
				worst[u.Time] = math.Max(worst[u.Time], u.Share)
			}
		}
	}
	var said []string
	for n, t := range v.Times {
		if share, known := worst[t]; known && (n == 0 || n == len(v.Times)-1) {
			said = append(said, words.Percent(share))
		}
	}
	return strings.Join(said, " \u2192 ")
}

// desc says the shares in words.
func (v *side) desc() string {
	var out []string
	for _, i := range v.couplings() {
		out = append(out, v.words.Coupling(i)+": "+v.share(i))
	}
	return "Worst share of limit at the couplings. " + strings.Join(out, "; ") + "."
}

// spacer is the piece between a coupling's flex planes, from shaft to shaft.
func (v *side) spacer(c *sheet, top vg.Length, k *train.Coupling, lines []train.Centreline, style style) {
	var x, y [2]vg.Length
	ends := 0
	for _, line := range lines {
		for e, end := range []train.End{k.To, k.From} {
			if line.End == end {
				x[e] = v.at(line.X[e])
				y[e] = top - v.level(line) + vg.Length(v.off(line)[e]*v.exaggerated)
				ends++
			}
		}
	}
	if ends == 2 {
		c.line(style, x[0], y[0], x[1], y[1])
	}
}

// shaft is one centreline between its ends, and its datum.
func (v *side) shaft(c *sheet, top vg.Length, line train.Centreline, moved bool) {
	y := top - v.level(line)
	style := before()
	if moved {
		style = after()
	} else {
		c.line(datum(), v.at(line.X[0]), y, v.at(line.X[1]), y)
	}
	off := v.off(line)
	c.line(style, v.at(line.X[0]), y+vg.Length(off[0]*v.exaggerated), v.at(line.X[1]), y+vg.Length(off[1]*v.exaggerated))
}

// called writes at the lines which is which, where they are furthest apart.
func (v *side) called(c *sheet, top vg.Length) {
	most, x, y0, y1 := -1.0, vg.Length(0), vg.Length(0), vg.Length(0)
	for n, line := range v.before {
		level := top - v.level(line)
		for _, part := range []float64{0.2, 0.5, 0.8} {
			at := func(off [2]float64) vg.Length {
				return level + vg.Length((off[0]*(1-part)+off[1]*part)*v.exaggerated)
			}
			b := at(v.off(line))
			a := level
			if v.after != nil {
				a = at(v.off(v.after[n]))
			}
			if far := math.Abs(float64(a - b)); far > most {
				most, x, y0, y1 = far, v.at(line.X[0]*(1-part)+line.X[1]*part), b, a
			}
		}
	}
	if v.after == nil {
		v.beside(c, x, y0, y0 >= y1, "as found")
		return
	}
	v.beside(c, x, y0, y0 >= y1, "before")
	v.beside(c, x, y1, y0 < y1, "after")
}

// beside writes over or under a line.
func (v *side) beside(c *sheet, x, y vg.Length, over bool, words string) {
	x = max(2, min(x-wide(normal, words)/2, v.width-2-wide(normal, words)))
	if over {
		c.over(normal, x, y+4, words)
		return
	}
	c.over(normal, x, y-10, words)
}

// scales are the two scales, and what distances are from: side by side, or on a narrow screen one below the other.
func (v *side) scales(c *sheet) {
	if v.goesOn {
		return
	}
	x, y := vg.Length(6), c.Min.Y+8
	next := func(at, room vg.Length) {
		if x = at; v.width < usualWidth {
			x, y = 6, y-room
		}
	}
	if v.width < usualWidth {
		y += scaleRoom + tallRoom
	}
	next(v.stationBar(c, x, y)+22, tallRoom)
	unit := v.Train.Units.Move()
	tall := handy(22/v.exaggerated/unit) * unit
	h := vg.Length(tall * v.exaggerated)
	c.line(outline(), x, y-3, x, y-3+h)
	c.line(outline(), x-3, y-3, x+3, y-3)
	c.line(outline(), x-3, y-3+h, x+3, y-3+h)
	text := fmt.Sprintf("misalignment: %s, drawn %.0f times as large", v.words.inMoves(tall), v.exaggerated/v.scale())
	c.text(small, 0, 0, x+7, y-3, text)
	next(x+7+wide(small, text)+14, scaleRoom)
	c.line(datum(), x, y, x+26, y)
	c.text(small, 0, -0.35, x+30, y, v.nearest)
}
