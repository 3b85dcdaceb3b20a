package chart

import (
	"math"
	"slices"
	"strings"

	"gonum.org/v1/plot/vg"

	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
	"leastmove/train"
)

// Moves draws what is to be done at the feet, seen from above: every machine as a box with its
// feet at the edges, and the numbers of a foot beside it. A box stands in a cell of its own, and
// no label leaves its machine's cell. Machines and stations are not to scale; bars (shims) and
// arrows (sideways) are, with one scale for the whole train. Long trains go over several rows,
// each of which may stand on a sheet of paper of its own.
func Moves(f *view.Figures) []Drawing {
	n := len(f.Train.Machines)
	down := (n + mostCells - 1) / mostCells
	across := (n + down - 1) / down
	m := &movesFigure{Figures: f, words: namesOf(f), across: across, width: usualWidth}
	m.measure()
	narrow := *m
	narrow.across, narrow.width = 1, narrowWidth // one machine below the other
	narrow.measure()
	d, below := m.drawing(0, len(m.rows)), narrow.drawing(0, len(narrow.rows))
	d.narrow = &below
	for row := range m.rows {
		d.parts = append(d.parts, m.drawing(row, row+1))
	}
	return []Drawing{d}
}

// drawing is that of some rows, the last of them over the legend.
func (m *movesFigure) drawing(from, to int) Drawing {
	height := vg.Length(titleRoom)
	for _, r := range m.rows[from:to] {
		height += r.height()
	}
	if to == len(m.rows) {
		height += m.legendRoom()
	}
	title := "What to move, seen from above (" + m.words.MoveUnit() + ")"
	return Drawing{Title: title, Desc: m.desc(), Width: m.width, Height: height,
		draw: func(c *sheet) { m.draw(c, title, from, to) }}
}

// Sizes in points.
const (
	narrowWidth     = 200 // of a drawing for a phone
	legendLine      = 13
	moreLegend      = 2*legendLine + 5 // room for what goes on in lines of its own on a narrow screen
	mostCells       = 5                // machines in a row
	moveReach       = 16               // length of the largest bar or arrow
	boxHalf         = 2*moveReach + 5
	boxInset        = 13
	cellEdge        = 6 // from a cell's edge to its labels
	labelLine       = 9.5
	labelGap        = 6 // from a machine's edge to the first line
	rowGap          = 12
	movesLegendRoom = 32 // without its notes
	noteLine        = small + 1
	shimBar         = 4.5 // width of a bar
)

// A movesFigure is the figure of the moves of a train.
type movesFigure struct {
	*view.Figures
	words   names
	across  int
	width   vg.Length
	scale   float64 // points for each mm of move; 0: nothing moves
	most    float64 // mm, largest change of a pack or side move in size
	oneLine bool    // both numbers of a foot stand in one line
	rows    []movesRow
}

// A movesRow is one row of machines.
type movesRow struct {
	from, to int
	named    int    // lines of the longest name
	lines    [2]int // of labels, over and under the machines
}

func (r movesRow) height() vg.Length {
	return nameRoom*vg.Length(r.named) + labelLine*vg.Length(r.lines[0]+r.lines[1]) + 2*boxHalf + 2*labelGap + rowGap
}

// measure finds the scale and how many lines of labels every row has.
func (m *movesFigure) measure() {
	for i := range m.Moves {
		for f := range m.Moves[i] {
			m.most = math.Max(m.most, math.Max(math.Abs(m.change(i, f).By()), math.Abs(m.Moves[i][f].Left)))
		}
	}
	if m.most > 0 {
		m.scale = moveReach / m.most
	}
	for _, one := range []bool{true, false} {
		m.oneLine, m.rows = one, nil
		level := true
		for from := 0; from < len(m.Moves); from += m.across {
			r := movesRow{from: from, to: min(len(m.Moves), from+m.across)}
			for i := r.from; i < r.to; i++ {
				r.named = max(r.named, len(m.named(i, normal, 4)))
				for k := range r.lines {
					for _, l := range m.labels(i, k == 0) {
						r.lines[k] = max(r.lines[k], l.first+len(l.lines))
						level = level && l.first == 0
					}
				}
			}
			m.rows = append(m.rows, r)
		}
		if level {
			return
		}
	}
}

func (m *movesFigure) change(i, f int) train.PackChange {
	return m.words.PackChange(i, f, m.Moves[i][f])
}

