package view

import (
	"math"

	"leastmove/optimize"
	"leastmove/train"
)

// A Hole is the bolt hole of one foot, seen from above, with the bolt in it. Places in it are
// in mm from its centre: along the train, + toward the last machine, and + to the left.
type Hole struct {
	Machine, Foot   int
	Play            float64    // mm, that a bolt in the middle has to every side
	Before          [2]float64 // mm, of the bolt, as found
	After           [2]float64 // mm, of the bolt; the hole goes with the foot, the bolt stays; NaN without a plan
	ToLeft, ToRight float64    // mm, that is left to the foot on each side; +Inf: no limit is stated
	Along           float64    // mm, from the bolt to the nearer edge of the hole along the train
	Share           float64    // smallest share of its room that is left to any side; below 0: past it
	Near            bool       // so little is left of its travel or in its bolt hole
}

// AlongNearest says whether the hole's edge is nearer along the train than to either side.
func (h Hole) AlongNearest() bool { return h.Along < math.Min(h.ToLeft, h.ToRight) }

// holes are those of feet that may be moved.
func holes(p *optimize.Plan) []Hole {
	var out []Hole
	for i := range p.Train.Machines {
		m := &p.Train.Machines[i]
		if m.Hold {
			continue
		}
		for f := range m.Feet {
			foot := &m.Feet[f]
			if math.IsNaN(foot.Hole) || math.IsNaN(foot.Bolt) || !(foot.Hole > foot.Bolt) {
				continue
			}
			h := Hole{
				Machine: i, Foot: f, Play: (foot.Hole - foot.Bolt) / 2, Before: foot.BoltAt,
				After: [2]float64{math.NaN(), math.NaN()},
			}
			if p.Status == optimize.Planned {
				s := p.Planned.Machines[i].Feet[f]
				h.After = [2]float64{foot.BoltAt[0] - s.Axial, foot.BoltAt[1] - s.Left}
			}
			room := p.FootRoom(i, f)
			h.ToLeft, h.ToRight = room.Left, room.Right
			h.room(foot)
			out = append(out, h)
		}
	}
	return out
}

// room works out what is left along the train, and of the room in all.
func (h *Hole) room(foot *train.Foot) {
	bolt := h.After
	if math.IsNaN(bolt[0]) {
		bolt = h.Before
	}
	half := math.Sqrt(math.Max(0, h.Play*h.Play-bolt[1]*bolt[1]))
	h.Along = half - math.Abs(bolt[0])
	part := func(left, whole float64) float64 {
		if !(whole > 0) {
			return 0
		}
		return left / whole
	}
	h.Share = math.Min(part(h.ToLeft, math.Min(foot.TravelLeft, h.Play)),
		math.Min(part(h.ToRight, math.Min(foot.TravelRight, h.Play)), part(h.Along, h.Play)))
	h.Near = h.Share <= 1-Near+Fair
}
