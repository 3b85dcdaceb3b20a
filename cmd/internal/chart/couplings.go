package chart

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/plot/vg"

	"leastmove/cmd/internal/view"
	"leastmove/cmd/internal/words"
)

// Couplings draws the share of limit of every coupling: one row a coupling and limit, the worst at the last
// time first, on one log axis. A row has a mark for each time, in the condition that is worst then; a stroke
// stands for the last time in every other condition. Many go over several drawings.
func Couplings(f *view.Figures) []Drawing {
	all := &shares{Figures: f, words: namesOf(f), rows: rowsOf(f)}
	all.measure()
	all.columns()
	const most, few = 44, 12 // rows that fit on a sheet of paper under a heading, and on a third of one
	title := "Share of limit at the couplings" + all.order()
	return paged(title, all.rows, most, few, func(rows []shareRow, legend bool) rowDrawing {
		part := *all
		part.rows, part.goesOn = rows, !legend
		return &part
	}, func(rows []shareRow) rowDrawing {
		part := *all
		part.rows, part.narrow = rows, true
		return &part
	})
}

// A shareRow is one limit of a coupling: what is used of it at each time in the condition that is worst then. Its
// condition is that of the last time.
type shareRow struct {
	view.LimitOverTime
	others []float64 // shares at the last time in the other conditions
}

func (r shareRow) last() float64 { return lastShare(r.LimitOverTime) }

func lastShare(l view.LimitOverTime) float64 { return l.Uses[len(l.Uses)-1].Share }

// rowsOf are the limits of the couplings, the worst at the last time first.
func rowsOf(f *view.Figures) []shareRow {
	var out []shareRow
	for _, l := range f.Limits {
		at := slices.IndexFunc(out, func(r shareRow) bool {
			return r.Coupling == l.Coupling && r.Sum == l.Sum && r.Uses[0].Kind == l.Uses[0].Kind
		})
		l.Uses = slices.Clone(l.Uses)
		if at < 0 {
			out = append(out, shareRow{LimitOverTime: l})
			continue
		}
		r := &out[at]
		if lastShare(l) > r.last() {
			r.LimitOverTime, l = l, r.LimitOverTime
		}
		r.others = append(r.others, lastShare(l))
		for n, u := range l.Uses[:len(l.Uses)-1] {
			if u.Share > r.Uses[n].Share {
				r.Uses[n] = u
			}
		}
	}
	slices.SortStableFunc(out, func(a, b shareRow) int {
		switch {
		case a.last() > b.last():
			return -1
		case a.last() < b.last():
			return 1
		}
		return 0
	})
	return out
}

// Sizes in points, and where the columns of a row begin.
const (
	shareRowHigh                  = 14
	shareRowTall                  = 40       // of a row on a narrow screen
	shareNameMost, shareLimitMost = 150, 150 // of the columns of couplings and limits, which are as wide as their words
	shareColumn                   = 40       // of numbers
	shareNames                    = 46       // column of conditions
	axisRoom                      = 26
	sharesLegend                  = 16
	dot                           = 2.8 // radius of a mark
	leastShare                    = 0.01
)

// shares is the figure of the couplings.
type shares struct {
	*view.Figures
	words           names
	rows            []shareRow
	from, to        float64   // shares at the ends of the axis
	limitAt, axisAt vg.Length // where the column of limits and the axis begin on paper
	narrow          bool      // for a narrow screen: the words of a row stand above its marks
	goesOn          bool      // in a part below that has the legend
}

func (s *shares) height() vg.Length {
	row, lines := vg.Length(shareRowHigh), vg.Length(1)
	if s.narrow {
		row, lines = shareRowTall, 2
	}
	if s.several() && len(s.Times) > 1 {
		lines *= 2
	}
	rows := titleRoom + axisRoom + row*vg.Length(len(s.rows))
	if s.goesOn {
		return rows
	}
	return rows + lines*sharesLegend + 6
}

