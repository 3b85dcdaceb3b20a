package readings

import (
	"math"

	"leastmove/train"
)

// Margins are how far in mm the instruments of a coupling may be off, so that what
// they say together is off by at most an offset in mm and an angle in mrad, up and
// down and sideways, whatever each of them is off by: of an OffsetDial its v and h,
// of a dial zeroed at 12 what it shows at 3 and at 9; at 6 it may be off twice as
// much. x in mm is the coupling's plane. Nil: so few instruments don't tell an
// offset from an angle.
//
// An instrument whose reading follows the offset o and the angle s of one plane as
// a o + b s gets a margin m = k (|a| offset + |b| angle). Zeroed at 12 it shows
// -2 (a o + b s) of the vertical plane at 6, and that once with plus or minus the
// horizontal one at 3 and 9: with all of it within the margins |a o + b s| <= m in
// each plane. k is the largest, up to 1, for which no two instruments tell more than
// the offset and the angle, each of them off by its margin either way. A least-squares
// fit of more than two, whatever their weights, lies in the convex hull of what they
// tell two by two (Ben-Tal and Teboulle 1990), so it is off by no more.
func Margins(dials []*train.Dial, x, offset, angle float64) []float64 {
	rows, margins := make([][2]float64, len(dials)), make([]float64, len(dials))
	for j, d := range dials {
		r := row(d, x, 0)
		rows[j] = [2]float64{r[vOffset], r[vAngle]}
		margins[j] = math.Abs(r[vOffset])*offset + math.Abs(r[vAngle])*angle
	}
	var most [2]float64 // offset and angle that two of them may tell
	told := false
	for j := range rows {
		for k := range j {
			a, b := rows[j], rows[k]
			det := a[0]*b[1] - a[1]*b[0]
			if math.Abs(det) < parallel {
				continue
			}
			told = true
			for c, o := range [2]int{1, 0} {
				most[c] = math.Max(most[c], (margins[j]*math.Abs(b[o])+margins[k]*math.Abs(a[o]))/math.Abs(det))
			}
		}
	}
	if !told {
		return nil
	}
	share := 1.0
	for c, limit := range [2]float64{offset, angle} {
		if most[c] > limit {
			share = math.Min(share, limit/most[c])
		}
	}
	for j := range margins {
		margins[j] *= share
	}
	return margins
}

// parallel is the determinant, in m, below which two instruments count as reading
// the same: planes 0.1 mm apart.
const parallel = 1e-4
