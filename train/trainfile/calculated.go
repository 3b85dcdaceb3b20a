package trainfile

import (
	"fmt"
	"math"
	"strings"

	"leastmove/train"
	"leastmove/train/spelling"
	"leastmove/train/trainfile/tree"
)

// warnCalculated says once of all machines whose growth is worked out from the
// rise of their feet that this is where to start from.
func (r *reader) warnCalculated(t *train.Train, machines []machinePart) {
	var names []string
	var first, unclear tree.Span
	for i, part := range machines {
		m := &t.Machines[i]
		if !m.Growth.Worked {
			continue
		}
		if len(names) == 0 {
			f := part.footings[0]
			first = f.of("rise").key("rise")
		}
		names = append(names, spelling.Quote(m.Name))
		r.warnLifted(m, part)
		for _, f := range part.footings {
			if unclear == (tree.Span{}) && f.has("material") && isCastIron(f.of("material").text("material")) {
				unclear = f.at("material")
			}
		}
	}
	if unclear != (tree.Span{}) {
		r.warn(unclear, fmt.Sprintf("material \"cast iron\" is counted as %s", Materials()[0].said()),
			fmt.Sprintf("that is of cast iron frames in general; state what it is if you know: %s", Materials()[1].said()))
	}
	if len(names) > 0 {
		r.warn(first, fmt.Sprintf("the growth of %s is calculated, which is a starting point: it leaves out pipes, "+
			"torque and oil films", together(names)),
			"growth that was measured goes in [[machine.growth]], or in running of [[machine.point]] (Bloch & Geitner p. 231)")
	}
}

// together are names in one phrase, of many the first ones.
func together(names []string) string {
	const most = 6
	switch n := len(names); {
	case n == 1:
		return names[0]
	case n > most:
		return fmt.Sprintf("%s and %d more", strings.Join(names[:most], ", "), n-most)
	default:
		return strings.Join(names[:n-1], ", ") + " and " + names[n-1]
	}
}

// seen in mm is the least that a dial shows of a growth.
const seen = 0.01

// warnLifted warns of a shaft above or below its machine's height: growth is
// worked out over that height, and would be another over the shaft's own.
func (r *reader) warnLifted(m *train.Machine, part machinePart) {
	for j, s := range m.Shafts {
		if part.shafts[j] == nil || !part.shafts[j].good("z") || s.Growth != nil {
			continue
		}
		// In the middle of the feet their plane lies at their mean.
		taken, own := 0.0, 0.0
		for _, f := range part.footings {
			up, ok := r.rise(f, m.Height)
			height := f.numberOr("height", m.Height)
			if !ok || height == 0 {
				return
			}
			taken += up / float64(len(m.Feet))
			own += up * (height + s.Z) / height / float64(len(m.Feet))
		}
		if far := math.Abs(own-taken) >= seen; !far { // or the height has a fault
			continue
		}
		r.warn(part.shafts[j].at("z"),
			fmt.Sprintf("the growth of %s is worked out over its height, %s up, and shaft %s is not at it: over height + z "+
				"it would be %s",
				spelling.Quote(m.Name), r.show(taken, Move), spelling.Quote(s.Name), r.show(own, Move)),
			fmt.Sprintf("where that is meant, give the shaft its own: [[machine.shaft.growth]] with v = %s",
				figure(own/r.units.Move())))
	}
}