func (s *shares) width() vg.Length {
	if s.narrow {
		return phoneWidth
	}
	return usualWidth
}

// measure finds the ends of the axis: round shares, with 100 % between them.
func (s *shares) measure() {
	low, high := 0.5, 1.2
	for _, r := range s.rows {
		for _, u := range r.Uses {
			low, high = math.Min(low, u.Share), math.Max(high, u.Share)
		}
		for _, u := range r.others {
			low, high = math.Min(low, u), math.Max(high, u)
		}
	}
	s.from, s.to = handy(math.Max(low, leastShare)), 1.1*high
	if s.Aim < 1 {
		s.from = math.Min(s.from, handy(s.Aim))
	}
}

// columns finds where columns begin: each is as wide as its words.
func (s *shares) columns() {
	name, limit := wide(small, "coupling"), wide(small, "limit")
	for _, r := range s.rows {
		name = max(name, wide(normal, s.words.Coupling(r.Coupling)))
		limit = max(limit, wide(small, s.limit(r)))
	}
	s.limitAt = 6 + min(name, shareNameMost) + 12
	s.axisAt = s.limitAt + min(limit, shareLimitMost) + 16
}

// order says in a title by what rows are sorted.
func (s *shares) order() string {
	switch t := s.Times[len(s.Times)-1]; {
	case len(s.Times) == 1:
		return " " + markOf(t).words + ", worst first"
	case markOf(t).words == "after":
		return ", worst after the moves first"
	default:
		return ", worst " + markOf(t).words + " first"
	}
}

// begin is where the axis begins.
func (s *shares) begin() vg.Length {
	if s.narrow {
		return 10
	}
	return s.axisAt
}

// at is where a share is; one that is smaller than the axis shows is at its beginning.
func (s *shares) at(share float64) vg.Length {
	share = math.Min(math.Max(share, s.from), s.to)
	return s.begin() + (s.end()-s.begin())*vg.Length(math.Log(share/s.from)/math.Log(s.to/s.from))
}

// text is where the columns of numbers begin, end where the axis ends before them.
func (s *shares) text() vg.Length {
	names := vg.Length(0)
	if s.several() {
		names = shareNames
	}
	return usualWidth - names - shareColumn*vg.Length(len(s.Times))
}

func (s *shares) end() vg.Length {
	if s.narrow {
		return phoneWidth - 14
	}
	return s.text() - 14
}

// A mark is how a time is shown and called.
type mark struct {
	spot  func(c *sheet, x, y vg.Length)
	words string
}

// markOf is that of a time.
func markOf(t view.Time) mark {
	open := func(c *sheet, x, y vg.Length) {
		c.SetColor(paper())
		c.Fill(round(x, y, dot))
		c.circle(pen(0.9), x, y, dot)
	}
	cross := func(c *sheet, x, y vg.Length) {
		c.line(pen(1.1), x-dot, y-dot, x+dot, y+dot)
		c.line(pen(1.1), x-dot, y+dot, x+dot, y-dot)
	}
	full := func(c *sheet, x, y vg.Length) { c.disc(x, y, dot) }
	switch t {
	case view.AsPlanned:
		return mark{cross, "planned"}
	case view.After:
		return mark{full, "after"}
	case view.Before:
		return mark{open, "before"}
	}
	return mark{open, "as found"}
}

func (s *shares) draw(c *sheet, title string) {
	c.title(title)
	top := c.Max.Y - titleRoom - axisRoom
	if s.narrow {
		foot := top - shareRowTall*vg.Length(len(s.rows))
		s.axis(c, top, foot)
		for n, r := range s.rows {
			s.tallRow(c, r, top-shareRowTall*vg.Length(n))
		}
		s.legend(c, foot-sharesLegend)
		return
	}
	foot := top - shareRowHigh*vg.Length(len(s.rows))
	s.axis(c, top, foot)
	s.heads(c, top+3)
	for n, r := range s.rows {
		s.row(c, r, top-shareRowHigh*(vg.Length(n)+0.5))
	}
	if !s.goesOn {
		s.legend(c, foot-sharesLegend)
	}
}

