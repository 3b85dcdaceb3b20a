package chart

import (
	"encoding/xml"
	"math"
	"os"
	"regexp"
	"strconv"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"leastmove/bolts"
	"leastmove/cmd/internal/view"
	"leastmove/optimize"
	"leastmove/optimize/ways"
	"leastmove/train"
	"leastmove/train/trainfile"
)

// Figures are read back from their SVG: what they show is held against the plan,
// by the scales that are drawn in them and nothing else.

// plannedOf is the plan of an example, worked out once.
func plannedOf(t *testing.T, name string) *optimize.Plan {
	t.Helper()
	if p, done := plans.Load(name); done {
		return p.(*optimize.Plan)
	}
	text, err := os.ReadFile("../../../examples/" + name + "/before.toml")
	require.NoError(t, err)
	tr, faults := trainfile.Read(name, text, trainfile.Options{ClearanceHole: bolts.ClearanceHole, Thread: bolts.Thread,
		Minor: bolts.Minor})
	require.NotNil(t, tr, "%v", faults)
	p, err := ways.Make(t.Context(), tr, optimize.Options{Brief: true})
	require.NoError(t, err)
	plans.Store(name, p)
	return p
}

var plans sync.Map // of examples, by name; no test changes one

// A stroke is a line of a drawing: its points, y upward, and how it is drawn.
type stroke struct {
	points [][2]float64
	radius float64 // of a circle about the middle of its points; 0: none
	width  float64
	dashes string
	filled bool
}

// A label is text of a drawing, where it begins and its size in points.
type label struct {
	words      string
	x, y, size float64
}

// A drawn is what is in an SVG.
type drawn struct {
	strokes []stroke
	labels  []label
}

// readBack reads a drawing; what is in groups that turn or shift it is left aside
// where that is allowed.
func readBack(t *testing.T, d Drawing, turned ...bool) drawn {
	svg, err := d.Sized("svg", Size{})
	require.NoError(t, err)
	var doc struct {
		Groups []group `xml:"g"`
	}
	require.NoError(t, xml.Unmarshal(svg, &doc))
	var out drawn
	for _, g := range doc.Groups {
		require.True(t, len(turned) > 0 || len(g.Groups) == 0, "nothing is turned or shifted")
		out.add(t, g)
	}
	require.NotEmpty(t, out.strokes)
	require.NotEmpty(t, out.labels)
	return out
}

// A group is a `g` of an SVG. Ours has one, which turns y upward.
type group struct {
	Paths []path `xml:"path"`
	Texts []struct {
		X     float64 `xml:"x,attr"`
		Y     float64 `xml:"y,attr"`
		Size  string  `xml:"font-size,attr"`
		Words string  `xml:",chardata"`
	} `xml:"text"`
	Groups []group `xml:"g"`
}

// A path is one of an SVG. What it is drawn with are attributes of its own.
type path struct {
	D      string  `xml:"d,attr"`
	Style  string  `xml:"style,attr"`
	Fill   string  `xml:"fill,attr"`
	Width  float64 `xml:"stroke-width,attr"`
	Dashes string  `xml:"stroke-dasharray,attr"`
}

func (out *drawn) add(t *testing.T, g group) {
	for _, p := range g.Paths {
		out.strokes = append(out.strokes, strokeOf(t, p))
	}
	for _, l := range g.Texts {
		size, err := strconv.ParseFloat(strings.TrimSuffix(l.Size, "px"), 64)
		require.NoError(t, err)
		out.labels = append(out.labels, label{l.Words, l.X, -l.Y, size})
	}
}

func strokeOf(t *testing.T, p path) stroke {
	require.Empty(t, p.Style, "a policy may forbid it")
	s := stroke{width: p.Width, dashes: p.Dashes, filled: p.Fill != "none"}
	for _, m := range regexp.MustCompile(`([MLA])([^MLAZ]*)`).FindAllStringSubmatch(p.D, -1) {
		var v []float64
		for _, word := range regexp.MustCompile(`[ ,]+`).Split(strings.TrimSpace(m[2]), -1) {
			n, err := strconv.ParseFloat(word, 64)
			require.NoError(t, err, p.D)
			v = append(v, n)
		}
		if m[1] == "A" {
			s.radius = v[0]
		}
		s.points = append(s.points, [2]float64{v[len(v)-2], v[len(v)-1]})
	}
	if s.radius > 0 { // from the right around by the left
		s.points = [][2]float64{{s.points[0][0] - s.radius, s.points[0][1]}}
	}
	return s
}