// cell is from where to where a machine's cell goes.
func (m *movesFigure) cell(i int) (x0, x1 vg.Length) {
	w := m.width / vg.Length(m.across)
	n := vg.Length(i % m.across)
	return n * w, (n + 1) * w
}

// named is a machine's name in lines of letters of a size, with so much of its cell left free.
func (m *movesFigure) named(i int, size float64, free vg.Length) []string {
	x0, x1 := m.cell(i)
	name := m.words.Machine(i)
	if m.Train.Machines[i].IsBase() {
		name += ", under " + words.And(m.words.Machines(m.Train.Machines[i].Carries))
	}
	if m.Train.Machines[i].Hold {
		name += " (held)"
	}
	return folded(size, name, x1-x0-free, 2)
}

// at is where a foot stands across the page: stations of a machine at even distances.
func (m *movesFigure) at(i, f int) vg.Length {
	x0, x1 := m.cell(i)
	x0, x1 = x0+boxInset+8, x1-boxInset-8
	var stations []float64
	for _, foot := range m.Train.Machines[i].Feet {
		if !slices.Contains(stations, foot.X) {
			stations = append(stations, foot.X)
		}
	}
	slices.Sort(stations)
	if len(stations) == 1 {
		return (x0 + x1) / 2
	}
	n := slices.Index(stations, m.Train.Machines[i].Feet[f].X)
	return x0 + (x1-x0)*vg.Length(n)/vg.Length(len(stations)-1)
}

// over says whether a foot is drawn at the upper edge, which is the left side.
func (m *movesFigure) over(i, f int) bool { return m.Train.Machines[i].Feet[f].Y > 0 }

// A moveLabel is what stands beside a foot.
type moveLabel struct {
	foot  int
	lines []string
	first int // line from the machine's edge, from 0
	left  vg.Length
	wide  vg.Length
}

// labels are those of one side of a machine.
func (m *movesFigure) labels(i int, over bool) []moveLabel {
	var r rows
	var out []moveLabel
	x0, x1 := m.cell(i)
	for f := range m.Moves[i] {
		lines := m.said(i, f)
		if m.over(i, f) != over || len(lines) == 0 {
			continue
		}
		l := moveLabel{foot: f, lines: lines}
		for _, w := range lines {
			l.wide = max(l.wide, wide(normal, w))
		}
		l.left = max(x0+cellEdge, min(m.at(i, f)-l.wide/2, x1-cellEdge-l.wide))
		l.first = r.place(l.left, l.left+l.wide, len(lines))
		out = append(out, l)
	}
	return out
}

// said is what is done at a foot: shims with their sign, and the move sideways.
func (m *movesFigure) said(i, f int) []string {
	var out []string
	c := m.change(i, f)
	if n := m.words.Moved(math.Abs(c.By())); !n.Zero() {
		sign := "+"
		if c.By() < 0 {
			sign = minus
		}
		out = append(out, sign+string(n))
	} else if !m.words.Moved(math.Abs(c.Move)).Zero() {
		out = append(out, "same shims")
	}
	if side := change(m.words.Side(m.Moves[i][f].Left)); side != "" {
		out = append(out, strings.TrimSuffix(side, " "+m.words.MoveUnit()))
	}
	if m.oneLine && len(out) > 1 {
		out = []string{strings.Join(out, ", ")}
	}
	if n := m.words.Moved(c.Fill); !n.Zero() {
		out = append(out, string(n)+" fills a gap")
	}
	if n := m.words.Moved(c.Cut); !n.Zero() {
		out = append(out, string(n)+" for what is cut")
	}
	return out
}

const minus = "\u2212"

func (m *movesFigure) draw(c *sheet, title string, from, to int) {
	c.title(title)
	y := c.Max.Y - titleRoom
	for _, r := range m.rows[from:to] {
		middle := y - nameRoom*vg.Length(r.named) - labelLine*vg.Length(r.lines[0]) - labelGap - boxHalf
		for i := r.from; i < r.to; i++ {
			m.shaft(c, i, middle)
		}
		for i := r.from; i < r.to; i++ {
			m.machine(c, i, middle, y)
		}
		y -= r.height()
	}
	if to == len(m.rows) {
		m.legend(c)
	}
}

// shaft joins a machine to its neighbours in the train, by lines to the edges of its cell.
func (m *movesFigure) shaft(c *sheet, i int, y vg.Length) {
	x0, x1 := m.cell(i)
	if m.Train.Machines[i].IsBase() {
		return
	}
	if i > 0 {
		c.line(outline(), x0, y, x0+boxInset, y)
		c.line(outline(), x0, y-4, x0, y+4)
	}
	if i < m.Train.Row()-1 {
		c.line(outline(), x1-boxInset, y, x1, y)
		c.line(outline(), x1, y-4, x1, y+4)
	}
}