// axis has its figures on top, and lines at the aim and at the limit.
func (s *shares) axis(c *sheet, top, foot vg.Length) {
	c.line(hair(), s.begin(), top, s.end(), top)
	taken := []vg.Length{s.at(1)}
	if s.Aim > 0 && s.Aim < 1 {
		taken = append(taken, s.at(s.Aim))
	}
	for power := math.Pow(10, math.Floor(math.Log10(s.from))); power <= s.to; power *= 10 {
		for _, n := range []float64{1, 2, 5} {
			share := n * power
			if share < s.from*(1-1e-9) || share > s.to {
				continue
			}
			x := s.at(share)
			c.line(hair(), x, top-2, x, top+2)
			label := axisNumber(100*share, 0)
			near := func(at vg.Length) bool { return math.Abs(float64(at-x)) < 14 }
			if math.Abs(share-1) < 1e-9 || !slices.ContainsFunc(taken, near) {
				c.text(small, -0.5, 0, min(x, s.headed()-wide(small, label)/2-3), top+4, label)
				taken = append(taken, x)
			}
		}
	}
	begin := s.at(1) - 8
	if s.Aim > 0 && s.Aim < 1 {
		x := s.at(s.Aim)
		c.line(aim(), x, foot, x, top+11)
		end := min(x+8, (x+s.at(1))/2-3)
		c.text(small, -1, 0, end, top+13, "aim "+words.Percent(s.Aim))
		begin = max(begin, end+6)
	}
	c.line(limit(), s.at(1), foot, s.at(1), top+2)
	c.line(limit(), s.at(1), top+10, s.at(1), top+12)
	c.text(small, 0, 0, begin, top+13, "limit 100 %")
}

// headed is where the heading of the first column of numbers begins: it may be wider than the column.
func (s *shares) headed() vg.Length {
	if len(s.Times) == 0 {
		return usualWidth
	}
	return s.text() + shareColumn - 8 - wide(small, markOf(s.Times[0]).words+" %")
}

// heads name the columns.
func (s *shares) heads(c *sheet, y vg.Length) {
	c.text(small, 0, 0, 6, y, "coupling")
	c.text(small, 0, 0, s.limitAt, y, "limit")
	x := s.text()
	for _, t := range s.Times {
		c.text(small, -1, 0, x+shareColumn-8, y, markOf(t).words+" %")
		x += shareColumn
	}
	if s.several() {
		c.text(small, 0, 0, x, y, "condition")
	}
}

// limit is what a row's share is of: as stated, times what its condition may use of it.
func (s *shares) limit(r shareRow) string {
	may := s.Train.Conditions[r.Condition].Use
	stated := r.Uses[len(r.Uses)-1].Use
	stated.Limit /= may
	kind, most := s.words.use(stated)
	if stated.Kind == view.Gap {
		kind = "shaft ends" // as the short page has it: the distance between them is longer than its column
	}
	if r.Sum {
		kind, most = "added up", words.Percent(stated.Limit)
	}
	if may != 1 {
		most += fmt.Sprintf(" × %.4g", may)
	}
	return kind + " " + most
}

func (s *shares) several() bool { return len(s.Train.Conditions) > 1 }

func (s *shares) row(c *sheet, r shareRow, y vg.Length) {
	c.text(normal, 0, -0.35, 6, y, short(normal, s.words.Coupling(r.Coupling), s.limitAt-14))
	c.text(small, 0, -0.35, s.limitAt, y, short(small, s.limit(r), s.begin()-s.limitAt-8))
	c.line(pen(0.2), 6, y-shareRowHigh/2, usualWidth-6, y-shareRowHigh/2)
	s.marks(c, r, y)
	x := s.text()
	for _, t := range s.Times {
		if share, known := shareAt(r, t); known {
			c.text(normal, -1, -0.35, x+shareColumn-8, y, strings.TrimSuffix(words.Percent(share), " %"))
		}
		x += shareColumn
	}
	if s.several() {
		c.text(small, 0, -0.35, x, y, short(small, s.words.Condition(r.Condition), usualWidth-4-x))
	}
}