// bar is how long the scale bar is whose words begin as given: points and mm.
func (d *drawn) bar(t *testing.T, u train.Units, words string, upright bool) float64 {
	for _, l := range d.labels {
		rest, ok := strings.CutPrefix(l.words, words)
		if !ok {
			continue
		}
		fields := strings.Fields(rest)
		long, err := strconv.ParseFloat(fields[0], 64)
		require.NoError(t, err)
		switch strings.TrimRight(fields[1], ",") {
		case "mil":
			long *= u.Move()
		case "inch":
			long *= u.Length()
		}
		best, near := 0.0, math.Inf(1)
		for _, s := range d.strokes {
			if len(s.points) != 2 || s.radius > 0 || s.width != 0.5 {
				continue
			}
			a, b := s.points[0], s.points[1]
			length, across := b[0]-a[0], b[1]-a[1]
			if upright {
				length, across = across, length
			}
			if gap := math.Abs(l.x-b[0]) + math.Abs(l.y-a[1]); across == 0 && length > 8 && gap < near && gap < 12 {
				best, near = length, gap
			}
		}
		require.NotZero(t, best, "no bar beside %q", l.words)
		return best / long
	}
	t.Fatalf("no words %q", words)
	return 0
}

// shafts are strokes of a width and dashes.
func (d *drawn) lines(width float64, dashes string) []stroke {
	var out []stroke
	for _, s := range d.strokes {
		if s.width == width && s.dashes == dashes && len(s.points) == 2 && s.radius == 0 {
			out = append(out, s)
		}
	}
	return out
}

// At every coupling of the elevation and the plan the shafts stand against each
// other as the plan says, before and after: offsets and angles of the running
// condition, worked out anew here from where the lines are drawn.
func TestViewsReadBack(t *testing.T) {
	for _, name := range []string{"turbine", "reverse-dials", "five-machines"} {
		p := plannedOf(t, name)
		for _, elevation := range []bool{true, false} {
			figures := Plan(view.FiguresOf(p))
			if elevation {
				figures = Elevation(view.FiguresOf(p))
			}
			require.Len(t, figures, 1)
			d := readBack(t, figures[0])
			stations := d.bar(t, p.Train.Units, "stations: ", false)
			misalignment := d.bar(t, p.Train.Units, "misalignment: ", true)
			for state, lines := range map[string][]stroke{"before": d.lines(0.7, "4,2.5"), "after": d.lines(1.7, "")} {
				shafts := 0
				for i := range p.Train.Machines {
					shafts += len(p.Train.Machines[i].Shafts)
				}
				lines = lines[:shafts] // spacers and the legend come after them
				datums := d.lines(0.4, "9,2,2,2")
				at := 0
				index := map[train.End]int{}
				for i := range p.Train.Machines {
					for s := range p.Train.Machines[i].Shafts {
						index[train.End{Machine: i, Shaft: s}] = at
						at++
					}
				}
				for i := range p.Train.Couplings {
					c := &p.Train.Couplings[i]
					found := p.Found.Couplings[i][0].Misalignment
					if state == "after" {
						found = p.Planned.Couplings[i][0].Misalignment
					}
					want := found.H
					if elevation {
						want = found.V
					}
					from, to := index[c.From], index[c.To]
					// Where a shaft is at the plane of the offsets, off its own datum.
					off := func(n int) (mm, mrad float64) {
						a, b := lines[n].points[0], lines[n].points[1]
						slope := (b[1] - a[1]) / (b[0] - a[0])
						ends := p.Train.Centrelines(p.Train.Stay(), 0)[n].X // stations that a and b stand for
						return (a[1] - datums[n].points[0][1] + slope*(c.X-ends[0])*stations) / misalignment, slope * stations /
							misalignment * 1000
					}
					fromOff, fromSlope := off(from)
					toOff, toSlope := off(to)
					// Coordinates have five figures: 0.01 points.
					const drawnTo = 0.02
					tolerance := drawnTo / misalignment
					span := (lines[to].points[1][0] - lines[to].points[0][0])
					span = math.Min(span, lines[from].points[1][0]-lines[from].points[0][0])
					reach := 1 + 2*math.Abs(c.X-p.Train.Centrelines(p.Train.Stay(), 0)[from].X[0])*stations/span
					assert.InDelta(t, want.Offset, toOff-fromOff, tolerance*reach*2, "%s %s %s", name, state, c.Name)
					assert.InDelta(t, want.Angle, toSlope-fromSlope, 4*tolerance*1000*stations/span, "%s %s %s", name, state, c.Name)
				}
			}
		}
	}
}