// machine is one machine about the height of its shaft, with its name at the top of the row.
func (m *movesFigure) machine(c *sheet, i int, y, top vg.Length) {
	x0, x1 := m.cell(i)
	c.lines(normal, -0.5, -1, (x0+x1)/2, top, nameRoom, m.named(i, normal, 4))
	if m.Train.Machines[i].Hold {
		c.hatched(x0+boxInset, y-boxHalf, x1-boxInset, y+boxHalf)
	}
	c.box(outline(), x0+boxInset, y-boxHalf, x1-boxInset, y+boxHalf)
	for f := range m.Moves[i] {
		m.foot(c, i, f, y)
	}
	m.sideways(c, i, y)
	for _, over := range []bool{true, false} {
		for _, l := range m.labels(i, over) {
			m.label(c, i, l, y, over)
		}
	}
	if len(m.Moves[i]) == 0 { // held, with no feet stated
		return
	}
	if along := m.Moves[i][0].Axial; !m.words.Moved(math.Abs(along)).Zero() {
		toward := vg.Length(moveReach)
		if along < 0 {
			toward = -toward
		}
		middle := (x0 + x1) / 2
		c.arrow(after(), middle-toward/2, y-9, middle+toward/2, y-9)
		c.over(small, middle-wide(small, "along 0.00")/2, y-20, "along "+string(m.words.Moved(math.Abs(along))))
	}
}

// foot is a square at the machine's edge: grey where nothing is done. Beside it, toward the middle,
// stands a bar as long as the change of its pack.
func (m *movesFigure) foot(c *sheet, i, f int, y vg.Length) {
	half := vg.Length(3.2)
	x, edge, toward := m.at(i, f), y-boxHalf, vg.Length(1)
	if m.over(i, f) {
		edge, toward = y+boxHalf, -1
	}
	with := paper()
	if len(m.said(i, f)) == 0 {
		with = grey()
	}
	if by := m.change(i, f).By(); !m.words.Moved(math.Abs(by)).Zero() {
		long := vg.Length(math.Abs(by)*m.scale) * toward
		start := edge + half*toward
		if by > 0 {
			c.fill(ink(), x-shimBar/2, start, x+shimBar/2, start+long)
		} else {
			c.box(outline(), x-shimBar/2, start, x+shimBar/2, start+long)
		}
	}
	c.fill(with, x-half, edge-half, x+half, edge+half)
	c.box(outline(), x-half, edge-half, x+half, edge+half)
}

// sideways are arrows from the shaft's line, one a station, or two where its feet differ.
func (m *movesFigure) sideways(c *sheet, i int, y vg.Length) {
	left := func(f int) float64 { return m.Moves[i][f].Left }
	for _, feet := range m.Train.Machines[i].Stations() {
		var differ []int
		for _, f := range feet {
			if !slices.ContainsFunc(differ, func(g int) bool { return left(g) == left(f) }) {
				differ = append(differ, f)
			}
		}
		for n, f := range differ {
			if m.words.Moved(math.Abs(left(f))).Zero() {
				continue
			}
			x := m.at(i, f) + 5*(vg.Length(n)-vg.Length(len(differ)-1)/2)
			c.arrow(pen(1.2), x, y, x, y+vg.Length(left(f)*m.scale))
		}
	}
}

func (m *movesFigure) label(c *sheet, i int, l moveLabel, y vg.Length, over bool) {
	x := m.at(i, l.foot)
	x = max(l.left+3, min(x, l.left+l.wide-3))
	for n, line := range l.lines {
		at := y - boxHalf - labelGap - labelLine*vg.Length(l.first+n+1) + 1
		if over { // the first line is on top
			at = y + boxHalf + labelGap + labelLine*vg.Length(l.first+len(l.lines)-n-1) + 1
		}
		c.text(normal, 0, 0, l.left+(l.wide-wide(normal, line))/2, at, line)
	}
	if l.first == 0 {
		return
	}
	// A line leads to the foot past the labels between.
	far := vg.Length(labelGap) + labelLine*vg.Length(l.first)
	if over {
		c.line(hair(), m.at(i, l.foot), y+boxHalf+4, x, y+boxHalf+far)
	} else {
		c.line(hair(), m.at(i, l.foot), y-boxHalf-4, x, y-boxHalf-far)
	}
}