// marks are those of a row.
func (s *shares) marks(c *sheet, r shareRow, y vg.Length) {
	for _, other := range r.others {
		x := s.at(other)
		c.line(pen(0.9), x, y-3.5, x, y+3.5)
	}
	for n := 1; n < len(r.Uses); n++ {
		c.line(hair(), s.at(r.Uses[n-1].Share), y, s.at(r.Uses[n].Share), y)
	}
	for _, t := range s.Times {
		if share, known := shareAt(r, t); known {
			markOf(t).spot(c, s.at(share), y)
		}
	}
}

// shareAt is the share of a row at a time.
func shareAt(r shareRow, t view.Time) (share float64, known bool) {
	for _, u := range r.Uses {
		if u.Time == t {
			return u.Share, true
		}
	}
	return 0, false
}

// tallRow is a row from y down with its words above its marks.
func (s *shares) tallRow(c *sheet, r shareRow, y vg.Length) {
	var shares []string
	for _, t := range s.Times {
		if share, known := shareAt(r, t); known {
			shares = append(shares, words.Percent(share))
		}
	}
	said := strings.Join(shares, " → ")
	name := short(normal, s.words.Coupling(r.Coupling), phoneWidth-24-wide(normal, said))
	limit := s.limit(r)
	if s.several() {
		limit += ", " + s.words.Condition(r.Condition)
	}
	limit = short(small, limit, phoneWidth-16)
	c.fill(paper(), 4, y-24, phoneWidth-4, y-2) // lines of the axis do not run through words
	c.text(normal, 0, -1, 6, y-3, name)
	c.text(normal, -1, -1, phoneWidth-8, y-3, said)
	c.text(small, 0, -1, 6, y-15, limit)
	s.marks(c, r, y-shareRowTall+8)
	c.line(pen(0.2), 6, y-shareRowTall, phoneWidth-6, y-shareRowTall)
}

// legend says what the marks are.
func (s *shares) legend(c *sheet, y vg.Length) {
	x := vg.Length(9)
	say := func(room vg.Length, words string) {
		if x > 9 && x+room+wide(small, words) > s.width() {
			x, y = 9, y-sharesLegend+4
		}
		c.text(small, 0, -0.35, x+room, y, words)
		x += room + wide(small, words) + 14
	}
	for _, t := range s.Times {
		markOf(t).spot(c, x, y)
		say(7, markOf(t).words)
	}
	if s.several() {
		c.line(pen(0.9), x, y-3.5, x, y+3.5)
		say(5, markOf(s.Times[len(s.Times)-1]).words+", in the other conditions")
	}
	if s.several() && len(s.Times) > 1 {
		said := "Each mark is for the condition that is worst then"
		if !s.narrow {
			said += "; the one named is that of \"" + markOf(s.Times[len(s.Times)-1]).words + "\""
		}
		say(0, said+".")
	}
	say(0, "Axis: share of limit in %, log scale.")
}

// desc says the rows in words.
func (s *shares) desc() string {
	var out []string
	for _, r := range s.rows {
		kind, most := s.words.use(r.Uses[len(r.Uses)-1].Use)
		var at []string
		for _, u := range r.Uses {
			at = append(at, markOf(u.Time).words+" "+words.Percent(u.Share))
		}
		out = append(out, fmt.Sprintf("%s, %s %s, %s: %s", s.words.Coupling(r.Coupling), kind, most,
			s.words.Condition(r.Condition), strings.Join(at, ", ")))
	}
	what := "Share of limit"
	if s.several() && len(s.Times) > 1 {
		what += ", at each time for the condition that is worst then; the one named is that of \"" +
			markOf(s.Times[len(s.Times)-1]).words + "\""
	}
	return what + ". " + strings.Join(out, "; ") + "."
}
